package shortest

import (
	"errors"
	"fmt"
	"math"

	"lehr/anneal/kiln"
	"lehr/anneal/plan"
	"lehr/anneal/program"

	"lehr/glass/unit"
)

// rounding is what the rounding of floating point numbers may make of two numbers that are one,
// as a share or in the unit at hand; it is far below anything that is shown or keyed in.
const rounding = 1e-9

// ramp leads to a temperature [K] at a rate [K/s], both positive.
type ramp struct{ to, rate float64 }

// draft is a program before it is rounded to the controller.
type draft struct {
	from  float64 // [K]
	heats []ramp  // the last leads to the soak; none if the soak is at from
	soak  float64 // [K]
	hold  float64 // [s]
	cools []ramp  // the last leads to the opening temperature
}

func (d draft) clone() draft {
	d.heats = append([]ramp(nil), d.heats...)
	d.cools = append([]ramp(nil), d.cools...)
	return d
}

// exact is the draft as a program that no controller need take: for
// simulations inside the search.
func (d draft) exact() program.Schedule {
	s := program.Schedule{From: unit.Kelvin(d.from)}
	at := d.from
	for i, h := range d.heats {
		seg := program.Segment{Purpose: program.PurposeHeat, To: unit.Kelvin(h.to), Rate: unit.Rate(math.Copysign(h.rate, h.to-at))}
		if i == len(d.heats)-1 {
			seg.Purpose, seg.Hold = program.PurposeSoak, unit.Seconds(d.hold)
		}
		s.Segments = append(s.Segments, seg)
		at = h.to
	}
	if len(d.heats) == 0 {
		s.Segments = append(s.Segments, program.Segment{Purpose: program.PurposeSoak, To: unit.Kelvin(d.soak), Hold: unit.Seconds(d.hold)})
	}
	for i, c := range d.cools {
		s.Segments = append(s.Segments, program.Segment{Purpose: program.CoolingPurpose(i, len(d.cools)), To: unit.Kelvin(c.to), Rate: unit.Rate(-c.rate)})
	}
	return s
}

// coolingOf is the soak temperature and the cooling of a program as a draft.
func coolingOf(s program.Schedule) draft {
	d, first := draft{soak: s.From.Kelvin()}, coolingFrom(s.Segments)
	if first > 0 {
		d.soak = s.Segments[first-1].To.Kelvin()
	}
	for _, seg := range s.Segments[first:] {
		d.cools = append(d.cools, ramp{seg.To.Kelvin(), math.Abs(float64(seg.Rate))})
	}
	return d
}

// rounded makes the draft a program that the controller takes: rates toward
// slow, holds toward long, temperatures to whole degrees.
func (d draft) rounded(st kiln.Studio) (program.Schedule, error) {
	c := st.Controller
	s := d.exact()
	s.From = c.Temp(s.From)
	last := len(s.Segments) - 1
	for i := range s.Segments {
		seg := &s.Segments[i]
		want := seg.To
		seg.To = c.Temp(want)
		if i == last && want.Less(seg.To) {
			seg.To = seg.To.Add(-c.SetStep()) // never open warmer than asked
		}
		seg.Hold = c.Hold(seg.Hold)
	}
	return keyed(s, c)
}

// keyed drops what became empty, brings every rate to one that can be keyed
// in, splits holds and ramps that are too long for one segment, and names the
// segments anew.
func keyed(s program.Schedule, c kiln.Controller) (program.Schedule, error) {
	out := program.Schedule{From: s.From}
	at := s.From
	for _, seg := range s.Segments {
		if seg.To.Sub(at) == 0 && seg.Hold == 0 {
			continue
		}
		if n := len(out.Segments); seg.To.Sub(at) == 0 && n > 0 && out.Segments[n-1].Hold == 0 && seg.Hold <= c.Longest {
			out.Segments[n-1].Hold, out.Segments[n-1].Purpose = seg.Hold, seg.Purpose
			continue
		}
		steps, err := c.Ramp(at, seg.To, seg.Rate)
		if err != nil {
			return out, err
		}
		for _, st := range steps[:max(0, len(steps)-1)] {
			out.Segments = append(out.Segments, program.Segment{Purpose: seg.Purpose, To: st.To, Rate: st.Rate})
		}
		part := seg
		part.Rate = 0
		if len(steps) > 0 {
			part.Rate = steps[len(steps)-1].Rate
		}
		for part.Hold > c.Longest {
			first := part
			first.Hold = c.Longest
			out.Segments = append(out.Segments, first)
			part.Hold -= c.Longest
			part.Rate = 0
		}
		out.Segments = append(out.Segments, part)
		at = seg.To
	}
	if len(out.Segments) > c.Segments {
		return out, plan.NewSegmentsError(out.Segments, c)
	}
	name(out.Segments)
	return out, nil
}

// unkeyable reports whether an error says that a controller cannot be set for
// a program.
func unkeyable(err error) bool {
	var slow *kiln.SlowError
	var many *plan.SegmentsError
	return errors.As(err, &slow) || errors.As(err, &many)
}

// coolingFrom is the index of the first segment after the soak, 0 where there is none.
func coolingFrom(segs []program.Segment) int {
	first := 0
	for i, seg := range segs {
		if seg.Purpose == program.PurposeSoak {
			first = i + 1
		}
	}
	return first
}

// name gives the cooling segments their purposes.
func name(segs []program.Segment) {
	first := coolingFrom(segs)
	if first == 0 {
		return
	}
	for i := first; i < len(segs); i++ {
		segs[i].Purpose = program.CoolingPurpose(i-first, len(segs)-first)
	}
}

// label names the cooling segments by what they do, for the report: down to
// where the glass sets, through it, and to the end. set is the highest strain
// point of the load, rigid the lowest temperature at which its glasses still
// give way [K].
func label(segs []program.Segment, set, rigid float64) {
	first := coolingFrom(segs)
	if first == 0 {
		return
	}
	var setting []int
	last := len(segs) - 1
	for i := first; i <= last; i++ {
		seg, from := &segs[i], segs[i-1].To.Kelvin()
		switch {
		case i == last && i > first || from <= rigid:
			seg.Purpose = program.PurposeFinal
		case i == first && i < last && seg.To.Kelvin() >= set && seg.Rate < segs[i+1].Rate:
			seg.Purpose = program.PurposeToSet
		default:
			setting = append(setting, i)
			seg.Purpose = program.PurposeSetting
		}
	}
	if len(setting) > 1 {
		for n, i := range setting {
			segs[i].Purpose = program.Purpose(fmt.Sprintf("%s %d", program.PurposeSetting, n+1))
		}
	}
}

// hours returns the length of a program by the kiln's clock [s].
func hours(s program.Schedule, k kiln.Kiln) float64 {
	sum, at := 0.0, s.From
	for _, seg := range s.Segments {
		if seg.To.Sub(at) != 0 {
			sum += k.Ramp(at, seg.To, seg.Rate)
		}
		sum += seg.Hold.Seconds()
		at = seg.To
	}
	return sum
}
