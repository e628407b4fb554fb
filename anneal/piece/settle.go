package piece

import (
	"fmt"

	"lehr/anneal/evening"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// inError is a time of going in, or of opening the kiln, that cannot be.
type inError struct {
	piece int    // of the load, if key is empty
	key   string // of the door
	error
}

func (e *inError) keys() []string {
	if e.key != "" {
		return []string{"door", e.key}
	}
	return []string{"piece", fmt.Sprint(e.piece), "in"}
}

func (e *inError) Error() string { return e.keys()[len(e.keys())-1] + " " + e.error.Error() }

func (e *inError) Unwrap() error { return e.error }

// Settle reads again when each piece went in and the kiln was opened, after the start of the load or what
// it is for has changed. Errors: *evening.InError.
func (l *Load) Settle() error { return l.settle(false) }

// settle is Settle; a load that may still be told its start is not asked for it.
func (l *Load) settle(later bool) error {
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
			return &inError{i, "", err}
		}
		if l.Into != HotKiln && !later {
			return &inError{i, "", &evening.InError{Text: strict.Visible(p.InText), Reason: "pieces go in before the program only where the kiln is hot", Next: "leave in out, or write into = \"hot kiln\""}}
		}
		if p.In = in; l.Start == nil && later {
			p.In = 0
		}
	}
	return l.settleDoor(later)
}
