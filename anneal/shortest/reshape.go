package shortest

import (
	"cmp"
	"math"
	"slices"

	"lehr/anneal/program"
	"lehr/glass/unit"
)

// slideReshaped goes down the slopes from the best program, and, where it is far from the
// floor or its ramps are few, from programs that do what it does by more ramps, or nearly
// by others, whose numbers it exchanges, too: an exchange leaves out ramps, but makes none.
func (sv *solver) slideReshaped() error {
	before := sv.seconds
	if sv.o.thorough || sv.far() || key(*sv.best) != sv.slid { // near the floor the same slopes lead nowhere else
		if err := sv.slideBest(); err != nil {
			return err
		}
	}
	if sv.far() || len(sv.best.Segments)-coolingFrom(sv.best.Segments) < fewRamps {
		gained := func() bool { return before-sv.seconds >= slowGain*before }
		for n, s := range sv.reshaped(*sv.best) {
			if gained() {
				break
			}
			if err := sv.slide(s); err != nil {
				return err
			}
			if n < reshapedMost && !gained() {
				if err := sv.exchangeFrom(s); err != nil {
					return err
				}
			}
		}
	}
	sv.join()
	return nil
}

// reshapedMost is of how many programs with other ramps the numbers are exchanged, which
// takes most of the time there is.
const reshapedMost = 2

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
// controller has room for, or each in turn after two others were joined.
func (sv *solver) reshaped(s program.Schedule) []program.Schedule {
	out := sv.halvedAsRoomIs(s)
	for _, joined := range sv.joined(s) {
		out = append(out, sv.halvedInTurn(joined)...)
	}
	return out
}

func (sv *solver) halvedAsRoomIs(s program.Schedule) []program.Schedule {
	switch room := sv.st.Controller.Segments - len(s.Segments); {
	case room <= 0:
		return nil
	case room == 1:
		return sv.halvedInTurn(s)
	default:
		at := sv.longest(s)
		return []program.Schedule{sv.halved(s, at[:min(room, splitMost, len(at))])}
	}
}

// longest are the cooling ramps that can be halved, those that take longest first.
func (sv *solver) longest(s program.Schedule) (at []int) {
	took := make([]float64, len(s.Segments))
	for i := max(1, coolingFrom(s.Segments)); i < len(s.Segments); i++ {
		from, seg := s.Segments[i-1].To, s.Segments[i]
		if float64(from.Sub(seg.To)) >= 2*splitLeast {
			at, took[i] = append(at, i), sv.st.Kiln.Ramp(from, seg.To, seg.Rate)
		}
	}
	slices.SortStableFunc(at, func(a, b int) int { return cmp.Compare(took[b], took[a]) })
	return at
}

func (sv *solver) halvedInTurn(s program.Schedule) (out []program.Schedule) {
	at := sv.longest(s)
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
// other ramps to make up for it. The joinedTurns that are shortest are tried.
const (
	joinedMost  = 1.02
	joinedTurns = 2
)

// joined lists programs with one ramp, at the slower rate, instead of two that heat or two
// that cool.
func (sv *solver) joined(s program.Schedule) (out []program.Schedule) {
	first := coolingFrom(s.Segments)
	for i := range len(s.Segments) - 1 {
		if i == first-1 || s.Segments[i].Hold != 0 {
			continue
		}
		t := program.Schedule{From: s.From, Segments: slices.Delete(slices.Clone(s.Segments), i, i+1)}
		slower := min(math.Abs(float64(s.Segments[i].Rate)), math.Abs(float64(s.Segments[i+1].Rate)))
		t.Segments[i].Rate = unit.Rate(math.Copysign(slower, float64(s.Segments[i+1].Rate)))
		if i == 0 && i < first {
			t.Segments[i].Rate = sv.heatedAtOnce(t)
		}
		name(t.Segments)
		if hours(t, sv.st.Kiln) < joinedMost*sv.seconds {
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, func(a, b program.Schedule) int { return cmp.Compare(hours(a, sv.st.Kiln), hours(b, sv.st.Kiln)) })
	return out[:min(len(out), joinedTurns)]
}

// heatedAtOnce is the rate of one ramp that heats to the soak of a program at the limit of
// tension, that of the program where none is found.
func (sv *solver) heatedAtOnce(s program.Schedule) unit.Rate {
	was := s.Segments[0].Rate
	soak := s.Segments[0].To.Kelvin()
	d := draft{from: s.From.Kelvin(), soak: soak, heats: []ramp{{soak, float64(was)}}}
	if err := sv.correctHeating(&d); err != nil {
		return was
	}
	rate, err := sv.st.Controller.Rate(unit.Rate(d.heats[0].rate))
	if err != nil {
		return was
	}
	return rate
}
