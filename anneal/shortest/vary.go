package shortest

import (
	"cmp"
	"math"
	"slices"

	"lehr/anneal/program"

	"lehr/glass/unit"
)

// variation is a program that differs from another in one number of its cooling,
// or in the rate and the break of one ramp.
type variation struct {
	s       program.Schedule
	does    effect // more than the other
	numbers uint64 // which numbers of the program it changes, a bit each
	apply   change
}

// effect is how long a program takes and what it does to the worst piece, as shares of
// the limits.
type effect struct {
	time float64   // longer than the best program; of a variation, than the other [s]
	left []float64 // tension at each place; of a variation, more than of the other
	span []float64 // tension in each segment
}

// tooTense is the share of the limit of tension above which a combination is left
// out: a thousandth more than the limit, for the coarse simulation. Where the program
// itself is above that, coarsely, a combination may be so by noTenser more: what the
// steps of the simulation move where nothing changed.
const (
	tooTense    = 1.001
	noTenser    = 1e-4
	nearlyTense = 0.95 // from here on a change that takes tension away may pay for another
)

// loosens says that a variation takes tension away where there is nearly as much as
// may be.
func (of effect) loosens(v *variation) bool {
	for i, is := range of.span {
		if is > nearlyTense && len(v.does.span) == len(of.span) && v.does.span[i] < is-noTenser {
			return true
		}
	}
	return false
}

// tense says that variations together exceed the limit of tension. What each adds to a
// segment adds up: a quick end that is too tense by itself may not be so where the ramp
// before it ends sooner. Of one that leaves out a ramp only its own tension is known.
func (of effect) tense(parts ...*variation) bool {
	most := tooTense
	for _, t := range of.span {
		most = math.Max(most, t+noTenser)
	}
	for i, is := range of.span {
		sum := is
		for _, p := range parts {
			if len(p.does.span) == len(of.span) {
				sum += p.does.span[i] - is
			}
		}
		if sum > most {
			return true
		}
	}
	for _, p := range parts {
		if len(p.does.span) != len(of.span) && slices.Max(p.does.span) > most {
			return true
		}
	}
	return false
}

// leaves is the greatest tension that variations together leave.
func (of effect) leaves(parts ...*variation) float64 {
	most := 0.0
	for i, v := range of.left {
		for _, p := range parts {
			v += p.does.left[i]
		}
		most = math.Max(most, v)
	}
	return most
}

// relieved says that a variation takes tension away where nearly as much is left as may be.
func (of effect) relieved(v *variation) bool {
	for i, is := range of.left {
		if is > nearlyTense && v.does.left[i] < -gainsNothing {
			return true
		}
	}
	return false
}

// moves is the tension left that a variation adds or takes away at most.
func (of effect) moves() float64 {
	most := 0.0
	for _, v := range of.left {
		most = math.Max(most, math.Abs(v))
	}
	return most
}

// change sets numbers of a program.
type change func([]program.Segment)

// By how much a variation changes a number. Small steps find what whole degrees
// leave, large ones lead out of a program whose breaks lie elsewhere: without the
// outer two of each the spheres of the tests end up to 2 % longer.
var (
	rateFactors = []float64{0.4, 0.8, 0.94, 1.06, 1.25, 2.5}
	breakSteps  = []float64{-32, -15, -6, -2, -1, 1, 2, 6, 15, 32} // [degrees of the controller]
	bothFactors = []float64{0.4, 0.8, 1.25, 2.5}                   // of a rate whose break moves too
	bothSteps   = []float64{-6, -2, -1, 1, 2, 6}
)

// fewRamps is the number of cooling ramps up to which a rate and its break are
// also changed together: few ramps are far from each other, so that what one
// change does depends on the other. With more, the number of combinations is not
// worth it.
const fewRamps = 4

// vary lists variations, both faster and slower ones, that can be keyed in. Their
// residual is not filled in.
func (sv *solver) vary(s program.Schedule) []variation {
	v := varier{sv: sv, s: s, now: hours(s, sv.st.Kiln), seen: map[string]bool{key(s): true}}
	first := coolingFrom(s.Segments)
	v.heating(first - 1)
	for i := first; i < len(s.Segments); i++ {
		before := s.From
		if i > 0 {
			before = s.Segments[i-1].To
		}
		seg := s.Segments[i]
		fall := float64(before.Sub(seg.To))
		if fall == 0 {
			continue
		}
		rates := v.rates(math.Abs(float64(seg.Rate)), fall, rateFactors, true)
		for _, r := range rates {
			v.try(1<<(2*i), r.on(i))
		}
		if i == len(s.Segments)-1 {
			break
		}
		breaks := v.breaks(seg.To, breakSteps)
		for _, b := range append(breaks, breakAt(before), breakAt(s.Segments[i+1].To)) { // the last two: no ramp i, no ramp i+1
			v.try(2<<(2*i), b.on(i))
		}
		if len(s.Segments)-first > fewRamps {
			continue
		}
		for _, r := range v.rates(math.Abs(float64(seg.Rate)), fall, bothFactors, false) {
			for _, b := range v.breaks(seg.To, bothSteps) {
				v.try(3<<(2*i), func(segs []program.Segment) { r.on(i)(segs); b.on(i)(segs) })
			}
		}
	}
	return v.all
}

