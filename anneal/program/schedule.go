package program

import (
	"fmt"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// Segment is one line of a kiln program: a ramp to a temperature and a hold
// there.
type Segment struct {
	Purpose Purpose
	Rate    unit.Rate // of the ramp, positive heating; 0 when it only holds
	To      unit.Temp
	Hold    time.Duration
	// Full says that the kiln goes as fast as it can; Rate is then what that
	// was taken to be, 0 until it is known which kiln that is.
	Full bool
	// Off says that the program has ended with the power off: the kiln falls by
	// itself, and nothing is keyed in for it. Full is then true.
	Off bool
}

// Schedule is a kiln program.
type Schedule struct {
	From     unit.Temp // when it begins
	Segments []Segment
}

// Check refuses what is no program.
func (s Schedule) Check() error {
	if len(s.Segments) == 0 {
		return fmt.Errorf("no segments")
	}
	at, total := s.From, 0.0
	for i, seg := range s.Segments {
		d := float64(seg.To.Sub(at))
		switch {
		case d != 0 && seg.Rate == 0 && !seg.Full:
			return fmt.Errorf("segment %d: goes from %s to %s without a rate", i+1, unit.AsTyped(at), unit.AsTyped(seg.To))
		case d*float64(seg.Rate) < 0:
			return fmt.Errorf("segment %d: rate %s leads away from %s (it begins at %s)", i+1, unit.AsTyped(seg.Rate), unit.AsTyped(seg.To), unit.AsTyped(at))
		case seg.To.Celsius() > 1500 || seg.To.Celsius() < -50:
			return fmt.Errorf("segment %d: temperature %s: must be %s", i+1, unit.AsTyped(seg.To), unit.RangeFor(seg.To, unit.Celsius(-50), unit.Celsius(1500)))
		case seg.Hold < 0:
			return fmt.Errorf("segment %d: hold is negative", i+1)
		}
		switch {
		case d != 0 && seg.Rate != 0:
			total += d / float64(seg.Rate)
		case d != 0:
			total++ // as fast as the kiln can takes some time
		}
		total += seg.Hold.Seconds()
		at = seg.To
	}
	if !(total > 0) {
		return fmt.Errorf("takes no time")
	}
	if total > 400*24*3600 {
		return fmt.Errorf("takes %.0f days, at most 400 are simulated", total/86400)
	}
	return nil
}

// HotError says that a program goes above what the kiln is built for.
type HotError struct {
	Segment     int // from 1, 0 for where the program begins
	To, Highest unit.Temp
}

func (e *HotError) Error() string {
	where := fmt.Sprintf("segment %d: goes to %s", e.Segment, unit.AsTyped(e.To))
	if e.Segment == 0 {
		where = fmt.Sprintf("the program begins at %s", unit.AsTyped(e.To))
	}
	return fmt.Sprintf("%s: above the highest temperature of the kiln, %s", where, unit.LimitFor(e.To, e.Highest))
}

// Hint names what the person can do.
func (e *HotError) Hint() string {
	return "correct highest in [kiln] of the studio file if the kiln is built for more"
}

// Bears refuses a program that goes above the highest temperature of a kiln with a
// [HotError].
func (s Schedule) Bears(k kiln.Kiln) error {
	if k.Highest.IsZero() {
		return nil
	}
	over := func(t unit.Temp) bool { return float64(t.Sub(k.Highest)) > 0.01 }
	if over(s.From) {
		return &HotError{0, s.From, k.Highest}
	}
	for i, seg := range s.Segments {
		if over(seg.To) {
			return &HotError{i + 1, seg.To, k.Highest}
		}
	}
	return nil
}

// Heats reports whether the program heats anywhere.
func (s Schedule) Heats() bool {
	at := s.From
	for _, seg := range s.Segments {
		if at.Less(seg.To) {
			return true
		}
		at = seg.To
	}
	return false
}

// Hottest returns the highest temperature of the program.
func (s Schedule) Hottest() unit.Temp {
	t := s.From
	for _, seg := range s.Segments {
		if t.Less(seg.To) {
			t = seg.To
		}
	}
	return t
}

// Last returns the temperature at which the program ends.
func (s Schedule) Last() unit.Temp { return s.Segments[len(s.Segments)-1].To }
