package kiln

import (
	"fmt"
	"math"
	"time"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Door is what one opening of a hot kiln for a moment does, as far as somebody
// knows it. Zero fields are not known.
type Door struct {
	Open      time.Duration // how long it stands open
	Dip       unit.Delta    // how far the reading falls
	View      float64       // share of what the skin of a piece sees that is the room, 0 to 1
	ViewGiven bool          // View was given: a view of 0 counts
}

// Known reports whether anything is.
func (d Door) Known() bool { return d.Open > 0 || d.Dip > 0 || d.ViewGiven }

// Or fills in from another what is not known.
func (d Door) Or(other Door) Door {
	if d.Open == 0 {
		d.Open = other.Open
	}
	if d.Dip == 0 {
		d.Dip = other.Dip
	}
	if !d.ViewGiven {
		d.View, d.ViewGiven = other.View, other.ViewGiven
	}
	return d
}

// LongestOpen is how long a kiln may stand open and still count as opened for a
// moment: after that its bricks are cold too.
const LongestOpen = 15 * time.Minute

// DoorText is a door as a file has it: the keys open, dip and view behind a
// prefix.
type DoorText struct {
	Open *unit.Duration
	Dip  *unit.Delta
	View *string
}

// Read reads the three keys of a table, each behind a prefix. Errors carry file
// and line.
func (t DoorText) Read(f *strict.File, table, prefix string) (d Door, err error) {
	at := func(key string) []string { return []string{table, prefix + key} }
	if v := t.Open; v != nil {
		if d.Open = v.Std(); d.Open < time.Second || d.Open > LongestOpen {
			return d, f.Errorf(at("open"), "%s: must be from 1 s to %s", v, unit.FormatDuration(LongestOpen))
		}
	}
	if v := t.Dip; v != nil {
		if d.Dip = *v; !(d.Dip > 0 && d.Dip <= 900) {
			return d, f.HintErrorf(at("dip"), "give how far the reading falls, not what it falls to", "%s: must be above 0 and at most %s", unit.AsTyped(*v), unit.LimitFor(*v, unit.Delta(900)))
		}
	}
	if v := t.View; v != nil {
		var s shareText
		if err := s.UnmarshalText([]byte(*v)); err != nil {
			return d, f.Errorf(at("view"), "%w", err)
		}
		if d.View, d.ViewGiven = float64(s), true; !(d.View >= 0 && d.View <= 1) || math.IsNaN(d.View) {
			return d, f.HintErrorf(at("view"), "give the share of what a piece sees from where it lies that is the room", "%s: must be from 0 %% to 100 %%", strict.Visible(*v))
		}
	}
	return d, nil
}

// CheckDip refuses a dip that takes a kiln below its room.
func (d Door) CheckDip(at, room unit.Temp) error {
	if at.IsZero() || !at.Add(-d.Dip).Less(room) {
		return nil
	}
	return &DipError{d.Dip, at, room}
}

// DipError is a dip that would take a kiln below its room.
type DipError struct {
	Dip      unit.Delta
	At, Room unit.Temp
}

func (e *DipError) Error() string {
	return fmt.Sprintf("%s: falls from %s below the room, %s", unit.AsTyped(e.Dip), unit.LimitFor(e.Dip, e.At), unit.LimitFor(e.Dip, e.Room))
}

// Hint names the one thing to do.
func (e *DipError) Hint() string { return "give how far the reading falls, not what it falls to" }