// varier collects the variations of one program.
type varier struct {
	sv   *solver
	s    program.Schedule
	now  float64
	seen map[string]bool
	all  []variation
}

// try keeps a change that gives a new program.
func (v *varier) try(numbers uint64, c change) {
	t, ok := v.sv.changed(v.s, c)
	if !ok || v.seen[key(t)] {
		return
	}
	v.seen[key(t)] = true
	v.all = append(v.all, variation{s: t, does: effect{time: hours(t, v.sv.st.Kiln) - v.now}, numbers: numbers, apply: c})
}

// rateAt and breakAt are numbers of a ramp: its rate, positive [K/s], and the
// temperature it leads to.
type (
	rateAt  float64
	breakAt unit.Temp
)

func (r rateAt) on(i int) change {
	return func(segs []program.Segment) { segs[i].Rate = unit.Rate(-r) }
}

func (b breakAt) on(i int) change {
	return func(segs []program.Segment) { segs[i].To = unit.Temp(b) }
}

// rates lists rates that can be keyed in near the factors given times one, and
// the next ones beside it if asked for.
func (v *varier) rates(rate, fall float64, factors []float64, beside bool) (out []rateAt) {
	c := v.sv.st.Controller
	one := float64(c.Degree()) / 3600
	var want []float64
	for _, f := range factors {
		want = append(want, rate*f)
	}
	if beside {
		want = append(want, rate-one, rate+one)
	}
	for _, r := range want {
		if c.Minutes {
			r = fall / 60 / math.Max(1, math.Round(fall/60/math.Max(r, 1e-9)))
		} else {
			r = math.Round(r/one) * one
		}
		if r >= float64(c.Slowest)*(1-rounding) && r <= math.Max(rate, float64(c.Fastest)) {
			out = append(out, rateAt(r))
		}
	}
	return out
}

// breaks lists breaks some degrees of the controller from one.
func (v *varier) breaks(at unit.Temp, steps []float64) (out []breakAt) {
	for _, by := range steps {
		out = append(out, breakAt(at.Add(unit.Delta(by)*v.sv.st.Controller.SetStep())))
	}
	return out
}

// combination is two or three variations that change different numbers.
type combination struct {
	changes []change
	time    float64
	moves   float64 // tension left that they add and take away together
}

// Bounds of a combination: the time that it must save to be worth a simulation,
// what it may leave by the sum of its parts, as a share of the limit, and how many
// are simulated: the boldest, which save most, and of the others the gentlest,
// whose sum says most about them. Where whole degrees per hour are large steps
// none of the boldest may hold.
const (
	worthSimulating = 30.0 // [s]
	mayLeave        = 1.0005
	gainsNothing    = 1e-4 // tension left that a change must take away if it takes time
	boldest         = 64
	gentlest        = 64
)

// combined lists the combinations worth a simulation, the boldest first.
func combined(all []variation, of effect) []combination {
	var out []combination
	add := func(time float64, parts ...*variation) bool {
		if of.tense(parts...) {
			return false
		}
		c := combination{time: time}
		for _, p := range parts {
			c.changes = append(c.changes, p.apply)
			c.moves += p.does.moves()
		}
		out = append(out, c)
		return true
	}
	var candidates []*variation
	for i := range all {
		if all[i].does.time < 0 || of.relieved(&all[i]) || of.loosens(&all[i]) {
			candidates = append(candidates, &all[i])
		}
	}
	for a, x := range candidates {
		if time := of.time + x.does.time; time < -worthSimulating && of.leaves(x) < mayLeave {
			add(time, x)
		}
		for b, y := range candidates[:a] {
			if x.numbers&y.numbers != 0 {
				continue
			}
			time, numbers := of.time+x.does.time+y.does.time, x.numbers|y.numbers
			if time < -worthSimulating && of.leaves(x, y) < mayLeave && add(time, x, y) {
				continue
			}
			if x.double() || y.double() {
				continue
			}
			for _, z := range candidates[:b] {
				if z.numbers&numbers == 0 && time+z.does.time < -worthSimulating && !z.double() && of.leaves(x, y, z) < mayLeave {
					add(time+z.does.time, x, y, z)
				}
			}
		}
	}
	byTime := func(a, b combination) int { return cmp.Compare(a.time, b.time) }
	slices.SortStableFunc(out, byTime)
	if len(out) > boldest {
		rest := out[boldest:]
		slices.SortStableFunc(rest, func(a, b combination) int { return cmp.Compare(a.moves, b.moves) })
		rest = rest[:min(len(rest), gentlest)]
		slices.SortStableFunc(rest, byTime)
		out = out[:boldest+len(rest)]
	}
	return out
}

// double reports whether the variation changes two numbers.
func (v *variation) double() bool { return v.numbers&(v.numbers-1) != 0 }
