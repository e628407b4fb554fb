package shortest

import (
	"math"
)

// three is a program of three cooling ramps: quick, slow while the glass sets,
// quick again. Few segments leave no other shape, and there the weights, which
// are found for small changes of the rates, say too little.
type three struct {
	first, second float64 // where the slow ramp begins and ends, below the soak [K]
	before, after float64 // the rates around it, over its own
}

// draft is the program with the slow ramp at a rate [K/s].
func (p three) draft(sv *solver, base draft, slow float64) draft {
	d := base.clone()
	quick := func(x float64) float64 { return math.Max(sv.slowest, math.Min(x*slow, sv.fastest)) }
	d.cools = []ramp{{d.soak - p.first, quick(p.before)}, {d.soak - p.second, quick(1)}, {sv.st.Opening.Kelvin(), quick(p.after)}}
	return d
}

// Settings of bestThree: where the descent begins, which is a guess that it leaves
// behind, by which factors it goes on, and how close to the limits the coarse
// simulation may come. Breaks nearer than threeApart would be one ramp less; with 1 K
// and with 15 K six programs were as long.
const (
	threeFirst     = 22.0 // [K], at most a tenth of the way down
	threeSecond    = 90.0 // [K], at most four tenths
	threeBefore    = 10.0
	threeAfter     = 6.0
	threeStep      = 1.5 // its square root each time, until 15 % are left
	threeLast      = 1.15
	threeApart     = 5.0 // [K] between breaks
	threeHalves    = 9   // bisections of the rate
	coarseResidual = 0.99
	coarseTension  = 0.995
)

// bestThree descends in the four numbers of three, by shrinking steps; the rate
// of the slow ramp is bisected against the limits each time.
func (sv *solver) bestThree(base draft) (draft, bool, error) {
	drop := base.soak - sv.st.Opening.Kelvin()
	p := three{math.Min(threeFirst, 0.1*drop), math.Min(threeSecond, 0.4*drop), threeBefore, threeAfter}
	best, least, err := sv.quickestOf(p, base)
	if err != nil {
		return best, false, err
	}
	for step := threeStep; step > threeLast && sv.ctx.Err() == nil; step = math.Sqrt(step) {
		for i := range 4 {
			for _, f := range []float64{step, 1 / step} {
				q := p
				*[]*float64{&q.first, &q.second, &q.before, &q.after}[i] *= f
				if q.second < q.first+threeApart || q.second > drop-threeApart {
					continue
				}
				d, t, err := sv.quickestOf(q, base)
				if err != nil {
					return best, false, err
				}
				if t < least {
					best, least, p = d, t, q
					break
				}
			}
		}
	}
	return best, !math.IsInf(least, 1), nil
}

// quickestOf bisects the rate of the slow ramp: the quickest program of three ramps
// of that shape, and its length, +Inf if none is within the limits.
func (sv *solver) quickestOf(p three, base draft) (kept draft, least float64, err error) {
	least = math.Inf(1)
	lo, hi := sv.slowest, math.Max(2*sv.slowest, math.Min(sv.fastest, sv.heating))
	for range threeHalves {
		mid := math.Sqrt(lo * hi)
		d := p.draft(sv, base, mid)
		all, err := sv.measureWatched(d.exact())
		if err != nil {
			return d, least, err
		}
		within := true
		for _, m := range all {
			within = within && m.Residual <= coarseResidual && m.Tension() <= coarseTension
		}
		if !within {
			hi = mid
			continue
		}
		lo = mid
		if t := hours(d.exact(), sv.st.Kiln); t < least {
			kept, least = d, t
		}
	}
	return kept, least, nil
}
