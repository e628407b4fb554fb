package sim

import "math"

// field is the stress of one variant in the volumes around the nodes of heat.
//
// Displacement lives on the volume faces, linear between them, and every
// strain is its exact average over the volume. A uniform pressure is then in
// discrete equilibrium and a uniform strain strains evenly; a hoop strain
// taken at mid-radius instead leaves the center of a sphere about 12 % wrong
// at any resolution.
type field struct {
	v       Variant
	g       *glassState
	form    Form
	bends   bool
	k, mu   float64   // bulk and shear modulus [Pa]
	alpha   float64   // expansion of the glass [1/K]
	dev     []float64 // deviatoric parts by term: node-major, comps values per term
	bulkPt  []float64 // relaxing bulk parts, node-major
	bulkInf []float64 // part of the mean stress that does not relax
	devSum  []float64 // Σ over terms, node-major, comps
	mean    []float64 // mean stress [Pa]
	frozen  []float64 // strain waiting to be spread over the terms of a node that does not relax
	comps   int       // 1: S = σ_radial − σ_plane; 2 (cylinder): deviators along r and θ
	radial  []float64
	plane   []float64
	axial   []float64

	hS, hM, eth  []float64 // history parts and thermal strain of the trial step
	du           []float64
	matrix       *tridiag
	second       []float64
	border       []float64
	outer, inner [3]float64                        // weights that carry the last, first three volumes to the face
	facing       [2]struct{ plane, axial float64 } // stress at the inner and outer face [Pa]
	elastic      bool                              // matrix holds the factor of the wholly frozen body
}

func newField(h *heat, g *glassState, v Variant, m Material) *field {
	nodes := h.n + 1
	f := &field{v: v, g: g, form: h.p.Body.Form, bends: h.p.Body.OneFace,
		mu: g.shearMod, k: m.Young / (3 * (1 - 2*m.Poisson)), alpha: m.Expansion, comps: 1}
	if f.form == Cylinder {
		f.comps = 2
	}
	ns, nb := len(g.shear), len(g.bulk)
	buf := make([]float64, nodes*(ns*f.comps+nb+1+f.comps+1+f.comps+3+f.comps+2)+3*(nodes+1))
	cut := func(n int) []float64 { s := buf[:n:n]; buf = buf[n:]; return s }
	f.dev, f.bulkPt, f.bulkInf = cut(nodes*ns*f.comps), cut(nodes*nb), cut(nodes)
	f.devSum, f.mean, f.frozen = cut(nodes*f.comps), cut(nodes), cut(nodes*f.comps)
	f.radial, f.plane, f.axial = cut(nodes), cut(nodes), cut(nodes)
	f.hS, f.hM, f.eth = cut(nodes*f.comps), cut(nodes), cut(nodes)
	f.du, f.second, f.border = cut(nodes+1), cut(nodes+1), cut(nodes+1)
	n := h.n
	f.outer = extrapolate(h.face[n+1], h.mid[n], h.mid[n-1], h.mid[n-2])
	f.inner = [3]float64{1, 0, 0}
	if f.bends || h.p.Body.Inner > 0 { // elsewhere the innermost point is one of symmetry
		f.inner = extrapolate(h.face[0], h.mid[0], h.mid[1], h.mid[2])
	}
	if f.form != Slab {
		f.matrix = newTridiag(nodes + 1)
	}
	return f
}

