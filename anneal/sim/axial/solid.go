package axial

import (
	"math"

	"lehr/anneal/sim"
)

// solid is the body as sim steps it: temperatures at the nodes; points of
// stress are the elements, then the nodes of the surface.
type solid struct {
	g       *grid
	element []element
	skin    []skin
	surface sim.Surface
	density float64
	k, c    func(float64) float64

	volume   []float64 // of each node, per radian [m³]
	exposed  []float64 // open surface of each node, per radian [m²]
	fixed    []bool    // follows the kiln
	kElem    []float64 // k of each element, of the last rate
	lead     []float64 // ρ c V of each node where the step begins [J/K]
	heat     *skyline
	dof      []int // r and z displacement of each node: unknown, or −1 at rest
	balances []*balance
	pull     []float64 // greatest tension of each element at the last look [Pa]

	out []Outcome
}

func newSolid(g *grid, p sim.Problem) *solid {
	s := &solid{g: g, out: make([]Outcome, len(p.Variants))}
	for i := range g.quad {
		s.element = append(s.element, newElement(g, i))
	}
	s.skin = newSkin(g)
	for i := range s.out {
		s.out[i].SurfaceBySpan = make([]float64, len(p.Kiln.Kinks))
	}
	return s
}

func (s *solid) Prepare(p *sim.Problem, k, c func(float64) float64) (start []float64, points, components int, slowest float64) {
	s.surface, s.density, s.k, s.c = p.Surface, p.Material.Density, k, c
	nodes := len(s.g.node)
	s.volume, s.exposed, s.lead = make([]float64, nodes), make([]float64, nodes), make([]float64, nodes)
	s.fixed, s.kElem = make([]bool, nodes), make([]float64, len(s.element))
	for i := range s.element {
		e := &s.element[i]
		for a, n := range e.node {
			s.volume[n] += e.quarter[a]
		}
	}
	for _, e := range s.g.edges {
		if e.kind != open {
			continue
		}
		a, b := s.g.node[e.a], s.g.node[e.b]
		s.exposed[e.a] += e.mid.minus(a).length() * (a.R + e.mid.R) / 2
		s.exposed[e.b] += e.mid.minus(b).length() * (b.R + e.mid.R) / 2
		if s.surface.Follows {
			s.fixed[e.a], s.fixed[e.b] = true, true
		}
	}
	first := make([]int, nodes)
	for i := range first {
		first[i] = i
	}
	for _, q := range s.g.quad {
		low := min(q[0], q[1], q[2], q[3])
		for _, n := range q {
			first[n] = min(first[n], low)
		}
	}
	s.heat = newSkyline(first)
	s.number()
	depth := s.depths()
	deepest := 0.0
	for _, d := range depth {
		deepest = math.Max(deepest, d)
	}
	start = make([]float64, nodes)
	for i := range start {
		start[i] = p.Start(1 - depth[i]/deepest)
		if s.fixed[i] {
			start[i] = p.Kiln.At(0)
		}
	}
	return start, len(s.element) + len(s.skin), 3, deepest * deepest * s.density * c(start[0]) / k(start[0])
}

// depths returns how far each node is from the nearest open surface [m].
func (s *solid) depths() []float64 {
	out := make([]float64, len(s.g.node))
	for i, p := range s.g.node {
		out[i] = math.Inf(1)
		for _, e := range s.g.edges {
			if e.kind != open {
				continue
			}
			a, b := s.g.node[e.a], s.g.node[e.b]
			u := b.minus(a)
			w := math.Max(0, math.Min(1, p.minus(a).dot(u)/u.dot(u)))
			out[i] = math.Min(out[i], p.minus(a.toward(b, w)).length())
		}
	}
	return out
}

// number gives each displacement that is not at rest its place: on the axis
// nothing moves in r, on a plane of symmetry nothing in z; without one, the
// first node does not move in z. It is the center of a polar mesh.
func (s *solid) number() {
	nodes := len(s.g.node)
	s.dof = make([]int, 2*nodes)
	for i, p := range s.g.node {
		if s.onAxis(p) {
			s.dof[2*i] = -1
		}
	}
	for _, i := range s.g.mirror {
		s.dof[2*i+1] = -1
	}
	if len(s.g.mirror) == 0 {
		s.dof[1] = -1
	}
	next := 0
	for d := range s.dof {
		if s.dof[d] == 0 {
			s.dof[d] = next
			next++
		}
	}
}

func (s *solid) onAxis(p Point) bool { return p.R == 0 }

func (s *solid) Rate(temp, out []float64, kiln, kilnRate float64) {
	for i, t := range temp {
		out[i] = 0
		if s.exposed[i] > 0 && !s.surface.Follows {
			q, _ := s.surface.Flux(kiln, t)
			out[i] = q * s.exposed[i]
		}
	}
	for i := range s.element {
		e := &s.element[i]
		a, b, c, d := temp[e.node[0]], temp[e.node[1]], temp[e.node[2]], temp[e.node[3]]
		k := s.k(e.share[0]*a + e.share[1]*b + e.share[2]*c + e.share[3]*d)
		s.kElem[i] = k
		for j, n := range e.node {
			f := &e.flow[j]
			out[n] -= k * (f[0]*a + f[1]*b + f[2]*c + f[3]*d)
		}
	}
	for i, t := range temp {
		out[i] /= s.density * s.c(t) * s.volume[i]
		if s.fixed[i] {
			out[i] = kilnRate
		}
	}
}

func (s *solid) Factor(temp []float64, g, kiln, kilnRate float64, slope []float64) {
	s.Rate(temp, slope, kiln, kilnRate)
	clear(s.heat.value)
	for i := range s.element {
		e := &s.element[i]
		k := g * s.kElem[i]
		for a, n := range e.node {
			for b := 0; b < 4; b++ {
				if m := e.node[b]; m < n || m == n && b <= a {
					x := k * e.flow[a][b]
					if m == n && b < a { // a corner named twice
						x *= 2
					}
					s.heat.add(n, m, x)
				}
			}
		}
	}
	byKiln := s.surface.HeatTransfer + 4*s.surface.Emissivity*sim.StefanBoltzmann*kiln*kiln*kiln
	for i, t := range temp {
		slope[i] = 0
		s.lead[i] = s.density * s.c(t) * s.volume[i]
		switch {
		case s.fixed[i]: // of endless heat capacity
			s.lead[i] *= 1e14
		case s.exposed[i] > 0:
			_, dq := s.surface.Flux(kiln, t)
			s.heat.add(i, i, -g*dq*s.exposed[i])
			slope[i] = g * byKiln * kilnRate * s.exposed[i] / s.lead[i]
		}
		s.heat.add(i, i, s.lead[i])
	}
	s.heat.factor()
}

func (s *solid) Solve(b []float64) {
	for i := range b {
		b[i] *= s.lead[i]
	}
	s.heat.solve(b)
}

func (s *solid) Points(temp []float64, _ float64, out []float64) {
	for i := range s.element {
		e := &s.element[i]
		out[i] = e.share[0]*temp[e.node[0]] + e.share[1]*temp[e.node[1]] + e.share[2]*temp[e.node[2]] + e.share[3]*temp[e.node[3]]
	}
	for i, k := range s.skin {
		out[len(s.element)+i] = temp[k.node]
	}
}
