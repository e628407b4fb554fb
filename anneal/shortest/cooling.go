package shortest

import (
	"math"
	"slices"

	"lehr/anneal/program"
	"lehr/glass/unit"
)

// cooling is the cooling of a program as whole numbers that are keyed in: n paces, in
// degrees per hour or minutes, then of each ramp but the last by how many steps of the
// controller it leads elsewhere than in the program.
type cooling struct {
	sv    *solver
	of    program.Schedule
	first int // segment
	n     int // ramps
}

// coolingIn returns the cooling of a program and its numbers.
func (sv *solver) coolingIn(s program.Schedule) (c cooling, x []int) {
	first := coolingFrom(s.Segments)
	c = cooling{sv, s, first, len(s.Segments) - first}
	x = make([]int, max(0, 2*c.n-1))
	for i := range c.n {
		rate := math.Abs(float64(s.Segments[first+i].Rate))
		if sv.degree > 0 {
			x[i] = max(1, int(math.Round(rate/sv.degree)))
		} else {
			x[i] = max(1, int(math.Round(float64(c.from(x, i).Sub(c.to(x, i)))/rate/60)))
		}
	}
	return c, x
}

// from is where ramp i begins.
func (c *cooling) from(x []int, i int) unit.Temp {
	switch {
	case i > 0:
		return c.to(x, i-1)
	case c.first > 0:
		return c.of.Segments[c.first-1].To
	}
	return c.of.From
}

// to is where ramp i leads.
func (c *cooling) to(x []int, i int) unit.Temp {
	to := c.of.Segments[c.first+i].To
	if i < c.n-1 {
		to = to.Add(unit.Delta(x[c.n+i]) * c.sv.st.Controller.SetStep())
	}
	return to
}

// rate is that of ramp i, which is fall kelvin long [K/s].
func (c *cooling) rate(x []int, i int, fall float64) float64 {
	if c.sv.degree > 0 {
		return float64(x[i]) * c.sv.degree
	}
	return fall / 60 / float64(x[i])
}

// ramp is the rate of ramp i [K/s] and how long it takes [s], infinite if it cannot be
// keyed in.
func (c *cooling) ramp(x []int, i int) (rate, seconds float64) {
	from, to := c.from(x, i), c.to(x, i)
	fall := float64(from.Sub(to))
	if x[i] < 1 || fall < float64(c.sv.st.Controller.SetStep())/2 {
		return 0, math.Inf(1)
	}
	rate = c.rate(x, i, fall)
	if rate < c.sv.slowest*(1-rounding) || rate > c.sv.fastest*(1+rounding) {
		return rate, math.Inf(1)
	}
	return rate, c.sv.st.Kiln.Ramp(from, to, unit.Rate(-rate))
}

// program is the program with other numbers.
func (c *cooling) program(x []int) program.Schedule {
	s := program.Schedule{From: c.of.From, Segments: slices.Clone(c.of.Segments)}
	for i := range c.n {
		seg := &s.Segments[c.first+i]
		seg.To = c.to(x, i)
		seg.Rate = unit.Rate(-c.rate(x, i, float64(c.from(x, i).Sub(seg.To))))
	}
	name(s.Segments)
	return s
}

// kernel is what each kelvin of a cooling adds to what is left, per rate: in each ramp a
// parabola that has its values at both ends and its mean.
type kernel struct {
	at   []float64 // where the ramps begin, and the end [K]
	edge []float64 // there
	bend []float64 // of each ramp, its mean more than that of its ends
	sum  []float64 // down to where each ramp begins, and the end
}

// Where two ramps are nearly as fast as each other, by alikeRates, where they meet tells
// nothing, and what is between their means counts. No edge is more than edgeMost times
// either mean.
const (
	alikeRates = 0.15
	edgeMost   = 3
)

// kernelOf finds it from what the rate of each ramp adds, and what it adds that each
// leads a kelvin less far.
func kernelOf(at, rate, byRate, byTo []float64) kernel {
	n := len(rate)
	k := kernel{at: at, edge: make([]float64, n+1), bend: make([]float64, n), sum: make([]float64, n+1)}
	mean := make([]float64, n)
	for i := range n {
		mean[i] = byRate[i] / (at[i] - at[i+1])
	}
	for i := range n - 1 {
		above, below := at[i]-at[i+1], at[i+1]-at[i+2]
		k.edge[i+1] = (mean[i]*below + mean[i+1]*above) / (above + below)
		if d := rate[i+1] - rate[i]; math.Abs(d) > alikeRates*rate[i] {
			most := edgeMost * math.Max(math.Abs(mean[i]), math.Abs(mean[i+1]))
			k.edge[i+1] = math.Max(-most, math.Min(byTo[i]/d, most))
		}
	}
	if k.edge[0] = 2*mean[0] - k.edge[1]; k.edge[0]*mean[0] < 0 {
		k.edge[0] = 0
	}
	for i := range n {
		k.bend[i] = mean[i] - (k.edge[i]+k.edge[i+1])/2
		k.sum[i+1] = k.sum[i] + byRate[i]
	}
	return k
}

// down is the sum from the beginning down to a temperature [K].
func (k *kernel) down(kelvin float64) float64 {
	i := 0
	for i < len(k.bend)-1 && kelvin < k.at[i+1] {
		i++
	}
	long := k.at[i] - k.at[i+1]
	u := (k.at[i] - kelvin) / long
	return k.sum[i] + long*u*(k.edge[i]+u*((k.edge[i+1]-k.edge[i])/2+k.bend[i]*(3-2*u)))
}