// advance moves the stress over the step that glassState has just taken, from
// volume temperatures h.was to h.mean and fictive temperatures tfOld to tfNew.
func (f *field) advance(h *heat, tfOld, tfNew []float64) {
	old, now := h.was, h.mean
	g := f.g
	ns, nb, c := len(g.shear), len(g.bulk), f.comps
	structural := 0.0
	if g.structured {
		structural = f.v.ExpansionLiquid - f.alpha
	}
	allFrozen := true
	for i := range now {
		f.eth[i] = f.alpha*(now[i]-old[i]) + structural*(tfNew[i]-tfOld[i])
		if !g.moved[i] {
			copy(f.hS[i*c:i*c+c], f.devSum[i*c:i*c+c])
			f.hM[i] = f.mean[i]
			continue
		}
		allFrozen = false
		f.thaw(i)
		for d := 0; d < c; d++ {
			sum := 0.0
			for j := 0; j < ns; j++ {
				s := f.dev[(i*ns+j)*c+d] * g.decay[i*ns+j]
				f.dev[(i*ns+j)*c+d] = s
				sum += s
			}
			f.hS[i*c+d] = sum
		}
		f.hM[i] = f.mean[i]
		if nb > 0 {
			sum := f.bulkInf[i]
			for j := 0; j < nb; j++ {
				f.bulkPt[i*nb+j] *= g.bulkDec[i*nb+j]
				sum += f.bulkPt[i*nb+j]
			}
			f.hM[i] = sum
		}
	}
	switch f.form {
	case Slab:
		f.slab(h)
	case Sphere:
		f.sphere(h, allFrozen)
	case Cylinder:
		f.cylinder(h, allFrozen)
	}
	f.faces()
}

// extrapolate returns the weights of the values at a, b, c in the parabola
// through them at x.
func extrapolate(x, a, b, c float64) [3]float64 {
	return [3]float64{
		(x - b) * (x - c) / ((a - b) * (a - c)),
		(x - a) * (x - c) / ((b - a) * (b - c)),
		(x - a) * (x - b) / ((c - a) * (c - b)),
	}
}

// faces carries the stress of the volumes to the two faces.
func (f *field) faces() {
	n := len(f.plane) - 1
	for side, w := range [2][3]float64{f.inner, f.outer} {
		i, j, k := 0, 1, 2
		if side == 1 {
			i, j, k = n, n-1, n-2
		}
		f.facing[side].plane = w[0]*f.plane[i] + w[1]*f.plane[j] + w[2]*f.plane[k]
		f.facing[side].axial = w[0]*f.axial[i] + w[1]*f.axial[j] + w[2]*f.axial[k]
	}
}

// thaw spreads the strain a node took while it did not relax over its terms.
func (f *field) thaw(i int) {
	ns, c := len(f.g.shear), f.comps
	for d := 0; d < c; d++ {
		if e := f.frozen[i*c+d]; e != 0 {
			for j, term := range f.g.shear {
				f.dev[(i*ns+j)*c+d] += 2 * f.mu * term.Weight * e
			}
			f.frozen[i*c+d] = 0
		}
	}
}

// strain books the strain increment of node i: dev by component (difference
// for one component, deviator for two) and the volume strain less its thermal
// part.
func (f *field) strain(i int, vol float64, dev ...float64) {
	g := f.g
	ns, nb, c := len(g.shear), len(g.bulk), f.comps
	for d, e := range dev {
		if !g.moved[i] {
			f.frozen[i*c+d] += e
			f.devSum[i*c+d] += 2 * f.mu * e
			continue
		}
		for j := 0; j < ns; j++ {
			f.dev[(i*ns+j)*c+d] += 2 * f.mu * g.part[i*ns+j] * e
		}
		f.devSum[i*c+d] = f.hS[i*c+d] + 2*f.mu*g.stiff[i]*e
	}
	vol -= 3 * f.eth[i]
	f.mean[i] = f.hM[i] + f.k*g.bulkStf[i]*vol
	if nb > 0 {
		f.bulkInf[i] += f.k * g.bulkLong * vol
		for j := 0; j < nb; j++ {
			p := g.bulkPart[i*nb+j]
			if !g.moved[i] {
				p = (1 - g.bulkLong) * g.bulk[j].Weight
			}
			f.bulkPt[i*nb+j] += f.k * p * vol
		}
	}
}

