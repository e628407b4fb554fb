package program

import (
	"math"
	"slices"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// Eased returns the program with every cooling ramp that a measured kiln cannot
// follow slowed to what it can do, less the margin of [kiln.Followed]. In parts, a
// ramp becomes as many as the controller has segments left, each as fast as the
// kiln falls from its top to its end; otherwise it stays one, as fast as the kiln
// falls at its top, from where it falls ever slower.
//
// A ramp that the kiln leaves by less than the margin stays, and so do one that is
// left to the kiln and a program for a kiln that nobody measured.
func (s Schedule) Eased(st kiln.Studio, inParts bool) Schedule {
	fall, c := st.Kiln.Fall, st.Controller
	if !st.Kiln.Measured {
		return s
	}
	free := c.Segments - len(s.Segments)
	var out []Segment
	at := s.From
	for _, seg := range s.Segments {
		from := at
		at = seg.To
		goal := aboveRoom(seg.To, st.Kiln)
		late := seg.To.Less(from) && !seg.Full && seg.Rate < 0 && goal.Less(from) &&
			float64(fall.Rate(goal)) < kiln.Followed*math.Abs(float64(seg.Rate))
		if !late {
			out = append(out, seg)
			continue
		}
		var parts []Segment
		if inParts {
			parts = fallen(seg, from, goal, st, 1+max(0, free))
		} else {
			parts = atTop(seg, from, st)
		}
		if parts == nil {
			out = append(out, seg)
			continue
		}
		free -= len(parts) - 1
		out = append(out, parts...)
	}
	s.Segments = out
	return s
}

// leastPart is the least that a part of a ramp falls [K].
const leastPart = 20.0

// fallen parts a ramp into at most most, the first of them as programmed down to where
// the kiln falls slower, if that is far below the top. The excess over the room
// shrinks by the same factor in each of the others.
func fallen(seg Segment, from, goal unit.Temp, st kiln.Studio, most int) []Segment {
	fall, c := st.Kiln.Fall, st.Controller
	var out []Segment
	at := from
	put := func(to unit.Temp, rate float64) bool {
		steps, err := c.Ramp(at, to, unit.Rate(math.Min(rate, math.Abs(float64(seg.Rate)))))
		if err != nil || len(steps) != 1 {
			return false
		}
		part := seg
		part.To, part.Rate, part.Hold = to, steps[0].Rate, 0
		out, at = append(out, part), to
		return true
	}
	turn := c.Temp(fall.Turn(seg.Rate / kiln.Followed))
	if float64(from.Sub(turn)) > leastPart && float64(turn.Sub(goal)) > leastPart && most > 1 {
		if !put(turn, math.Abs(float64(seg.Rate))) {
			return nil
		}
		most--
	}
	top, room := at, st.Kiln.Fall.Room
	n := min(most, 6, max(1, int(float64(top.Sub(goal))/leastPart)))
	shrinks := float64(goal.Sub(room)) / float64(top.Sub(room))
	for i := 1; i <= n; i++ {
		to, end := seg.To, goal
		if i < n {
			to = c.Temp(room.Add(top.Sub(room) * unit.Delta(math.Pow(shrinks, float64(i)/float64(n)))))
			end = to
		}
		if !end.Less(at) || !put(to, kiln.Followed*float64(at.Sub(end))/fall.Time(at, end, unit.Rate(math.Inf(-1)))) {
			return nil
		}
	}
	out[len(out)-1].Hold = seg.Hold
	return slices.Clip(out)
}

// atTop slows a ramp to what the kiln does at its top.
func atTop(seg Segment, from unit.Temp, st kiln.Studio) []Segment {
	can := kiln.Followed * float64(st.Kiln.Fall.Rate(from))
	if can >= math.Abs(float64(seg.Rate)) {
		return nil
	}
	steps, err := st.Controller.Ramp(from, seg.To, unit.Rate(can))
	if err != nil || len(steps) != 1 {
		return nil
	}
	seg.Rate = steps[0].Rate
	return []Segment{seg}
}
