package shortest

import (
	"math"
	"slices"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// grid is the ladder of temperatures on which the search chooses soak and
// break temperatures: node 0 is the hottest soak that is allowed, the last the
// opening temperature. Cell j lies between nodes j and j+1.
type grid struct {
	node  []float64 // [K], falling
	soaks int       // nodes 0..soaks-1 may be the soak
	hold  []float64 // soak needed at each of them [s], +Inf if none is enough
	climb []float64 // time from the start of the program to the soak temperature [s]
	wake  int       // cells from here on are frozen: what is left does not depend on them
	nat   []float64 // how fast the kiln falls by itself at each node [K/s]
	alone []float64 // how long it then takes from each node to the last [s]
}

func (g grid) clone() grid {
	g.hold, g.climb = slices.Clone(g.hold), slices.Clone(g.climb)
	return g
}

func (g grid) cells() int           { return len(g.node) - 1 }
func (g grid) width(j int) float64  { return g.node[j] - g.node[j+1] }
func (g grid) middle(j int) float64 { return 0.5 * (g.node[j] + g.node[j+1]) }

// response is how one kind of piece answers to the rates of the cells, around
// one staircase of rates.
type response struct {
	kind    int
	reading []int       // the readings that matter
	left    []float64   // tension left as a share of the limit, by reading
	weight  [][]float64 // its change per K/s of each cell, by reading
	cap     []float64   // rate at which each cell meets the limit of tension [K/s]
}

// rates spreads the cooling ramps of a draft over the cells. Cells above the
// soak take the rate of the first ramp.
func (g grid) rates(d draft) []float64 {
	r := make([]float64, g.cells())
	for j := range r {
		r[j] = d.cools[len(d.cools)-1].rate
		for i := len(d.cools) - 1; i >= 0; i-- {
			if g.middle(j) > d.cools[i].to {
				r[j] = d.cools[i].rate
			}
		}
	}
	return r
}

// stairs is the program of a staircase from a soak node on.
func (g grid) stairs(base draft, soak int, rate []float64) draft {
	d := base.clone()
	d.cools = nil
	for j := soak; j < g.cells(); j++ {
		d.cools = append(d.cools, ramp{g.node[j+1], rate[j]})
	}
	return d
}

// respond measures what a kind of piece answers to each cell, in parallel and
// in fixed order.
func (sv *solver) respond(g grid, base draft, soak int, rate []float64, kind int) (response, error) {
	r := response{kind: kind, cap: make([]float64, g.cells())}
	for j := range r.cap {
		r.cap[j] = math.Inf(1)
	}
	if !sv.watches(kind) {
		return r, nil
	}
	skip := len(base.heats)
	if skip == 0 {
		skip = 1
	}
	m, err := sv.measure(g.stairs(base, soak, rate).exact(), kind, verify.Coarse, nil)
	if err != nil {
		return r, err
	}
	worst := m.WorstResidual()
	for i, l := range m.Residual {
		if l > 0.85*worst {
			r.reading = append(r.reading, i)
			r.left = append(r.left, l)
		}
	}
	const slower = 0.8
	// Two more runs, the cells that set and the others apart, so that what is
	// left does not hide what a rate of the moment does.
	for _, part := range [2][2]int{{soak, g.wake}, {max(soak, g.wake), g.cells()}} {
		bent := append([]float64(nil), rate...)
		for j := part[0]; j < part[1]; j++ {
			bent[j] *= slower
		}
		slow, err := sv.measure(g.stairs(base, soak, bent).exact(), kind, verify.Coarse, r.reading)
		if err != nil {
			return r, err
		}
		for j := part[0]; j < part[1]; j++ {
			p0, p1 := m.Span[skip+j-soak], slow.Span[skip+j-soak]
			if slope := (p0 - p1) / ((1 - slower) * rate[j]); slope*rate[j] > 0.02 {
				r.cap[j] = math.Max(0.2*rate[j], rate[j]+(1-p0)/slope)
			}
			if sv.st.Kiln.Measured && r.cap[j] > 1.1*g.nat[j] { // the kiln never falls so fast
				r.cap[j] = math.Inf(1)
			}
		}
	}
	r.weight = make([][]float64, len(r.reading))
	for i := range r.weight {
		r.weight[i] = make([]float64, g.cells())
	}
	if !sv.follows(kind) || len(r.reading) == 0 {
		r.reading, r.left, r.weight = nil, nil, nil
		return r, nil
	}
	last := min(g.wake, g.cells())
	err = parallel.Each(sv.ctx, max(0, (last-soak+group-1)/group), func(n int) error {
		j := soak + group*n
		end := min(j+group, last)
		bent := append([]float64(nil), rate...)
		less := 0.0 // change of rate times width
		for i := j; i < end; i++ {
			bent[i] *= slower
			less += (rate[i] - bent[i]) * g.width(i)
		}
		b, err := sv.measure(g.stairs(base, soak, bent).exact(), kind, verify.Coarse, r.reading)
		if err != nil {
			return err
		}
		for i := range r.reading {
			for n := j; n < end; n++ {
				r.weight[i][n] = (r.left[i] - b.Residual[i]) / less * g.width(n)
			}
		}
		return nil
	})
	if err != nil {
		return r, err
	}
	for i := range r.weight { // hotter than the base soak: as its first cell
		for j := range soak {
			r.weight[i][j] = math.Max(0, r.weight[i][soak])
		}
	}
	return r, nil
}

// group is how many cells share one measurement of their weight: weights are
// smooth, breaks should not be coarse.
const group = 2

// plan finds the soak node and at most ramps ramps that take least time while
// no response exceeds its share of its target, all responses taken as linear
// around the rates given.
func (sv *solver) plan(g *grid, base draft, rate []float64, rs []response, ramps int, trust, share float64) draft {
	// One multiplier for each reading of each response, raised until all hold.
	type key struct{ r, i int }
	var keys []key
	var mult []float64
	for a, r := range rs {
		for i := range r.reading {
			keys, mult = append(keys, key{a, i}), append(mult, 0)
		}
	}
	weigh := func() []float64 {
		w := make([]float64, g.cells())
		for n, k := range keys {
			for j := range w {
				w[j] += mult[n] * rs[k.r].weight[k.i][j]
			}
		}
		return w
	}
	excess := func(d draft, n int) float64 {
		k := keys[n]
		sum := rs[k.r].left[k.i] - sv.target(rs[k.r].kind)*share
		for j, v := range g.rates(d) {
			sum += rs[k.r].weight[k.i][j] * (sv.felt(g, j, v) - sv.felt(g, j, rate[j]))
		}
		return sum
	}
	limit := make([]float64, g.cells())
	for j := range limit {
		limit[j] = rate[j] * trust
		if j >= g.wake { // rigid: what the caps say holds far from the rates they were found at
			limit[j] = sv.fastest
		}
		for _, r := range rs {
			limit[j] = math.Min(limit[j], math.Max(r.cap[j], rate[j]/trust))
		}
	}
	best := sv.ladder(g, base, weigh(), limit, ramps)
	for range 3 {
		held := true
		for n := range keys {
			if excess(best, n) <= 1e-4 && mult[n] == 0 {
				continue
			}
			held = false
			lo, hi := 0.0, math.Max(mult[n], 1)*1e3
			for hi < 1e12 {
				mult[n] = hi
				if excess(sv.ladder(g, base, weigh(), limit, ramps), n) <= 0 {
					break
				}
				lo, hi = hi, hi*30
			}
			for range 22 {
				mult[n] = math.Sqrt(math.Max(lo, 1e-3*hi) * hi)
				if lo == 0 && mult[n] < 1e-3 {
					mult[n] = 0
				}
				if excess(sv.ladder(g, base, weigh(), limit, ramps), n) <= 0 {
					hi = mult[n]
				} else {
					lo = mult[n]
				}
				if hi <= 1.01*lo {
					break
				}
			}
			mult[n] = hi
			best = sv.ladder(g, base, weigh(), limit, ramps)
		}
		if held || len(keys) == 1 {
			break
		}
	}
	return best
}

// felt is the rate that a piece feels in a cell when rate is commanded.
func (sv *solver) felt(g *grid, j int, rate float64) float64 {
	if sv.st.Kiln.Measured {
		return math.Min(rate, g.nat[j])
	}
	return rate
}

// ladder finds, by dynamic programming over the nodes, the soak and the ramps
// that make time plus weighted tension least.
func (sv *solver) ladder(g *grid, base draft, weight, limit []float64, ramps int) draft {
	n := len(g.node)
	type leg struct {
		total, rate float64
		to, more    int // the node it leads to, and how many ramps may follow
	}
	// rest[k][a]: the first leg of the cheapest way from node a to the end with
	// at most k ramps.
	rest := make([][]leg, ramps+1)
	for k := range rest {
		rest[k] = make([]leg, n)
		for a := range n - 1 {
			rest[k][a].total = math.Inf(1)
		}
	}
	for a := n - 2; a >= 0; a-- {
		w, most := 0.0, math.Inf(1)
		for b := a + 1; b < n; b++ {
			w += weight[b-1]
			most = math.Min(most, limit[b-1])
			r, c := sv.bestRate(g, a, b, w, most)
			for k := 1; k <= ramps; k++ {
				if t := c + rest[k-1][b].total; t < rest[k][a].total {
					rest[k][a] = leg{t, r, b, k - 1}
				}
			}
		}
		for k := 2; k <= ramps; k++ { // a ramp more must be worth it
			if rest[k-1][a].total <= rest[k][a].total+worthIt {
				rest[k][a] = rest[k-1][a]
			}
		}
	}
	at, least := g.soaks-1, math.Inf(1)
	for a := range g.soaks {
		if c := g.climb[a] + g.hold[a] + rest[ramps][a].total; c < least {
			at, least = a, c
		}
	}
	d := base.clone()
	d.soak, d.hold, d.cools = g.node[at], g.hold[at], nil
	switch n := len(d.heats); {
	case d.soak == d.from:
		d.heats = nil
	case n > 0:
		d.heats[n-1].to = d.soak
	default:
		d.heats = []ramp{{d.soak, sv.heating}}
	}
	for k, a := ramps, at; a < n-1; {
		l := rest[k][a]
		d.cools = append(d.cools, ramp{g.node[l.to], l.rate})
		a, k = l.to, l.more
	}
	return d
}

// worthIt is the time that one more segment must save [s].
const worthIt = 30

// bestRate returns the rate of one ramp from node a to node b that makes its
// time plus w times its rate least, at most most.
//
// Where the kiln follows to the end the time is Δ/r, and the least at
// r = √(Δ/w). Where it follows only down to the temperature T(r) at which it
// falls by itself at r, the time is (Tₐ − T)/r + t(T), with t the time of its own
// fall from there; since t changes with T by 1/r, the derivative by r is
// −(Tₐ − T)/r², and the least at Tₐ − T(r) = w r².
func (sv *solver) bestRate(g *grid, a, b int, w, most float64) (rate, cost float64) {
	hi := math.Min(most, math.Max(g.nat[a], sv.slowest))
	hi = math.Max(sv.slowest, math.Min(hi, sv.fastest))
	if w <= 0 {
		return hi, sv.fallTime(g, a, b, hi) + w*hi
	}
	r := math.Sqrt((g.node[a] - g.node[b]) / w)
	if r > g.nat[b] {
		r = sv.partlyFollowed(g, a, b, w, math.Min(r, g.nat[a]))
	}
	r = math.Max(sv.slowest, math.Min(hi, r))
	cost = sv.fallTime(g, a, b, r) + w*r
	if one := sv.degree; one > 0 && r < fewWhole*one { // one of the two whole rates beside it
		r = math.Max(sv.slowest, math.Floor(r/one+1e-9)*one)
		cost = sv.fallTime(g, a, b, r) + w*r
		if fast := r + one; fast <= hi {
			if c := sv.fallTime(g, a, b, fast) + w*fast; c < cost {
				r, cost = fast, c
			}
		}
	}
	return r, cost
}

// fewWhole is the rate, in steps of the controller, below which one step changes
// a ramp by more than 3 %, so that the search thinks in whole steps.
const fewWhole = 30

// partlyFollowed solves Tₐ − T(r) = w r² between the kiln's own rates at the two
// nodes, by Newton's method from r on. T is a power of r above the room, so that
// its slope is (T − room)/(n r).
func (sv *solver) partlyFollowed(g *grid, a, b int, w, r float64) float64 {
	fall := sv.st.Kiln.Fall
	room, n := fall.Room.Kelvin(), math.Max(1, fall.Power)
	for range 8 {
		turn := fall.Turn(unit.Rate(r)).Kelvin()
		by := (w*r*r + turn - g.node[a]) / (2*w*r + (turn-room)/(n*r))
		r = math.Max(g.nat[b], math.Min(r-by, g.nat[a]))
		if math.Abs(by) < 1e-4*r {
			break
		}
	}
	return r
}

// fallTime is [kiln.Kiln.Ramp] from node a down to node b at a rate, by the times
// that the ladder knows.
func (sv *solver) fallTime(g *grid, a, b int, rate float64) float64 {
	if rate <= g.nat[b] {
		return (g.node[a] - g.node[b]) / rate
	}
	if rate >= g.nat[a] {
		return g.alone[a] - g.alone[b]
	}
	turn := sv.st.Kiln.Fall.Turn(unit.Rate(rate))
	return (g.node[a]-turn.Kelvin())/rate + sv.st.Kiln.Fall.Time(turn, unit.Kelvin(g.node[b]), -inf)
}
