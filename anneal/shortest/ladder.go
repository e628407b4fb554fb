package shortest

import (
	"math"
	"slices"

	"lehr/glass/unit"
)

// problem is what one plan must keep: responses, taken as linear around the rates
// they were measured at, and the rates allowed in each cell.
type problem struct {
	sv    *solver
	g     *grid
	base  draft
	rate  []float64
	limit []float64
	ramps int
	bound []bounded
}

// bounded is a response that must stay below a target, with the
// multiplier that holds it there.
type bounded struct {
	soaks      []float64 // tension left by each soak
	target     float64
	weight     []float64
	multiplier float64
}

// plan finds the soak node and at most ramps ramps that take least time while no
// response exceeds its share of its target. No rate changes by more than the
// factor trust, but those of frozen cells, for which what the caps say holds far
// from the rates they were found at.
func (sv *solver) plan(g *grid, base draft, rate []float64, rs []response, ramps int, trust, share float64) draft {
	p := problem{sv: sv, g: g, base: base, rate: rate, ramps: ramps, limit: make([]float64, g.cells())}
	for _, r := range rs {
		if r.weight != nil {
			p.bound = append(p.bound, bounded{soaks: r.soaks, target: sv.target(r.group) * share, weight: r.weight})
		}
	}
	for j := range p.limit {
		p.limit[j] = rate[j] * trust
		if j >= g.frozenFrom {
			p.limit[j] = sv.fastest
		}
		for _, r := range rs {
			p.limit[j] = math.Min(p.limit[j], math.Max(r.cap[j], rate[j]/trust))
		}
	}
	return p.solve()
}

// sweeps bounds how often the multipliers are found in turn; each moves the others
// a little. Three of them leave less than what aim corrects afterwards.
const sweeps = 3

// held is by how much a response may exceed its target before its multiplier is
// raised, as a share of the limit: less than the coarse simulation is wrong about.
const held = 1e-4

// solve raises the multiplier of each response in turn until all hold.
func (p *problem) solve() draft {
	best := p.cheapest()
	for range sweeps {
		all := true
		for n := range p.bound {
			b := &p.bound[n]
			if b.multiplier == 0 && p.excess(best, n) <= held {
				continue
			}
			all = false
			p.raise(n)
			best = p.cheapest()
		}
		if all || len(p.bound) == 1 {
			break
		}
	}
	return best
}

// The search for a multiplier: it goes on times firstRaise from the last one, which a
// round seldom leaves behind, then times nextRaise up to mostRaised, where even the
// slowest rates do not hold, and back in halves of its logarithm to raisedTo: ten times,
// 22 where it was far off. One below noRaise is none. With 1.001 or 1.1 for
// raisedTo some of six programs were longer, by up to 0.5 %; with a thirtieth or a
// hundred times of firstRaise four were as long.
const (
	firstRaise = 1e3
	nextRaise  = 30.0
	mostRaised = 1e12
	raisedTo   = 1.01
	noRaise    = 1e-3
	halves     = 22
)

// raise finds the least multiplier of a response that holds it.
func (p *problem) raise(n int) {
	m := &p.bound[n].multiplier
	holds := func() bool { return p.excess(p.cheapest(), n) <= 0 }
	lo, hi := 0.0, math.Max(*m, 1)*firstRaise
	for hi < mostRaised {
		if *m = hi; holds() {
			break
		}
		lo, hi = hi, hi*nextRaise
	}
	for range halves {
		*m = math.Sqrt(math.Max(lo, hi/firstRaise) * hi)
		if lo == 0 && *m < noRaise {
			*m = 0
		}
		if holds() {
			hi = *m
		} else {
			lo = *m
		}
		if hi <= raisedTo*lo {
			break
		}
	}
	*m = hi
}

// cheapest is the draft of least time plus weighted tension.
func (p *problem) cheapest() draft {
	w := make([]float64, p.g.cells())
	for _, b := range p.bound {
		for j := range w {
			w[j] += b.multiplier * b.weight[j]
		}
	}
	soak := make([]float64, p.g.soaks)
	for a := range soak {
		for _, b := range p.bound {
			soak[a] += b.multiplier * b.soaks[a]
		}
	}
	return p.sv.ladder(p.g, p.base, soak, w, p.limit, p.ramps)
}

