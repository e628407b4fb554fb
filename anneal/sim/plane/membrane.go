package plane

import "lehr/anneal/sim"

// membrane is plane stress in the disc: displacement at the outer cell faces,
// linear between, the center at rest and the rim free; one strain per cell.
type membrane struct {
	d                     *disc
	bulk, shear           []float64 // of the step [Pa], cells and edges
	a, b                  []float64 // K + 4G/3 and K − 2G/3, cells
	same, cross           []float64 // plane stress by strain of the same and of the other direction
	lower, diag, upper, u []float64
}

// strains returns how the strains of cell i follow from the displacement of its
// inner and outer face.
func (m *membrane) strains(i int) (ri, ro, t float64) {
	return -1 / m.d.dr, 1 / m.d.dr, 0.5 / m.d.mid[i]
}

func (m *membrane) Stiffen(bulk, shear []float64) {
	m.bulk, m.shear = bulk, shear
	d := m.d
	for i := range m.diag {
		m.diag[i], m.lower[i], m.upper[i] = 0, 0, 0
	}
	for i := range d.n {
		k, g := bulk[i], shear[i]
		a, b := k+4.0/3*g, k-2.0/3*g
		c1, c2 := a-b*b/a, b-b*b/a
		m.a[i], m.b[i], m.same[i], m.cross[i] = a, b, c1, c2
		ri, ro, t := m.strains(i)
		w := d.weight[i]
		// unknown i is the displacement of the outer face of cell i
		m.diag[i] += w * (c1*(ro*ro+t*t) + 2*c2*ro*t)
		if i > 0 {
			m.diag[i-1] += w * (c1*(ri*ri+t*t) + 2*c2*ri*t)
			x := w * (c1*(ri*ro+t*t) + c2*(ri*t+ro*t))
			m.upper[i-1] += x
			m.lower[i] += x
		}
	}
	eliminate(m.lower, m.diag, m.upper)
}

func (m *membrane) Balance(p *sim.Points) {
	d, u := m.d, m.u
	clear(u)
	for i := range d.n {
		start := p.BeforeMean[i] - 3*m.bulk[i]*p.Thermal[i]
		sr, st := p.BeforeShear[2*i], p.BeforeShear[2*i+1]
		z := start - sr - st
		base := start - m.b[i]*z/m.a[i]
		ri, ro, t := m.strains(i)
		w := d.weight[i]
		u[i] -= w * ((base+sr)*ro + (base+st)*t)
		if i > 0 {
			u[i-1] -= w * ((base+sr)*ri + (base+st)*t)
		}
	}
	substitute(m.lower, m.diag, m.upper, u)
	for i := range d.n {
		ri, ro, t := m.strains(i)
		in := 0.0
		if i > 0 {
			in = u[i-1]
		}
		er, et := ri*in+ro*u[i], t*(in+u[i])
		z := p.BeforeMean[i] - 3*m.bulk[i]*p.Thermal[i] - p.BeforeShear[2*i] - p.BeforeShear[2*i+1]
		ez := -(z + m.b[i]*(er+et)) / m.a[i]
		book(p, i, er, et, ez)
	}
	rim := u[d.n-1] / (d.o.Diameter / 2)
	if !d.o.OnShelf {
		m.edge(p, d.n, rim)
		return
	}
	// Bending stretches the edge of the face as much as it shortens the base's:
	// by half of what the two want to differ by, structure included.
	bend := 0.5 * (p.Thermal[d.n+2] - p.Thermal[d.n+3])
	m.edge(p, d.n, rim+bend)
	m.edge(p, d.n+1, rim-bend)
}

// edge strains an edge point along the rim; across it nothing holds it.
func (m *membrane) edge(p *sim.Points, i int, hoop float64) {
	k, g := m.bulk[i], m.shear[i]
	a, b := k+4.0/3*g, k-2.0/3*g
	across := -(p.BeforeMean[i] - 3*k*p.Thermal[i] + p.BeforeShear[2*i] + b*hoop) / (a + b)
	book(p, i, across, hoop, across)
}

func book(p *sim.Points, i int, er, et, ez float64) {
	vol := er + et + ez
	p.Shear(i, 0, er-vol/3)
	p.Shear(i, 1, et-vol/3)
	p.Volume(i, vol)
}

// eliminate turns a tridiagonal matrix, diagonally dominant or symmetric
// positive definite, into its factors in place; substitute overwrites b with
// the solution.
func eliminate(lower, diag, upper []float64) {
	diag[0] = 1 / diag[0]
	for i := 1; i < len(diag); i++ {
		lower[i] *= diag[i-1]
		diag[i] = 1 / (diag[i] - lower[i]*upper[i-1])
	}
}

func substitute(lower, diag, upper, b []float64) {
	n := len(diag)
	for i := 1; i < n; i++ {
		b[i] -= lower[i] * b[i-1]
	}
	b[n-1] *= diag[n-1]
	for i := n - 2; i >= 0; i-- {
		b[i] = (b[i] - upper[i]*b[i+1]) * diag[i]
	}
}