// slab: every layer has the same in-plane strain, plus a curvature when the
// slab is free to bend; no stress across.
func (f *field) slab(h *heat) {
	g := f.g
	// σ = a + m (ε0 + z κ); the sums make the resultant and the moment vanish.
	var m0, m1, m2, a0, a1 float64
	for i := range f.eth {
		mu, k := f.mu*g.stiff[i], f.k*g.bulkStf[i]
		div := 1 / (k + 4.0/3*mu)
		z0 := (-f.hM[i] - 2.0/3*f.hS[i] + 3*k*f.eth[i]) * div
		a := -f.hS[i] - 2*mu*z0
		m := 6 * mu * k * div
		f.du[i], f.second[i] = a, m
		w, z := h.volume[i], h.r[i]
		a0 += w * a
		a1 += w * a * z
		m0 += w * m
		m1 += w * m * z
		m2 += w * m * z * z
	}
	e, curve := -a0/m0, 0.0
	if f.bends {
		det := m0*m2 - m1*m1
		if det > 1e-12*m0*m2 {
			e = (-a0*m2 + a1*m1) / det
			curve = (-a1*m0 + a0*m1) / det
		}
	}
	for i := range f.eth {
		mu, k := f.mu*g.stiff[i], f.k*g.bulkStf[i]
		x := e + curve*h.r[i]
		z := (-f.hM[i] - 2.0/3*f.hS[i] + 3*k*f.eth[i] - (2*k-4.0/3*mu)*x) / (k + 4.0/3*mu)
		f.strain(i, 2*x+z, z-x)
		s := f.mean[i] - f.devSum[i]/3
		f.plane[i], f.axial[i], f.radial[i] = s, s, 0
	}
}

// weights returns, for volume i, the derivative of the averaged radial and hoop
// strain with the displacement of its inner and outer face.
func (f *field) weights(h *heat, i int) (dri, dro, dti, dto float64) {
	a, b := h.face[i], h.face[i+1]
	w := b - a
	dri, dro = -1/w, 1/w
	if f.form == Cylinder {
		dti = 1 / (a + b) // ∫u dr / ∫r dr
		return dri, dro, dti, dti
	}
	// ∫u r dr / ∫r² dr for u linear between the faces
	v := h.volume[i]
	c2, c3 := (b*b-a*a)/2, (b*b*b-a*a*a)/3
	return dri, dro, (b*c2 - c3) / (w * v), (c3 - a*c2) / (w * v)
}

// sphere: radial equilibrium, free surface, by the principle of virtual work.
func (f *field) sphere(h *heat, allFrozen bool) {
	g, t := f.g, f.matrix
	n := len(f.eth)
	keep := allFrozen && f.elastic
	if !keep {
		for i := range t.diag {
			t.diag[i], t.lower[i], t.upper[i] = 0, 0, 0
		}
	}
	for i := range f.du {
		f.du[i] = 0
	}
	for i := 0; i < n; i++ {
		dri, dro, dti, dto := f.weights(h, i)
		pi, po, qi, qo := dri+2*dti, dro+2*dto, dri-dti, dro-dto
		v := h.volume[i]
		k, mu := v*f.k*g.bulkStf[i], v*4.0/3*f.mu*g.stiff[i]
		if !keep {
			t.diag[i] += k*pi*pi + mu*qi*qi
			t.diag[i+1] += k*po*po + mu*qo*qo
			x := k*pi*po + mu*qi*qo
			t.upper[i] += x
			t.lower[i+1] += x
		}
		m, s := v*f.hM[i]-3*k*f.eth[i], v*2.0/3*f.hS[i]
		f.du[i] -= m*pi + s*qi
		f.du[i+1] -= m*po + s*qo
	}
	if !keep { // no displacement at the center
		t.diag[0], t.upper[0], t.lower[1] = 1, 0, 0
		t.factor()
		f.elastic = allFrozen
	}
	f.du[0] = 0
	t.solve(f.du)
	for i := 0; i < n; i++ {
		dri, dro, dti, dto := f.weights(h, i)
		er := dri*f.du[i] + dro*f.du[i+1]
		et := dti*f.du[i] + dto*f.du[i+1]
		f.strain(i, er+2*et, er-et)
		f.radial[i] = f.mean[i] + 2.0/3*f.devSum[i]
		f.plane[i] = f.mean[i] - f.devSum[i]/3
		f.axial[i] = f.plane[i]
	}
}

