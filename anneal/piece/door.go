package piece

import (
	"slices"
	"time"

	"lehr/anneal/evening"
	"lehr/anneal/kiln"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Door is when and how a hot kiln is opened before the program. The zero value
// says that nobody told.
type Door struct {
	kiln.Door               // what an opening does, where the load says so
	AtText    []string      // as typed
	SinceText string        // as typed
	Every     time.Duration // 0 if it is not opened regularly
	// Before is how long before the start each opening is, but those to put pieces
	// in, once the times of the load are resolved.
	Before []time.Duration
}

type doorText struct {
	At    []string       `toml:"at"`
	Every *unit.Duration `toml:"every"`
	Since string         `toml:"since"`
	Open  *unit.Duration `toml:"open"`
	Dip   *unit.Delta    `toml:"dip"`
	View  *string        `toml:"view"`
}

// How often a kiln may be opened in one evening.
const (
	mostOpenings = 400
	oftenest     = 2 * time.Minute
)

func (t *doorText) read(f *strict.File) (d Door, err error) {
	if d.Door, err = (kiln.DoorText{Open: t.Open, Dip: t.Dip, View: t.View}).Read(f, "door", ""); err != nil {
		return d, err
	}
	d.AtText, d.SinceText = t.At, t.Since
	if len(t.At) > mostOpenings {
		return d, f.AdviseErrorf([]string{"door", "at"}, "{write door.every=10 min}", "opened %d times: at most %d", len(t.At), mostOpenings)
	}
	if t.Every != nil {
		if d.Every = t.Every.Std(); d.Every < oftenest || d.Every > 16*time.Hour {
			return d, f.Errorf([]string{"door", "every"}, "%s: must be from %s to 16 h", t.Every, unit.FormatDuration(oftenest))
		}
		if d.Every <= d.Open {
			return d, f.Errorf([]string{"door", "every"}, "%s: must be longer than it stands open, %s", t.Every, unit.FormatDuration(d.Open))
		}
	}
	if t.Since != "" && t.Every == nil {
		return d, f.AdviseErrorf([]string{"door", "since"}, "give {door.every=30 min}, too",
			"says from when on the kiln is opened regularly, and nothing says how often")
	}
	return d, nil
}

// resolveDoor finds how long before the start the kiln is opened. Openings that put
// pieces in stand with the pieces.
func (l *Load) resolveDoor(later bool) error {
	d := &l.Door
	d.Before = nil
	if len(d.AtText) == 0 && d.Every == 0 {
		return nil
	}
	bad := func(key, text, reason string, next strict.Advice) error {
		return &TimeError{0, key, &evening.InError{Text: strict.Visible(text), Reason: reason, Next: next}}
	}
	first := "at"
	if len(d.AtText) == 0 {
		first = "every"
	}
	if l.Into != HotKiln && !later {
		return bad(first, l.doorText(), "pieces wait for the program only where the kiln is hot", hotOnly("door"))
	}
	longest := time.Duration(0)
	for _, p := range l.Pieces {
		longest = max(longest, p.In)
	}
	unknown := later && l.Start == nil // the times of day wait for the start
	if longest == 0 && !unknown {
		return bad(first, l.doorText(), "no piece lies in the kiln before the program", "say when each piece went in: {piece.in=3 h before}")
	}
	start := unit.Clock(0)
	if l.Start != nil {
		start = *l.Start
	}
	for _, text := range d.AtText {
		before, err := evening.ParseIn(text, start, l.Start != nil || later)
		if err != nil {
			return &TimeError{0, "at", err}
		}
		d.Before = append(d.Before, before)
	}
	if d.Every > 0 {
		since := longest
		if d.SinceText != "" {
			var err error
			if since, err = evening.ParseIn(d.SinceText, start, l.Start != nil || later); err != nil {
				return &TimeError{0, "since", err}
			}
		}
		for at := since; at > 0; at -= d.Every {
			d.Before = append(d.Before, at)
		}
	}
	if unknown {
		d.Before = nil
	}
	slices.Sort(d.Before)
	slices.Reverse(d.Before)
	return nil
}

// doorText is how the openings were typed, for an error about all of them.
func (l *Load) doorText() string {
	if len(l.Door.AtText) > 0 {
		return l.Door.AtText[0]
	}
	return unit.FormatDuration(l.Door.Every)
}

// Openings returns when the hot kiln is opened before the program, each as often
// as the load or its pieces say, in times of the program; d is what one of them
// does, told by the load, then by the studio, then [evening.Usual]. ok is false
// where nobody said anything of a door.
func (l *Load) Openings(studio kiln.Door) (out []evening.Opening, ok bool) {
	d := l.Door.Or(studio)
	if l.Into != HotKiln || !d.Known() && len(l.Door.Before) == 0 {
		return nil, false
	}
	at := make([]time.Duration, 0, len(l.Pieces)+len(l.Door.Before))
	for _, p := range l.Pieces {
		at = append(at, -p.In)
	}
	for _, b := range l.Door.Before {
		at = append(at, -b)
	}
	return evening.ForPieces(at, evening.Of(d)), true
}
