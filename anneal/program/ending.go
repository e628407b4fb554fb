package program

import (
	"math"
	"slices"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// HeatedFull marks the heating that the kiln limits.
func (s Schedule) HeatedFull(st kiln.Studio) Schedule {
	k, c := st.Kiln, st.Controller
	if c.FullWord == "" || !k.HeatingGiven {
		return s
	}
	s.Segments = slices.Clone(s.Segments)
	at := s.From
	for i := range s.Segments {
		seg := &s.Segments[i]
		if at.Less(seg.To) {
			all := k.SlowestHeating(at, seg.To)
			if steps, err := c.Ramp(at, seg.To, k.FollowsHeating(at, seg.To)); err == nil && len(steps) == 1 && float64(seg.Rate) >= float64(steps[0].Rate)*(1-1e-9) {
				seg.Full = true
				seg.Rate = all
			}
		}
		at = seg.To
	}
	return s
}

// worthOff is the least fall that is worth ending a program early for.
const worthOff = 20.0 // [K]

// Ended ends the program with the power off at the highest temperature below
// which the kiln, at its fastest, falls no faster than the program asks. A
// controller that keeps the last set point is given one to fall to instead.
func (s Schedule) Ended(st kiln.Studio) Schedule {
	n := len(s.Segments)
	if !st.Kiln.Measured || n == 0 || s.Segments[n-1].Hold > 0 {
		return s
	}
	fall, c := st.Kiln.Emptier().Fall, st.Controller
	top := func(i int) unit.Temp {
		if i == 0 {
			return s.From
		}
		return s.Segments[i-1].To
	}
	first, off := n, s.Segments[n-1].To // segments from first on are left to the kiln
	var part []Segment
	for i := n - 1; i >= 0; i-- {
		seg := s.Segments[i]
		if !seg.To.Less(top(i)) || seg.Full || i < n-1 && seg.Hold > 0 {
			break
		}
		turn := fall.Turn(seg.Rate)
		if turn.Less(top(i)) {
			to := c.Below(turn)
			if seg.To.Less(to) && to.Less(top(i)) {
				if steps, err := c.Ramp(top(i), to, seg.Rate); err == nil && len(steps) == 1 {
					cut := seg
					cut.To, cut.Rate, cut.Hold = to, steps[0].Rate, 0
					first, off, part = i, to, []Segment{cut}
				}
			}
			break
		}
		first, off, part = i, top(i), nil
	}
	last := s.Segments[n-1].To
	if first == n || float64(off.Sub(last)) < worthOff {
		return s
	}
	if c.After == kiln.AfterHold && (part != nil || c.FullWord == "") {
		return s // the elements would stay on
	}
	end := Segment{Purpose: PurposeOff, Rate: unit.Rate(-math.Abs(float64(fall.Rate(off)))), To: last, Full: true, Off: true}
	if part == nil && c.FullWord != "" {
		end.Purpose, end.Off = PurposeFinal, false
	}
	s.Segments = append(append(slices.Clone(s.Segments[:first]), part...), end)
	return s
}
