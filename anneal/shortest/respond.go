package shortest

import (
	"math"
	"slices"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/verify"
)

// response is how one group of pieces answers to the rates of the cells, around
// one staircase of rates.
type response struct {
	group    int
	residual float64   // tension left as a share of the limit
	weight   []float64 // its change per K/s of each cell, nil if the group does not lead
	soaks    []float64 // tension left with each soak of the ladder and these rates, nil if the group does not lead
	cap      []float64 // rate at which each cell meets the limit of tension [K/s]
}

// respond measures what a group answers to each cell, in parallel and in fixed
// order.
func (sv *solver) respond(g grid, base draft, soak int, rate []float64, group int) (response, error) {
	r := response{group: group, cap: make([]float64, g.cells())}
	for j := range r.cap {
		r.cap[j] = math.Inf(1)
	}
	if !sv.watches(group) {
		return r, nil
	}
	m, err := sv.measure(g.stairs(base, soak, rate).exact(), group, verify.Coarse)
	if err != nil {
		return r, err
	}
	r.residual = m.Residual
	if err := sv.respondCaps(&r, g, base, soak, rate, m); err != nil {
		return r, err
	}
	if !sv.follows(group) || r.residual == 0 {
		return r, nil
	}
	if err := sv.respondSoaks(&r, g, base, soak, rate); err != nil {
		return r, err
	}
	return r, sv.respondWeights(&r, g, base, soak, rate)
}

// respondSoaks finds what is left after each soak that may be chosen: one that is
// long and not hot leaves less, since the glass is nearer to what it is when cold.
func (sv *solver) respondSoaks(r *response, g grid, base draft, soak int, rate []float64) error {
	r.soaks = make([]float64, g.soaks)
	return parallel.Each(sv.ctx, g.soaks, func(a int) error {
		if r.soaks[a] = r.residual; a == soak || math.IsInf(g.hold[a], 1) {
			return nil
		}
		d := base
		d.soak, d.hold, d.heats = g.node[a], g.hold[a], g.heats[a]
		m, err := sv.measure(g.stairs(d, a, rate).exact(), r.group, verify.Coarse)
		r.soaks[a] = m.Residual
		return err
	})
}

// slower is by what rates are bent for a difference: by less it is lost in the
// noise of the steps, which is 0.2 % of what is left, by more in the curvature.
const slower = 0.8

// respondCaps finds the rate at which each cell meets the limit of tension, by two
// more runs, the cells that set and the others apart, so that what is left does
// not hide what a rate of the moment does.
func (sv *solver) respondCaps(r *response, g grid, base draft, soak int, rate []float64, m verify.Measured) error {
	const ( // as shares of the limit, of the rate and of the kiln's own rate
		nothing  = 0.02 // a cell whose rate makes less tension has no cap
		leastCap = 0.2  // slopes do not hold farther down; from 0.02 to 0.6 six programs were the same
		quicker  = 1.1  // a measured kiln never falls so fast: no cap
	)
	skip, bias := max(1, len(base.heats)), sv.tensionBias[r.group]
	for _, part := range [2][2]int{{soak, g.frozenFrom}, {max(soak, g.frozenFrom), g.cells()}} {
		bent := slices.Clone(rate)
		for j := part[0]; j < part[1]; j++ {
			bent[j] *= slower
		}
		slow, err := sv.measure(g.stairs(base, soak, bent).exact(), r.group, verify.Coarse)
		if err != nil {
			return err
		}
		for j := part[0]; j < part[1]; j++ {
			p0, p1 := bias*m.Span[skip+j-soak], bias*slow.Span[skip+j-soak]
			if slope := (p0 - p1) / ((1 - slower) * rate[j]); slope*rate[j] > nothing {
				r.cap[j] = math.Max(leastCap*rate[j], rate[j]+(1-p0)/slope)
			}
			if sv.st.Kiln.Measured && r.cap[j] > quicker*g.natural[j] {
				r.cap[j] = math.Inf(1)
			}
		}
	}
	return nil
}

// respondWeights finds how what is left changes with the rate of each cell. Cells
// hotter than the base soak answer as its first one.
func (sv *solver) respondWeights(r *response, g grid, base draft, soak int, rate []float64) error {
	r.weight = make([]float64, g.cells())
	last := min(g.frozenFrom, g.cells())
	err := parallel.Each(sv.ctx, max(0, (last-soak+together-1)/together), func(n int) error {
		j := soak + together*n
		end := min(j+together, last)
		bent := slices.Clone(rate)
		less := 0.0 // change of rate times width
		for i := j; i < end; i++ {
			bent[i] *= slower
			less += (rate[i] - bent[i]) * g.width(i)
		}
		b, err := sv.measure(g.stairs(base, soak, bent).exact(), r.group, verify.Coarse)
		if err != nil {
			return err
		}
		for n := j; n < end; n++ {
			r.weight[n] = (r.residual - b.Residual) / less * g.width(n)
		}
		return nil
	})
	for j := range soak {
		r.weight[j] = math.Max(0, r.weight[soak])
	}
	return err
}

// together is how many cells share one measurement of their weight: weights are
// smooth, breaks should not be coarse.
const together = 2
