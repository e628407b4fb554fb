package sim

// section is how stiff the whole body is against the strains it can take in
// one step. It depends on the relaxation of a viscosity curve alone, so that
// all expansions of the liquid share its factor.
//
// Displacement lives on the volume faces, linear between them, and every
// strain is its exact average over the volume. A uniform pressure is then in
// discrete equilibrium and a uniform strain strains evenly; a hoop strain
// taken at mid-radius instead leaves the center of a sphere about 12 % wrong
// at any resolution.
type section struct {
	form    Form
	bends   bool
	k, mu   float64 // instant bulk and shear modulus [Pa]
	volume  []float64
	z       []float64 // slab: depth of each volume
	bulk    []float64 // K of the step, per volume [Pa]
	shear   []float64 // µ of the step, per volume [Pa]
	matrix  *tridiag  // cylinder and sphere
	elastic bool      // what is below is that of a body that does not relax at all

	// derivatives of the averaged radial and hoop strain of a volume with the
	// displacement of its inner (i) and outer (o) face
	dri, dro, dti, dto []float64

	// slab: σ = a + m (ε + z κ), with sums of m over the section
	div, m     []float64
	m0, m1, m2 float64
	det        float64 // 0: no curvature

	// cylinder: border of the axial strain, solved, and its own stiffness
	border, second []float64
	axial          float64
	axis           bool // face 0 lies on it
}

func newSection(h *heat, m Material) *section {
	nodes := h.n + 1
	s := &section{form: h.p.Body.Form, bends: h.p.Body.OneFace && !h.p.Body.Held, volume: h.volume, z: h.mid,
		mu: m.Young / (2 * (1 + m.Poisson)), k: m.Young / (3 * (1 - 2*m.Poisson))}
	buf := make([]float64, 8*(nodes+1))
	cut := func(i, n int) []float64 { return buf[i*(nodes+1) : i*(nodes+1)+n : (i+1)*(nodes+1)] }
	s.bulk, s.shear = cut(0, nodes), cut(1, nodes)
	if s.form == Slab {
		s.div, s.m = cut(2, nodes), cut(3, nodes)
		return s
	}
	s.dri, s.dro, s.dti, s.dto = cut(2, nodes), cut(3, nodes), cut(4, nodes), cut(5, nodes)
	s.border, s.second = cut(6, nodes+1), cut(7, nodes+1)
	s.matrix = newTridiag(nodes + 1)
	s.axis = h.face[0] == 0
	for i := range s.dri {
		a, b := h.face[i], h.face[i+1]
		w := b - a
		s.dri[i], s.dro[i] = -1/w, 1/w
		if s.form == Cylinder {
			s.dti[i], s.dto[i] = 1/(a+b), 1/(a+b) // ∫u dr / ∫r dr
			continue
		}
		// ∫u r dr / ∫r² dr
		v, c2, c3 := h.volume[i], (b*b-a*a)/2, (b*b*b-a*a*a)/3
		s.dti[i], s.dto[i] = (b*c2-c3)/(w*v), (c3-a*c2)/(w*v)
	}
	return s
}

// update takes the stiffness of the trial step of g.
func (s *section) update(g *glassState) {
	if g.frozen && s.elastic {
		return
	}
	s.elastic = g.frozen
	for i, x := range g.stiff {
		s.shear[i] = s.mu * x
	}
	for i, x := range g.bulkStf {
		s.bulk[i] = s.k * x
	}
	switch s.form {
	case Slab:
		s.slab()
	case Cylinder:
		s.cylinder()
	case Sphere:
		s.sphere()
	}
}

// slab: every layer has the same in-plane strain, plus a curvature when the
// slab is free to bend; no stress across.
func (s *section) slab() {
	s.m0, s.m1, s.m2 = 0, 0, 0
	for i, k := range s.bulk {
		mu := s.shear[i]
		s.div[i] = 1 / (k + 4.0/3*mu)
		s.m[i] = 6 * mu * k * s.div[i]
		w, z := s.volume[i]*s.m[i], s.z[i]
		s.m0 += w
		s.m1 += w * z
		s.m2 += w * z * z
	}
	s.det = 0
	if det := s.m0*s.m2 - s.m1*s.m1; s.bends && det > 1e-12*s.m0*s.m2 {
		s.det = det
	}
}

// sphere: radial equilibrium, free surface, by the principle of virtual work.
func (s *section) sphere() {
	t := s.matrix
	below := 0.0 // what the volume beneath gives the diagonal
	for i, k := range s.bulk {
		dri, dro, dti, dto := s.dri[i], s.dro[i], s.dti[i], s.dto[i]
		pi, po, qi, qo := dri+2*dti, dro+2*dto, dri-dti, dro-dto
		k, mu := k*s.volume[i], s.shear[i]*s.volume[i]*(4.0/3)
		t.diag[i] = below + k*pi*pi + mu*qi*qi
		below = k*po*po + mu*qo*qo
		x := k*pi*po + mu*qi*qo
		t.upper[i], t.lower[i+1] = x, x
	}
	t.diag[len(s.bulk)] = below
	t.diag[0], t.upper[0], t.lower[1] = 1, 0, 0 // no displacement at the center
	t.factor()
}

// cylinder: generalized plane strain, free surfaces, no axial resultant. The
// common axial strain is a border of the radial system.
func (s *section) cylinder() {
	t := s.matrix
	below, belowBorder, axial := 0.0, 0.0, 0.0
	for i, k := range s.bulk {
		dri, dro, dti, dto := s.dri[i], s.dro[i], s.dti[i], s.dto[i]
		v, mu := s.volume[i], s.shear[i]
		same, cross := v*(k+4.0/3*mu), v*(k-2.0/3*mu)
		t.diag[i] = below + same*(dri*dri+dti*dti) + 2*cross*dri*dti
		below = same*(dro*dro+dto*dto) + 2*cross*dro*dto
		x := same*(dri*dro+dti*dto) + cross*(dri*dto+dti*dro)
		t.upper[i], t.lower[i+1] = x, x
		s.border[i] = belowBorder + cross*(dri+dti)
		belowBorder = cross * (dro + dto)
		axial += same
	}
	n := len(s.bulk)
	t.diag[n], s.border[n] = below, belowBorder
	if s.axis { // which does not move
		t.diag[0], t.upper[0], t.lower[1], s.border[0] = 1, 0, 0, 0
	}
	t.factor()
	copy(s.second, s.border)
	t.solve(s.second)
	for i, b := range s.border {
		axial -= b * s.second[i]
	}
	s.axial = axial
}
