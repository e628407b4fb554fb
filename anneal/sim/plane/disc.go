package plane

import (
	"math"

	"lehr/anneal/sim"
)

// disc is the plane as sim steps it: n cells of equal width in radius, the
// center first; the points of stress are the cells, then the edge at the free
// face. On a shelf there follow the edge at the base, and the face and the base
// of the whole, whose strains without stress bend it.
type disc struct {
	o       Outline
	n       int
	surface sim.Surface
	density float64
	k, c    func(float64) float64

	dr      float64
	mid     []float64 // radius of each cell [m]
	weight  []float64 // r Δr d of each cell: its volume per radian [m³]
	faces   []float64 // area of its free faces per radian [m²]
	reach   []float64 // L: distance from the free face to where no heat flows [m]
	between []float64 // r d at the n−1 inner cell faces over Δr [m]
	rim     float64   // area of the rim per radian [m²]
	rimHigh float64   // height of the rim [m]

	skin  []float64 // surface temperature of each cell's face [K], and of the rim: n+1
	cond  []float64 // of the last rate [W/K], n−1
	lead  []float64 // 1/(ρ c V), of the last rate
	drop  []float64 // −∂/∂T of the heat taken up through faces and rim [W/K], of the last rate
	pull  []float64 // ∂/∂kiln of the same
	lower []float64
	diag  []float64
	upper []float64
	out   []Outcome
}

func newDisc(o Outline, n int, p sim.Problem) *disc {
	d := &disc{o: o, n: n, out: make([]Outcome, len(p.Variants))}
	for i := range d.out {
		d.out[i].InsideBySpan, d.out[i].insideTime = make([]float64, len(p.Kiln.Kinks)), make([]float64, len(p.Kiln.Kinks))
	}
	return d
}

func (d *disc) Prepare(p *sim.Problem, k, c func(float64) float64) (start []float64, points, components int, slowest float64) {
	n, o := d.n, d.o
	d.surface, d.density, d.k, d.c = p.Surface, p.Material.Density, k, c
	buf := make([]float64, 13*(n+1))
	cut := func(i, size int) []float64 { return buf[i*(n+1) : i*(n+1)+size : (i+1)*(n+1)] }
	d.mid, d.weight, d.faces, d.reach, d.between = cut(0, n), cut(1, n), cut(2, n), cut(3, n), cut(4, n-1)
	d.skin, d.cond, d.lead, d.drop, d.pull = cut(5, n+1), cut(6, n-1), cut(7, n), cut(8, n), cut(9, n)
	d.lower, d.diag, d.upper = cut(10, n), cut(11, n), cut(12, n)
	radius := o.Diameter / 2
	d.dr = radius / float64(n)
	free, share := 2.0, 0.5
	if o.OnShelf {
		free, share = 1, 1
	}
	start = make([]float64, n)
	for i := range n {
		d.mid[i] = (float64(i) + 0.5) * d.dr
		thick, slant := o.at(d.mid[i])
		plan := d.mid[i] * d.dr
		d.weight[i], d.faces[i], d.reach[i] = plan*thick, free*slant*plan, share*thick
		if i > 0 {
			r := float64(i) * d.dr
			thick, _ = o.at(r)
			d.between[i-1] = r * thick / d.dr
		}
		// mean over the depth of an even start, by Simpson's rule
		start[i] = (p.Start(0) + 4*p.Start(0.5) + p.Start(1)) / 6
		d.skin[i] = start[i]
	}
	d.skin[n] = start[n-1]
	d.rimHigh, _ = o.at(radius)
	d.rim = radius * d.rimHigh
	points = n + 1
	if o.OnShelf {
		points = n + 4
	}
	half := math.Min(radius, o.Thickness)
	return start, points, 2, half * half * d.density * c(start[0]) / k(start[0])
}

// skinOf finds the surface temperature s behind a conductance [W/m²K] from the
// temperature within, and returns the flux into the glass and the share of a
// change within, and of one of the kiln, that it changes by [W/m²K].
func (d *disc) skinOf(within, kiln, conductance float64, s *float64) (flux, drop, pull float64) {
	if d.surface.Follows {
		*s = kiln
		return conductance * (kiln - within), conductance, conductance
	}
	t := *s
	var slope float64
	for range 20 {
		q, dq := d.surface.Flux(kiln, t)
		slope = -dq
		move := (conductance*(within-t) + q) / (conductance + slope)
		t += move
		if math.Abs(move) < 1e-7*t {
			break
		}
	}
	*s = t
	byKiln := d.surface.HeatTransfer + 4*d.surface.Emissivity*sim.StefanBoltzmann*kiln*kiln*kiln
	x := conductance / (conductance + slope)
	return conductance * (t - within), slope * x, byKiln * x
}