// excess is by how much a draft exceeds the target of a response.
func (p *problem) excess(d draft, n int) float64 {
	b := p.bound[n]
	soak := p.g.soakOf(d)
	sum := b.soaks[soak] - b.target
	for j, v := range p.g.rates(d) {
		if j < soak {
			continue
		}
		sum += b.weight[j] * (p.sv.effectiveRate(p.g, j, v) - p.sv.effectiveRate(p.g, j, p.rate[j]))
	}
	return sum
}

// effectiveRate is the rate that a piece feels in a cell when rate is commanded.
func (sv *solver) effectiveRate(g *grid, j int, rate float64) float64 {
	if sv.st.Kiln.Measured {
		return math.Min(rate, g.natural[j])
	}
	return rate
}

// ladder finds, by dynamic programming over the nodes, the soak and the ramps
// that make time plus weighted tension least.
func (sv *solver) ladder(g *grid, base draft, soak, weight, limit []float64, ramps int) draft {
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
	at, least, left := g.soaks-1, math.Inf(1), ramps
	for a := range g.soaks {
		k := max(1, min(ramps, ramps+max(1, len(base.heats))-max(1, len(g.heats[a]))))
		if c := g.climb[a] + g.hold[a] + soak[a] + rest[k][a].total; c < least {
			at, least, left = a, c, k
		}
	}
	d := base.clone()
	d.soak, d.hold, d.cools, d.heats = g.node[at], g.hold[at], nil, slices.Clone(g.heats[at])
	for k, a := left, at; a < n-1; {
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
	hi := math.Min(most, math.Max(g.natural[a], sv.slowest))
	hi = math.Max(sv.slowest, math.Min(hi, sv.fastest))
	if w <= 0 {
		return hi, sv.fallTime(g, a, b, hi) + w*hi
	}
	r := math.Sqrt((g.node[a] - g.node[b]) / w)
	if r > g.natural[b] {
		r = sv.partlyFollowed(g, a, b, w, math.Min(r, g.natural[a]))
	}
	r = math.Max(sv.slowest, math.Min(hi, r))
	cost = sv.fallTime(g, a, b, r) + w*r
	if one := sv.degree; one > 0 && r < fewWhole*one { // one of the two whole rates beside it
		r = math.Max(sv.slowest, math.Floor(r/one+rounding)*one)
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

// newtonSteps bounds an iteration that doubles its digits each time. It ends at steps
// below newtonEnds of the rate, far below what can be keyed in.
const (
	newtonSteps = 8
	newtonEnds  = 1e-4
)

// partlyFollowed solves Tₐ − T(r) = w r² between the kiln's own rates at the two
// nodes, by Newton's method from r on. T is a power of r above the room, so that
// its slope is (T − room)/(n r).
func (sv *solver) partlyFollowed(g *grid, a, b int, w, r float64) float64 {
	fall := sv.st.Kiln.Fall
	room, n := fall.Room.Kelvin(), math.Max(1, fall.Power)
	for range newtonSteps {
		turn := fall.Turn(unit.Rate(r)).Kelvin()
		by := (w*r*r + turn - g.node[a]) / (2*w*r + (turn-room)/(n*r))
		r = math.Max(g.natural[b], math.Min(r-by, g.natural[a]))
		if math.Abs(by) < newtonEnds*r {
			break
		}
	}
	return r
}

// fallTime is [kiln.Kiln.Ramp] from node a down to node b at a rate, by the times
// that the ladder knows.
func (sv *solver) fallTime(g *grid, a, b int, rate float64) float64 {
	if rate <= g.natural[b] {
		return (g.node[a] - g.node[b]) / rate
	}
	if rate >= g.natural[a] {
		return g.alone[a] - g.alone[b]
	}
	turn := sv.st.Kiln.Fall.Turn(unit.Rate(rate))
	return (g.node[a]-turn.Kelvin())/rate + sv.st.Kiln.Fall.Time(turn, unit.Kelvin(g.node[b]), -inf)
}
