package sim

// section is how stiff the whole body is against the strains it can take in
// one step. It depends on the relaxation of a viscosity curve alone, so that
// all expansions of the liquid share its factor.
//
// Displacement lives on the volume faces and every strain is its exact average
// over the volume, so that a uniform pressure is in discrete equilibrium and a
// uniform strain strains evenly. A hoop strain taken at mid-radius instead
// leaves the center of a sphere about 12 % wrong at any resolution.
//
// In a cylinder displacement is linear in a volume and equilibrium is virtual
// work. In a sphere that leaves an error of h² ln h at the center; there
// displacement is A r + B r³ and equilibrium is that of the shell between the
// places where neighbors meet their average, which is exact for the elastic
// stress of a parabola of temperature. A hollow sphere has no center, and takes
// the way of the cylinder.
type section struct {
	form    Form
	bends   bool
	k, mu   float64 // instant bulk and shear modulus [Pa]
	volume  []float64
	z       []float64 // slab: depth of each volume
	bulk    []float64 // K of the step, per volume [Pa]
	shear   []float64 // µ of the step, per volume [Pa]
	matrix  *tridiag  // cylinder and sphere
	hollow  bool      // a sphere with a cavity
	elastic bool      // what is below is that of a body that does not relax at all

	// derivatives of the averaged radial and hoop strain of a volume with the
	// displacement of its inner (i) and outer (o) face
	dri, dro, dti, dto []float64

	// slab: σ = a + m (ε + z κ), with sums of m over the section
	div, m     []float64
	m0, m1, m2 float64
	det        float64 // 0: no curvature

	// sphere: what the equation of face j takes of its volumes j and j−1 (mean
	// stress; half the stress difference), and the elimination of the outermost
	square                []float64 // mean of r² over each volume
	meanW, aboveW, belowW []float64
	surfMean, surfHalf    [2]float64 // of volumes n−1 and n, at the surface
	tail                  float64

	// cylinder: border of the axial strain, solved, and its own stiffness
	border, second []float64
	axial          float64
	axis           bool // face 0 lies on it

	other Section // that of a Shape
}