func (d *disc) Rate(temp, out []float64, kiln, _ float64) {
	n := d.n
	flow := 0.0
	for i, t := range temp {
		k := d.k(t)
		q, drop, pull := d.skinOf(t, kiln, 3*k/d.reach[i], &d.skin[i])
		in := q * d.faces[i]
		d.drop[i], d.pull[i] = drop*d.faces[i], pull*d.faces[i]
		d.lead[i] = 1 / (d.density * d.c(t) * d.weight[i])
		if i < n-1 {
			d.cond[i] = d.k(0.5*(t+temp[i+1])) * d.between[i]
			up := d.cond[i] * (temp[i+1] - t)
			out[i] = (flow + up + in) * d.lead[i]
			flow = -up
			continue
		}
		q, drop, pull = d.skinOf(t, kiln, 2*k/d.dr, &d.skin[n])
		d.drop[i] += drop * d.rim
		d.pull[i] += pull * d.rim
		out[i] = (flow + in + q*d.rim) * d.lead[i]
	}
}

func (d *disc) Factor(temp []float64, g, kiln, kilnRate float64, slope []float64) {
	n := d.n
	d.Rate(temp, slope, kiln, kilnRate) // for its conductances
	for i := range temp {
		w := g * d.lead[i]
		slope[i] = w * d.pull[i] * kilnRate
		d.diag[i] = 1 + w*d.drop[i]
		if i > 0 {
			d.lower[i] = -w * d.cond[i-1]
			d.diag[i] -= d.lower[i]
		}
		if i < n-1 {
			d.upper[i] = -w * d.cond[i]
			d.diag[i] -= d.upper[i]
		}
	}
	eliminate(d.lower, d.diag, d.upper)
}

func (d *disc) Solve(b []float64) { substitute(d.lower, d.diag, d.upper, b) }

// slope returns the mean temperature of the whole and the mean slope of
// temperature through its thickness, from face to base [K/m], as it bends it: by
// r d³. A piece cooled from one face bends freely.
func (d *disc) slope(temp []float64, kiln float64) (mean, slope float64) {
	var load, all, volume float64
	for i, t := range temp {
		k := d.k(t)
		q, _, _ := d.skinOf(t, kiln, 3*k/d.reach[i], &d.skin[i])
		w := d.weight[i] * d.reach[i] * d.reach[i]
		load -= q / (2 * k) * w
		all += w
		mean += t * d.weight[i]
		volume += d.weight[i]
	}
	return mean / volume, load / all
}

func (d *disc) Points(temp []float64, kiln float64, out []float64) {
	n := d.n
	copy(out, temp)
	t := temp[n-1]
	k := d.k(t)
	d.skinOf(t, kiln, 2*k/d.dr, &d.skin[n])
	edge := d.skin[n] // the mean over the rim
	out[n] = edge
	if d.o.OnShelf {
		out[n+1] = edge
		mean, slope := d.slope(temp, kiln)
		out[n+2], out[n+3] = mean-2.0/3*slope*d.rimHigh, mean+1.0/3*slope*d.rimHigh
	}
	if d.o.round() {
		return
	}
	kEdge := d.k(edge)
	s := edge
	share := 0.5
	if d.o.OnShelf {
		share = 1
	}
	q, _, _ := d.skinOf(edge, kiln, 3*kEdge/(share*d.rimHigh), &s)
	lost := -q * d.rimHigh / kEdge
	if d.o.OnShelf {
		out[n] = edge - lost/3
		out[n+1] = edge + lost/6
	} else {
		out[n] = edge - lost/6
	}
}

func (d *disc) Section() sim.Section {
	n := d.n
	m := &membrane{d: d}
	buf := make([]float64, 8*(n+1))
	cut := func(i, size int) []float64 { return buf[i*(n+1) : i*(n+1)+size : (i+1)*(n+1)] }
	m.a, m.b, m.same, m.cross = cut(0, n), cut(1, n), cut(2, n), cut(3, n)
	m.lower, m.diag, m.upper, m.u = cut(4, n), cut(5, n), cut(6, n), cut(7, n)
	return m
}

func (d *disc) Look(v sim.Look) (tension, place float64) {
	n, s := d.n, v.Stress
	o := &d.out[v.Variant]
	if v.AtRoom {
		o.Radius = d.mid
		o.Radial, o.Hoop = make([]float64, n), make([]float64, n)
	}
	for i := range n {
		radial := s.Mean[i] + s.Deviator[2*i]
		if radial > o.InsideBySpan[v.Span] {
			o.InsideBySpan[v.Span], o.insideTime[v.Span] = radial, v.Time
		}
		if v.AtRoom {
			o.Radial[i], o.Hoop[i] = radial, s.Mean[i]+s.Deviator[2*i+1]
			o.Residual = math.Max(o.Residual, math.Max(o.Radial[i], o.Hoop[i]))
		}
	}
	tension = s.Mean[n] + s.Deviator[2*n+1]
	if d.o.OnShelf {
		if base := s.Mean[n+1] + s.Deviator[2*n+3]; base > tension {
			return base, float64(RimBase)
		}
	}
	return tension, float64(RimFace)
}
