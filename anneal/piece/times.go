package piece

import (
	"fmt"
	"slices"

	"lehr/anneal/evening"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// TimeError is a time of going in, or of opening the kiln, that cannot be.
type TimeError struct {
	Piece int    // of the load, if Door is empty
	Door  string // key of [door] in the load file
	Err   error
}

// hotOnly is what to do about a setting that means nothing in a cold kiln.
func hotOnly(key string) strict.Advice {
	return strict.Advice("{leave " + key + "}, or {write into=" + string(HotKiln) + "}")
}

func (e *TimeError) keys() []string {
	if e.Door != "" {
		return []string{"door", e.Door}
	}
	return []string{"piece", fmt.Sprint(e.Piece), "in"}
}

// Error begins with the key.
func (e *TimeError) Error() string { return e.keys()[len(e.keys())-1] + " " + e.Err.Error() }

// Unwrap returns what is wrong with the time.
func (e *TimeError) Unwrap() error { return e.Err }

// ResolveTimes finds anew when each piece went in and the kiln was opened, after
// the start of the load or what it is for has changed. Errors: *[TimeError].
func (l *Load) ResolveTimes() error { return l.resolveTimes(false) }

// ResolveTimesLater is ResolveTimes for a load that is given its start afterwards:
// times of day wait for it. See [Load.StartingAt].
func (l *Load) ResolveTimesLater() error { return l.resolveTimes(true) }

// StartingAt returns the load with a start, by which its times are found anew.
// Errors as ResolveTimes.
func (l *Load) StartingAt(start unit.Clock) (*Load, error) {
	out := *l
	out.Start, out.Pieces = &start, slices.Clone(l.Pieces)
	if err := out.ResolveTimes(); err != nil {
		return nil, err
	}
	return &out, nil
}

// HasTimes reports whether pieces go in, or the kiln is opened, before the program.
func (l *Load) HasTimes() bool {
	return slices.ContainsFunc(l.Pieces, func(p Piece) bool { return p.InText != "" }) || len(l.Door.AtText) > 0 || l.Door.Every > 0
}

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
			return &TimeError{i, "", err}
		}
		if l.Into != HotKiln && !later {
			return &TimeError{i, "", &evening.InError{Text: strict.Visible(p.InText), Reason: "pieces go in before the program only where the kiln is hot", Next: hotOnly("piece.in")}}
		}
		if p.In = in; l.Start == nil && later {
			p.In = 0
		}
	}
	return l.resolveDoor(later)
}
