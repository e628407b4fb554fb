package shortest

import (
	"cmp"
	"math"
	"slices"

	"lehr/anneal/program"
	"lehr/glass/unit"
)

// exchangeReshaped exchanges numbers of programs that do what the best one does by
// more ramps, or nearly by others: an exchange itself leaves out ramps, but makes none.
// Of 19 random loads that were longer than without shortcuts it brought six to within
// half a per cent. Near the floor there is little to find, and it doubles the time of
// the search, unless the ramps are few.
func (sv *solver) exchangeReshaped() error {
	first := coolingFrom(sv.best.Segments)
	if !sv.far() && len(sv.best.Segments)-first >= fewRamps {
		return nil
	}
	before := sv.seconds
	for _, s := range sv.reshaped(*sv.best) {
		if err := sv.exchangeFrom(s); err != nil {
			return err
		}
		if before-sv.seconds >= slowGain*before {
			break
		}
	}
	sv.join()
	return nil
}

// join makes ramps of the best program that follow one another at one rate one ramp.
func (sv *solver) join() {
	var out []program.Segment
	for _, seg := range sv.best.Segments {
		if n := len(out); n > 0 && out[n-1].Hold == 0 && seg.Hold == 0 && out[n-1].Rate == seg.Rate {
			out[n-1].To = seg.To
			continue
		}
		out = append(out, seg)
	}
	if len(out) < len(sv.best.Segments) {
		name(out)
		sv.best = &program.Schedule{From: sv.best.From, Segments: out}
	}
}

// A ramp is halved if either half is splitLeast long. So many are halved at once, and
// where there is room for one only, the two that take longest in turn.
const (
	splitLeast = 6.0 // [K]
	splitMost  = 4
	splitTurns = 2
)

// reshaped lists programs with the longest ramps of one halved, as many as the
// controller has room for. Where it has none the two ramps that cost least as one are
// joined before.
func (sv *solver) reshaped(s program.Schedule) (out []program.Schedule) {
	room := sv.st.Controller.Segments - len(s.Segments)
	if room == 0 {
		joined, ok := sv.joined(s)
		if !ok {
			return nil
		}
		s, room = joined, 1
	}
	var at []int
	took := make([]float64, len(s.Segments))
	for i := coolingFrom(s.Segments); i < len(s.Segments); i++ {
		from, seg := s.Segments[i-1].To, s.Segments[i]
		if float64(from.Sub(seg.To)) >= 2*splitLeast {
			at, took[i] = append(at, i), sv.st.Kiln.Ramp(from, seg.To, seg.Rate)
		}
	}
	slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(took[b], took[a]) })
	if room > 1 {
		return []program.Schedule{sv.halved(s, at[:min(room, splitMost, len(at))])}
	}
	for _, i := range at[:min(splitTurns, len(at))] {
		out = append(out, sv.halved(s, []int{i}))
	}
	return out
}

// halved makes two ramps of each of some.
func (sv *solver) halved(s program.Schedule, which []int) program.Schedule {
	t := program.Schedule{From: s.From}
	for i, seg := range s.Segments {
		if slices.Contains(which, i) {
			half, from := seg, s.Segments[i-1].To
			half.To = sv.st.Controller.Temp(from.Add(unit.Delta(0.5 * float64(seg.To.Sub(from)))))
			t.Segments = append(t.Segments, half)
		}
		t.Segments = append(t.Segments, seg)
	}
	name(t.Segments)
	return t
}

// joinedMost is how much longer a program may be with two of its ramps joined for
// other ramps to make up for it.
const joinedMost = 1.02

// joined makes one ramp, at the slower rate, of the two that this costs least.
func (sv *solver) joined(s program.Schedule) (best program.Schedule, ok bool) {
	least := math.Inf(1)
	for i := coolingFrom(s.Segments); i+1 < len(s.Segments); i++ {
		t := program.Schedule{From: s.From, Segments: slices.Delete(slices.Clone(s.Segments), i, i+1)}
		t.Segments[i].Rate = max(s.Segments[i].Rate, s.Segments[i+1].Rate)
		name(t.Segments)
		if h := hours(t, sv.st.Kiln); h < least {
			best, least = t, h
		}
	}
	return best, least < joinedMost*sv.seconds
}