// cylinder: generalized plane strain, free surfaces, no axial resultant. The
// common axial strain is solved as a border of the radial system.
func (f *field) cylinder(h *heat, allFrozen bool) {
	g, t := f.g, f.matrix
	n := len(f.eth)
	keep := allFrozen && f.elastic
	if !keep {
		for i := range t.diag {
			t.diag[i], t.lower[i], t.upper[i] = 0, 0, 0
		}
	}
	for i := range f.du {
		f.du[i], f.second[i] = 0, 0
	}
	axialStiff, axialLoad := 0.0, 0.0
	for i := 0; i < n; i++ {
		dri, dro, dti, dto := f.weights(h, i)
		v := h.volume[i]
		k, mu := f.k*g.bulkStf[i], f.mu*g.stiff[i]
		same, cross := v*(k+4.0/3*mu), v*(k-2.0/3*mu)
		if !keep {
			t.diag[i] += same*(dri*dri+dti*dti) + 2*cross*dri*dti
			t.diag[i+1] += same*(dro*dro+dto*dto) + 2*cross*dro*dto
			x := same*(dri*dro+dti*dto) + cross*(dri*dto+dti*dro)
			t.upper[i] += x
			t.lower[i+1] += x
		}
		f.second[i] += cross * (dri + dti)
		f.second[i+1] += cross * (dro + dto)
		axialStiff += same
		m := f.hM[i] - 3*k*f.eth[i]
		sr, st := v*(m+f.hS[2*i]), v*(m+f.hS[2*i+1])
		f.du[i] -= sr*dri + st*dti
		f.du[i+1] -= sr*dro + st*dto
		axialLoad -= v * (m - f.hS[2*i] - f.hS[2*i+1])
	}
	copy(f.border, f.second)
	border := f.border
	if f.form == Cylinder && h.face[0] == 0 {
		f.du[0], f.second[0], border[0] = 0, 0, 0
		if !keep {
			t.diag[0], t.upper[0], t.lower[1] = 1, 0, 0
		}
	}
	if !keep {
		t.factor()
		f.elastic = allFrozen
	}
	t.solve(f.du)
	t.solve(f.second)
	cy, cz := 0.0, 0.0
	for i := range border {
		cy += border[i] * f.du[i]
		cz += border[i] * f.second[i]
	}
	ez := (axialLoad - cy) / (axialStiff - cz)
	for i := range f.du {
		f.du[i] -= ez * f.second[i]
	}
	for i := 0; i < n; i++ {
		dri, dro, dti, dto := f.weights(h, i)
		er := dri*f.du[i] + dro*f.du[i+1]
		et := dti*f.du[i] + dto*f.du[i+1]
		vol := er + et + ez
		f.strain(i, vol, er-vol/3, et-vol/3)
		f.radial[i] = f.mean[i] + f.devSum[2*i]
		f.plane[i] = f.mean[i] + f.devSum[2*i+1]
		f.axial[i] = f.mean[i] - f.devSum[2*i] - f.devSum[2*i+1]
	}
}

// tension returns the greatest principal stress and its node.
func (f *field) tension() (most float64, node int) {
	most = math.Inf(-1)
	for i := range f.plane {
		if s := math.Max(f.plane[i], math.Max(f.axial[i], f.radial[i])); s > most {
			most, node = s, i
		}
	}
	for side, i := range [2]int{0, len(f.plane) - 1} {
		if s := math.Max(f.facing[side].plane, f.facing[side].axial); s > most {
			most, node = s, i
		}
	}
	return most, node
}

// profile copies the stress, with both faces in place of their half volumes.
func (f *field) profile(depth []float64) Profile {
	n := len(f.plane) - 1
	p := Profile{Depth: depth, Plane: append([]float64(nil), f.plane...),
		Axial: append([]float64(nil), f.axial...), Radial: append([]float64(nil), f.radial...)}
	p.Plane[0], p.Axial[0] = f.facing[0].plane, f.facing[0].axial
	p.Plane[n], p.Axial[n], p.Radial[n] = f.facing[1].plane, f.facing[1].axial, 0
	if f.bends || f.inner[1] != 0 {
		p.Radial[0] = 0
	}
	return p
}
