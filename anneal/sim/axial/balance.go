package axial

import "lehr/anneal/sim"

// balance is the equilibrium of a solid along one viscosity curve.
type balance struct {
	s           *solid
	bulk, shear []float64
	matrix      *skyline
	load        []float64
	u           []float64 // displacement of the step, r and z of each node [m]
	broken      bool      // the matrix was not positive definite
}

func (s *solid) Section() sim.Section {
	size := 0
	for _, d := range s.dof {
		size = max(size, d+1)
	}
	first := make([]int, size)
	for i := range first {
		first[i] = i
	}
	reach := func(nodes ...int) {
		low := size
		for pass := range 2 {
			for _, n := range nodes {
				for _, d := range s.dof[2*n : 2*n+2] {
					switch {
					case d < 0:
					case pass == 0:
						low = min(low, d)
					default:
						first[d] = min(first[d], low)
					}
				}
			}
		}
	}
	for _, q := range s.g.quad {
		reach(q[:]...)
	}
	b := &balance{s: s, matrix: newSkyline(first), load: make([]float64, size), u: make([]float64, 2*len(s.g.node))}
	s.balances = append(s.balances, b)
	return b
}

// dofs returns the unknowns of an element.
func (s *solid) dofs(e *element) (d [8]int) {
	for c, n := range e.node {
		d[2*c], d[2*c+1] = s.dof[2*n], s.dof[2*n+1]
	}
	return d
}

func (b *balance) Stiffen(bulk, shear []float64) {
	b.bulk, b.shear = bulk, shear
	m := b.matrix
	clear(m.value)
	for i := range b.s.element {
		e := &b.s.element[i]
		d := b.s.dofs(e)
		k, g := bulk[i], shear[i]
		l := 0
		for r := range 8 {
			for c := 0; c <= r; c++ {
				x := k*e.bulk[l] + g*e.shear[l]
				l++
				if d[r] < 0 || d[c] < 0 {
					continue
				}
				if r != c && d[r] == d[c] { // a corner named twice
					x *= 2
				}
				m.add(d[r], d[c], x)
			}
		}
	}
	if !m.factor() {
		b.broken = true
	}
}

func (b *balance) Balance(p *sim.Points) {
	s := b.s
	clear(b.load)
	for i := range s.element {
		e := &s.element[i]
		start := p.BeforeMean[i] - 3*b.bulk[i]*p.Thermal[i]
		r, z, rz := p.BeforeShear[3*i], p.BeforeShear[3*i+1], p.BeforeShear[3*i+2]
		v := e.volume
		sr, sz, st, srz := v*(start+r), v*(start+z), v*(start-r-z), v*rz
		for c, n := range e.node {
			if d := s.dof[2*n]; d >= 0 {
				b.load[d] -= sr*e.rr[c] + st*e.hoop[c] + srz*e.zz[c]
			}
			if d := s.dof[2*n+1]; d >= 0 {
				b.load[d] -= sz*e.zz[c] + srz*e.rr[c]
			}
		}
	}
	b.matrix.solve(b.load)
	for i, d := range s.dof {
		b.u[i] = 0
		if d >= 0 {
			b.u[i] = b.load[d]
		}
	}
	for i := range s.element {
		e := &s.element[i]
		var er, ez, et, g float64
		for c, n := range e.node {
			ur, uz := b.u[2*n], b.u[2*n+1]
			er += e.rr[c] * ur
			et += e.hoop[c] * ur
			ez += e.zz[c] * uz
			g += e.zz[c]*ur + e.rr[c]*uz
		}
		vol := er + ez + et
		p.Shear(i, 0, er-vol/3)
		p.Shear(i, 1, ez-vol/3)
		p.Shear(i, 2, g/2)
		p.Volume(i, vol)
	}
	n := len(s.element)
	for j := range s.skin {
		s.skin[j].book(p, n+j, b.bulk[n+j], b.shear[n+j], b.u)
	}
}
