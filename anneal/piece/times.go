package piece

import (
	"fmt"

	"lehr/anneal/evening"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// timeError is a time of going in, or of opening the kiln, that cannot be.
type timeError struct {
	piece int    // of the load, if key is empty
	key   string // of the door
	error
}

func (e *timeError) keys() []string {
	if e.key != "" {
		return []string{"door", e.key}
	}
	return []string{"piece", fmt.Sprint(e.piece), "in"}
}

func (e *timeError) Error() string { return e.keys()[len(e.keys())-1] + " " + e.error.Error() }

func (e *timeError) Unwrap() error { return e.error }

// ResolveTimes finds anew when each piece went in and the kiln was opened, after
// the start of the load or what it is for has changed. Errors: *evening.InError.
func (l *Load) ResolveTimes() error { return l.resolveTimes(false) }

// resolveTimes is ResolveTimes; later says that a load without a start may still
// be given one, and is not refused for it.
func (l *Load) resolveTimes(later bool) error {
	for i := range l.Pieces {
		p := &l.Pieces[i]
		if p.InText == "" {
			continue
		}
		start := unit.Clock(0)
		if l.Start != nil {
			start = *l.Start
		}
		in, err := evening.ParseIn(p.InText, start, l.Start != nil || later)
		if err != nil {
			return &timeError{i, "", err}
		}
		if l.Into != HotKiln && !later {
			return &timeError{i, "", &evening.InError{Text: strict.Visible(p.InText), Reason: "pieces go in before the program only where the kiln is hot", Next: "leave in out, or write into = \"hot kiln\""}}
		}
		if p.In = in; l.Start == nil && later {
			p.In = 0
		}
	}
	return l.resolveDoor(later)
}
