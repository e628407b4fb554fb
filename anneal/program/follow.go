package program

import (
	"fmt"
	"math"

	"lehr/anneal/kiln"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// BelowRoomError says that a program waits with the power off for a temperature to
// which no kiln falls by itself.
type BelowRoomError struct {
	Segment  int // from 1
	To, Room unit.Temp
	units    unit.System
}

func (e *BelowRoomError) Error() string {
	return fmt.Sprintf("segment %d: off down to %s: the kiln never reads that, as its room has %s", e.Segment, unit.AsTyped(e.To), e.Room.Text(e.units))
}

// Hint names what the person can do.
func (e *BelowRoomError) Hint() string {
	return "write the temperature at which the kiln is opened, well above the room"
}

// UnmeasuredError says that a program leaves the cooling to a kiln of which
// nobody knows how it cools: what the pieces then see cannot be computed.
type UnmeasuredError struct {
	Segment int // from 1
	Off     bool
}

func (e *UnmeasuredError) Error() string {
	how := "as fast as the kiln can"
	if e.Off {
		how = "with the power off"
	}
	return fmt.Sprintf("segment %d: cools %s, and how this kiln cools was not measured", e.Segment, how)
}

// Hint names what the person can do.
func (e *UnmeasuredError) Hint() string { return e.Advice().String() }

// Advice is the hint as data.
func (e *UnmeasuredError) Advice() strict.Advice {
	return "give {kiln.cooling_points-} or {kiln.cooling_time_constant}, or write the rate instead"
}

// Followed returns what the pieces see: the program as the kiln follows it
// where its owner gave how it falls or heats, and exactly as programmed elsewhere, so
// that no guess excuses a program that is too fast. A measured fall is taken
// at the fastest it may be on another night.
func (s Schedule) Followed(st kiln.Studio) Timeline {
	k := st.Kiln
	if k.Measured {
		k = k.Emptier()
	}
	return s.run(k, k.HeatingGiven, k.Measured)
}

// Fulfilled returns the program with what the kiln is taken to do wherever it
// goes as fast as it can. Errors: *UnmeasuredError.
func (s Schedule) Fulfilled(st kiln.Studio) (Schedule, error) {
	k := st.Kiln
	segments := make([]Segment, len(s.Segments))
	at := s.From
	for i, seg := range s.Segments {
		d := float64(seg.To.Sub(at))
		if seg.Off && d < 0 && !k.Fall.Room.Less(seg.To) {
			return s, &BelowRoomError{i + 1, seg.To, k.Fall.Room, st.Units}
		}
		if seg.Full && d < 0 && !k.Measured {
			return s, &UnmeasuredError{i + 1, seg.Off}
		}
		if seg.Full && d != 0 && seg.Rate == 0 {
			seg.Rate = k.SlowestHeating(at, seg.To)
			if d < 0 {
				// Near the room a kiln falls ever slower; the rate is shown, not computed with.
				seg.Rate = unit.Rate(-math.Max(float64(k.Emptier().Fall.Rate(at)), 1e-6))
			}
		}
		segments[i], at = seg, seg.To
	}
	s.Segments = segments
	return s, nil
}

// Guessed returns the segments that heat as fast as the kiln can, where nobody
// gave its heating.
func (s Schedule) Guessed(k kiln.Kiln) []int {
	if k.HeatingGiven {
		return nil
	}
	var out []int
	at := s.From
	for i, seg := range s.Segments {
		if seg.Full && at.Less(seg.To) {
			out = append(out, i)
		}
		at = seg.To
	}
	return out
}
