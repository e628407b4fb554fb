package shortest

import (
	"math"
	"slices"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/program"
	"lehr/glass/unit"
)

// slopes are what programs near one do, by what a little more of each of its numbers
// does: tension is linear in them; what is left is that in the rates, each weighed by
// where its ramp is.
type slopes struct {
	cooling
	x         []int
	rate      []float64 // of each ramp [K/s]
	at        []float64 // where the ramps begin, and the end [K]
	rows      []slope
	low, high []int // of each number
}

// slope is that of one response, as a share of its limit.
type slope struct {
	response int // which of all
	value    float64
	missed   float64   // by what the slopes fall short of a simulation where they led
	kernel   *kernel   // of tension left, else nil
	byRate   []float64 // of each ramp
	byTo     []float64 // of each ramp but the last [1/K]
}

// By how much a rate and a break are moved to see what that does [K], and the share of
// its limit below which a response decides nothing near the program.
const (
	slopeRate  = 0.06
	slopeBreak = 3.0
	quietRow   = 0.6
)

// slopesOf simulates a program coarsely, and one with each number a little more.
func (c *screen) slopesOf(of cooling, x []int) (*slopes, error) {
	base := of.program(x)
	l := &slopes{cooling: of, x: slices.Clone(x)}
	for i := range of.n {
		rate, _ := of.ramp(x, i)
		l.rate, l.at = append(l.rate, rate), append(l.at, of.from(x, i).Kelvin())
	}
	l.at = append(l.at, of.to(x, of.n-1).Kelvin())
	all, by := make([][]float64, 1+len(x)), make([]float64, len(x))
	err := parallel.Each(c.sv.ctx, len(all), func(k int) (err error) {
		s := program.Schedule{From: base.From, Segments: slices.Clone(base.Segments)}
		switch k--; {
		case k < 0:
		case k < of.n:
			by[k] = slopeRate * l.rate[k]
			s.Segments[of.first+k].Rate -= unit.Rate(by[k])
		default:
			i := k - of.n
			above, below := l.at[i]-l.at[i+1], l.at[i+1]-l.at[i+2]
			if by[k] = math.Min(slopeBreak, above/2); below > above {
				by[k] = -math.Min(slopeBreak, below/2)
			}
			to := &s.Segments[of.first+i].To
			*to = to.Add(unit.Delta(by[k]))
		}
		all[k+1], err = c.responses(s)
		return err
	})
	if err != nil {
		return nil, err
	}
	for m, v := range all[0] {
		if v < quietRow {
			continue
		}
		r := slope{response: m, value: v, byRate: make([]float64, of.n), byTo: make([]float64, of.n-1)}
		for k := range x {
			d := (all[k+1][m] - v) / by[k]
			if k < of.n {
				r.byRate[k] = d
			} else {
				r.byTo[k-of.n] = d
			}
		}
		if c.isLeft(m, len(base.Segments)) {
			k := kernelOf(l.at, l.rate, r.byRate, r.byTo)
			r.kernel = &k
		}
		l.rows = append(l.rows, r)
	}
	return l, nil
}

// responses is all that a coarse simulation says of a program, group by group: tension
// left at each place, then tension in each segment, corrected.
func (c *screen) responses(s program.Schedule) (out []float64, err error) {
	all, err := c.corrected(s)
	for _, m := range all {
		out = append(append(out, m.Left...), m.Span...)
	}
	return out, err
}

// isLeft says that a response is tension left.
func (c *screen) isLeft(response, segments int) bool {
	left := len(c.leading[0].left)
	return response%(left+segments) < left
}

// trust bounds how far numbers go from the program.
func (l *slopes) trust(by float64) {
	l.low, l.high = slices.Clone(l.x), slices.Clone(l.x)
	for k := range l.x {
		d := max(1, int(by*trustBreak/float64(l.sv.st.Controller.SetStep())))
		if k < l.n {
			d = max(1, int(by*float64(l.x[k])))
		}
		l.low[k] -= d
		l.high[k] += d
	}
}

// trustBreak is how far a break may go where a rate may change by the whole of it [K].
const trustBreak = 40.0

// miss takes over what a simulation of other numbers says that the slopes do not: they are
// straight, and what they describe is bent.
func (l *slopes) miss(y []int, share []float64) {
	t := l.settlingAt(y, 1)
	t.cost()
	for i := range l.rows {
		r := &l.rows[i]
		r.missed += share[r.response] - t.share(r)
	}
}

