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

// bestThree descends in the four numbers of three, by halving steps; the rate
// of the slow ramp is bisected against the limits each time.
func (sv *solver) bestThree(base draft) (draft, bool, error) {
	drop := base.soak - sv.st.Opening.Kelvin()
	rate := func(p three) (draft, float64, error) {
		var kept draft
		least := math.Inf(1)
		lo, hi := sv.slowest, math.Max(2*sv.slowest, math.Min(sv.fastest, sv.heating))
		for range 9 {
			d := p.draft(sv, base, math.Sqrt(lo*hi))
			all, err := sv.measureWatched(d.exact())
			if err != nil {
				return d, least, err
			}
			within := true
			for _, m := range all {
				within = within && m.WorstResidual() <= 0.99 && m.Tension() <= 0.995
			}
			if !within {
				hi = math.Sqrt(lo * hi)
				continue
			}
			lo = math.Sqrt(lo * hi)
			if t := hours(d.exact(), sv.st.Kiln); t < least {
				kept, least = d, t
			}
		}
		return kept, least, nil
	}
	p := three{math.Min(22, 0.1*drop), math.Min(90, 0.4*drop), 10, 6}
	best, least, err := rate(p)
	if err != nil {
		return best, false, err
	}
	for step := 1.5; step > 1.15 && sv.ctx.Err() == nil; step = math.Sqrt(step) {
		for i := range 4 {
			for _, f := range []float64{step, 1 / step} {
				q := p
				*[]*float64{&q.first, &q.second, &q.before, &q.after}[i] *= f
				if q.second < q.first+5 || q.second > drop-5 {
					continue
				}
				d, t, err := rate(q)
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