func newSection(h *heat, m Material) *section {
	nodes := h.n + 1
	s := &section{form: h.p.Body.Form, bends: h.p.Body.OneFace && !h.p.Body.Held, volume: h.volume, z: h.mid,
		mu: m.Young / (2 * (1 + m.Poisson)), k: m.Young / (3 * (1 - 2*m.Poisson))}
	buf := make([]float64, 8*(nodes+1))
	cut := func(i, n int) []float64 { return buf[i*(nodes+1) : i*(nodes+1)+n : (i+1)*(nodes+1)] }
	s.bulk, s.shear = cut(0, nodes), cut(1, nodes)
	if h.other != nil {
		s.other = h.other.Section()
		return s
	}
	if s.form == Slab {
		s.div, s.m = cut(2, nodes), cut(3, nodes)
		return s
	}
	s.dri, s.dro, s.dti, s.dto = cut(2, nodes), cut(3, nodes), cut(4, nodes), cut(5, nodes)
	s.border, s.second = cut(6, nodes+1), cut(7, nodes+1)
	s.matrix = newTridiag(nodes + 1)
	s.axis = h.face[0] == 0
	if s.hollow = s.form == Sphere && !s.axis; s.hollow {
		s.cavity(h)
		return s
	}
	if s.form == Sphere {
		s.shells(h)
		return s
	}
	for i := range s.dri {
		a, b := h.face[i], h.face[i+1]
		s.dri[i], s.dro[i] = -1/(b-a), 1/(b-a)
		s.dti[i], s.dto[i] = 1/(a+b), 1/(a+b) // ∫u dr / ∫r dr
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
	if s.other != nil {
		s.other.Stiffen(s.bulk, s.shear)
		return
	}
	switch s.form {
	case Slab:
		s.slab()
	case Cylinder:
		s.cylinder()
	case Sphere:
		if s.hollow {
			s.ball()
			return
		}
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

// shells fills the weights of a sphere. Those of the innermost volume belong
// to faces 1 and 2, the center being at rest: its B is that of its neighbor.
func (s *section) shells(h *heat) {
	n := h.n
	s.square, s.meanW, s.aboveW, s.belowW = make([]float64, n+1), make([]float64, n+1), make([]float64, n+1), make([]float64, n+1)
	for i := range s.square {
		_, s.square[i] = h.moments(i)
	}
	for i := 1; i <= n; i++ {
		a, b, q := h.face[i], h.face[i+1], s.square[i]
		inner, outer := -1/(a*(b*b-a*a)), 1/(b*(b*b-a*a)) // B by u at the faces
		s.dri[i], s.dro[i] = 1/a-inner*a*a+3*inner*q, -outer*a*a+3*outer*q
		s.dti[i], s.dto[i] = 1/a-inner*a*a+inner*q, -outer*a*a+outer*q
		if i == 1 {
			p := s.square[0]
			s.dri[0], s.dro[0] = 1/a-inner*a*a+3*inner*p, -outer*a*a+3*outer*p
			s.dti[0], s.dto[0] = 1/a-inner*a*a+inner*p, -outer*a*a+outer*p
		}
		// d(r²σ_r) = σ_θ d(r²) between volumes i−1 and i
		p := s.square[i-1]
		d := (q - p) / 2
		s.meanW[i], s.aboveW[i], s.belowW[i] = (p+q)/2, 4.0/3*q+2.0/3*d, 4.0/3*p-2.0/3*d
	}
	// and between volume n and the free surface, σ_θ carried on in r²
	q, r2 := s.square[n], h.face[n+1]*h.face[n+1]
	more := (r2 - q) / 2 / (q - s.square[n-1])
	for side, w := range [2]float64{-more, 1 + more} {
		s.surfMean[side], s.surfHalf[side] = (r2-q)*w, -2.0/3*(r2-q)*w
	}
	s.surfMean[1] += q
	s.surfHalf[1] += 4.0 / 3 * q
}

// sphere: radial equilibrium, free surface.
func (s *section) sphere() {
	t := s.matrix
	n := len(s.bulk) - 1
	// stress of volume i by its two displacements: mean and half difference
	stress := func(i int) (mi, mo, qi, qo float64) {
		dri, dro, dti, dto := s.dri[i], s.dro[i], s.dti[i], s.dto[i]
		k, mu := s.bulk[i], s.shear[i]
		return k * (dri + 2*dti), k * (dro + 2*dto), mu * (dri - dti), mu * (dro - dto)
	}
	t.diag[0], t.upper[0], t.lower[1] = 1, 0, 0 // no displacement at the center
	bi, bo, ci, co := stress(0)
	for i := 1; i <= n; i++ {
		m, x, y := s.meanW[i], s.aboveW[i], s.belowW[i]
		mi, mo, qi, qo := stress(i)
		if i == 1 { // the innermost volume hangs on faces 1 and 2
			t.diag[1] = m*(mi-bi) + x*qi - y*ci
			t.upper[1] = m*(mo-bo) + x*qo - y*co
		} else {
			t.lower[i] = -m*bi - y*ci
			t.diag[i] = m*(mi-bo) + x*qi - y*co
			t.upper[i] = m*mo + x*qo
		}
		if i == n {
			first := s.surfMean[0]*bi + s.surfHalf[0]*ci
			low := s.surfMean[0]*bo + s.surfHalf[0]*co + s.surfMean[1]*mi + s.surfHalf[1]*qi
			high := s.surfMean[1]*mo + s.surfHalf[1]*qo
			s.tail = first / t.lower[n]
			t.lower[n+1], t.diag[n+1] = low-s.tail*t.diag[n], high-s.tail*t.upper[n]
		}
		bi, bo, ci, co = mi, mo, qi, qo
	}
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

// cavity fills the weights of a hollow sphere: displacement is linear in a
// volume, its hoop strain ∫u r dr / ∫r² dr.
func (s *section) cavity(h *heat) {
	for i := range s.dri {
		a, b := h.face[i], h.face[i+1]
		v := (b*b*b - a*a*a) / 3
		s.dri[i], s.dro[i] = -1/(b-a), 1/(b-a)
		s.dto[i] = (v - a*(b*b-a*a)/2) / ((b - a) * v)
		s.dti[i] = (b*b-a*a)/(2*v) - s.dto[i]
	}
}

// ball: a hollow sphere by virtual work, both faces free.
func (s *section) ball() {
	t := s.matrix
	below := 0.0
	for i, k := range s.bulk {
		mi, mo, qi, qo := s.parts(i)
		v, mu := s.volume[i], 4.0/3*s.shear[i]
		t.diag[i] = below + v*(k*mi*mi+mu*qi*qi)
		below = v * (k*mo*mo + mu*qo*qo)
		t.upper[i] = v * (k*mi*mo + mu*qi*qo)
		t.lower[i+1] = t.upper[i]
	}
	t.diag[len(s.bulk)] = below
	t.factor()
}

// parts returns what the displacements of its two faces do to a volume of a
// hollow sphere: its volume strain, and its radial strain above its hoop strain.
func (s *section) parts(i int) (mi, mo, qi, qo float64) {
	dri, dro, dti, dto := s.dri[i], s.dro[i], s.dti[i], s.dto[i]
	return dri + 2*dti, dro + 2*dto, dri - dti, dro - dto
}