// nearer scales what was missed to where numbers go less far, by a factor: it is of second
// order.
func (l *slopes) nearer(by float64) {
	for i := range l.rows {
		l.rows[i].missed *= by * by
	}
}

// settling looks for the whole numbers that take least time while no slope says that a
// limit is exceeded.
type settling struct {
	*slopes
	x     []int
	goal  float64 // share of the limits
	price float64 // of a limit exceeded by the whole of it, squared [s]
	// what follows is of x
	now, to, by []float64 // rates, where ramps lead, how far from the program
}

// step is by how much one number changes.
type step struct{ number, by int }

// The price of what is too much rises: one that is low leaves numbers free to move, one
// that is high leaves nothing over. From pairsFrom on two numbers move at once, where
// one alone gains nothing; far from the floor from pairsFromFar on, which takes a tenth
// of the time of a search that ends near it. settleMost bounds the moves at each price;
// each gains settleGain or more [s].
var (
	prices  = []float64{1e5, 1e6, 1e7, 1e8, 1e9, 1e11}
	singles = []int{-16, -8, -4, -2, -1, 1, 2, 4, 8, 16}
	pairs   = []int{-4, -2, -1, 1, 2, 4}
)

const (
	pairsFrom    = 1e9
	pairsFromFar = 1e7
	settleMost   = 60
	settleGain   = 0.5
)

// settlingAt begins at some numbers.
func (l *slopes) settlingAt(x []int, goal float64) *settling {
	return &settling{slopes: l, x: slices.Clone(x), goal: goal, now: make([]float64, l.n), to: make([]float64, l.n), by: make([]float64, l.n)}
}

// settle returns the numbers that it finds.
func (l *slopes) settle(goal float64) []int {
	t := l.settlingAt(l.x, goal)
	var one, two [][]step
	for k := range l.x {
		for _, d := range singles {
			one = append(one, []step{{k, d}})
		}
		for _, d := range pairs {
			for other := range k {
				for _, e := range pairs {
					two = append(two, []step{{k, d}, {other, e}})
				}
			}
		}
	}
	from := pairsFrom
	if l.sv.far() {
		from = pairsFromFar
	}
	for _, t.price = range prices {
		for range settleMost {
			best := t.best(one)
			if best == nil && t.price >= from {
				best = t.best(two)
			}
			if best == nil {
				break
			}
			t.take(best, 1)
		}
	}
	return t.x
}

func (t *settling) take(steps []step, times int) {
	for _, s := range steps {
		t.x[s.number] += times * s.by
	}
}

// best is the move after which the program costs least, nil if none gains.
func (t *settling) best(moves [][]step) (best []step) {
	least := t.cost() - settleGain
	for _, m := range moves {
		if slices.ContainsFunc(m, func(s step) bool {
			v := t.x[s.number] + s.by
			return v < t.low[s.number] || v > t.high[s.number]
		}) {
			continue
		}
		t.take(m, 1)
		if c := t.cost(); c < least {
			least, best = c, m
		}
		t.take(m, -1)
	}
	return best
}

// cost is how long the program takes [s], and the price of what is too much.
func (t *settling) cost() float64 {
	sum := 0.0
	for i := range t.n {
		rate, seconds := t.ramp(t.x, i)
		if sum += seconds; math.IsInf(sum, 1) {
			return sum
		}
		t.now[i], t.to[i] = rate, t.cooling.to(t.x, i).Kelvin()
		t.by[i] = t.to[i] - t.at[i+1]
	}
	for i := range t.rows {
		if over := t.share(&t.rows[i]) - t.goal; over > 0 {
			sum += t.price * over * over
		}
	}
	return sum
}

// share is what a slope says of the numbers.
func (t *settling) share(r *slope) float64 {
	v := r.value + r.missed
	if r.kernel == nil {
		for i, by := range r.byRate {
			v += by * (t.now[i] - t.rate[i])
		}
		for i, by := range r.byTo {
			v += by * t.by[i]
		}
		return v
	}
	before := 0.0
	for i := range t.n {
		sum := r.kernel.sum[t.n]
		if i < t.n-1 {
			sum = r.kernel.down(t.to[i])
		}
		v += t.now[i]*(sum-before) - t.rate[i]*r.byRate[i]
		before = sum
	}
	return v
}
