package sim

import "math"

// field is the stress of one variant, averages over the volumes around the
// nodes of heat.
type field struct {
	v       Variant
	g       *glassState
	s       *section
	comps   int       // 1: S = σ_radial − σ_plane; 2 (cylinder): deviators along r and θ
	alpha   float64   // expansion of the glass [1/K]
	dev     []float64 // deviatoric parts by term: node-major, comps rows of terms each
	bulkPt  []float64 // relaxing bulk parts, node-major
	bulkInf []float64 // part of the mean stress that does not relax
	devSum  []float64 // Σ over terms, node-major, comps
	mean    []float64 // mean stress [Pa]
	waiting []float64 // strain not yet spread over the terms of a node that does not relax
	radial  []float64
	plane   []float64
	axial   []float64

	hS, hM, eth []float64 // history parts and thermal strain of the trial step
	du          []float64
	// weights that carry the stress of three volumes to the innermost point and
	// to the cooled face, and the stress there [Pa]
	toInner, toOuter [3]float64
	look             *Points // for a Shape
	inner, outer     struct{ plane, axial, radial float64 }
}

func newField(h *heat, g *glassState, v Variant, m Material, comps int) *field {
	nodes := h.n + 1
	f := &field{v: v, g: g, s: g.section, alpha: m.Expansion, comps: 1}
	switch {
	case h.other != nil:
		f.comps = comps
	case f.s.form == Cylinder:
		f.comps = 2
	}
	c, ns, nb := f.comps, len(g.shear.rate), len(g.bulk.rate)
	buf := make([]float64, nodes*(ns*c+nb+3*c+8)+1)
	cut := func(n int) []float64 { s := buf[:n:n]; buf = buf[n:]; return s }
	f.dev, f.bulkPt = cut(nodes*ns*c), cut(nodes*nb)
	f.devSum, f.waiting, f.hS = cut(nodes*c), cut(nodes*c), cut(nodes*c)
	f.bulkInf, f.mean, f.hM, f.eth = cut(nodes), cut(nodes), cut(nodes), cut(nodes)
	f.radial, f.plane, f.axial, f.du = cut(nodes), cut(nodes), cut(nodes), cut(nodes+1)
	f.toInner, f.toOuter = h.toInner, h.toOuter
	f.look = f.points()
	return f
}

// advance moves the stress over the step that glassState has just taken, from
// volume temperatures h.was to h.mean and fictive temperatures tf to tfNew.
// The section must have been updated.
func (f *field) advance(h *heat, tf, tfNew []float64) {
	g := f.g
	nb, c := len(g.bulk.rate), f.comps
	structural := 0.0
	if g.structured {
		structural = f.v.ExpansionLiquid - f.alpha
	}
	for i, now := range h.mean {
		f.eth[i] = f.alpha*(now-h.was[i]) + structural*(tfNew[i]-tf[i])
	}
	if g.frozen {
		copy(f.hS, f.devSum)
		copy(f.hM, f.mean)
	} else {
		for i := range f.eth {
			for d := i * c; d < i*c+c; d++ {
				if g.moved[i] {
					f.hS[d] = f.faded(i, d)
				} else {
					f.hS[d] = f.devSum[d]
				}
			}
			f.hM[i] = f.mean[i]
			if nb > 0 && g.moved[i] {
				sum := f.bulkInf[i]
				for j := i * nb; j < i*nb+nb; j++ {
					f.bulkPt[j] *= g.bulkDec[j]
					sum += f.bulkPt[j]
				}
				f.hM[i] = sum
			}
		}
	}
	if f.s.other != nil {
		f.s.other.Balance(f.look)
		return
	}
	switch f.s.form {
	case Slab:
		f.slab()
	case Sphere:
		if f.s.hollow {
			f.ball()
		} else {
			f.sphere()
		}
	case Cylinder:
		f.cylinder()
	}
	f.faces()
}

// faded lets deviator d of node i relax over the step without new strain.
// Strain taken while the node did not relax is first spread over the terms.
func (f *field) faded(i, d int) (sum float64) {
	g := f.g
	ns := len(g.shear.rate)
	dev, decay := f.dev[d*ns:d*ns+ns], g.decay[i*ns:i*ns+ns]
	if e := f.waiting[d]; e != 0 {
		for j, w := range g.shear.weight {
			dev[j] += 2 * f.s.mu * w * e
		}
		f.waiting[d] = 0
	}
	for j, e := range decay {
		s := dev[j] * e
		dev[j] = s
		sum += s
	}
	return sum
}

// shear books the strain increment e of deviator d of node i.
func (f *field) shear(i, d int, e float64) {
	g := f.g
	if !g.moved[i] {
		f.waiting[d] += e
		f.devSum[d] += 2 * f.s.mu * e
		return
	}
	ns := len(g.shear.rate)
	dev, part := f.dev[d*ns:d*ns+ns], g.part[i*ns:i*ns+ns]
	x := 2 * f.s.mu * e
	for j, p := range part {
		dev[j] += x * p
	}
	f.devSum[d] = f.hS[d] + 2*f.s.shear[i]*e
}

// relaxError estimates the error of stress of the trial step of glassState from
// the strain not being even in reduced time: for each term the stress that it
// holds, times the square of the share it loses by halfway. It is exact for one
// slowly relaxing term and bounded for a fast one. The answer is relative to
// what is allowed: the tolerance [Pa] and a small share of the greatest stress.
func (f *field) relaxError(tolerance float64) float64 {
	const share = 0.005
	g := f.g
	ns, c := len(g.shear.rate), f.comps
	most, greatest := 0.0, 0.0
	for i, moved := range g.moved {
		for d := i * c; d < i*c+c; d++ {
			if s := math.Abs(f.devSum[d]); s > greatest {
				greatest = s
			}
			if !moved {
				continue
			}
			sum := 0.0
			part := g.part[i*ns : i*ns+ns]
			for j, s := range f.dev[d*ns : d*ns+ns] {
				lost := 1 - part[j]*g.shear.inverse[j]
				sum += math.Abs(s) * lost * lost
			}
			if sum > most {
				most = sum
			}
		}
	}
	return most / 3 / (tolerance + share*greatest)
}

// volumetric books the volume strain increment of node i.
func (f *field) volumetric(i int, vol float64) {
	g := f.g
	vol -= 3 * f.eth[i]
	f.mean[i] = f.hM[i] + f.s.bulk[i]*vol
	nb := len(g.bulk.rate)
	if nb == 0 {
		return
	}
	x := f.s.k * vol
	f.bulkInf[i] += g.bulkLong * x
	for j, w := range g.bulk.weight {
		p := (1 - g.bulkLong) * w
		if g.moved[i] {
			p = g.bulkPart[i*nb+j]
		}
		f.bulkPt[i*nb+j] += p * x
	}
}

func (f *field) slab() {
	s := f.s
	// σ = a + m (ε + z κ); the sums make the resultant and the moment vanish.
	var a0, a1 float64
	for i, eth := range f.eth {
		across := (-f.hM[i] - 2.0/3*f.hS[i] + 3*s.bulk[i]*eth) * s.div[i]
		a := s.volume[i] * (-f.hS[i] - 2*s.shear[i]*across)
		f.du[i] = across
		a0 += a
		a1 += a * s.z[i]
	}
	e, curve := -a0/s.m0, 0.0
	if s.det != 0 {
		e = (-a0*s.m2 + a1*s.m1) / s.det
		curve = (-a1*s.m0 + a0*s.m1) / s.det
	}
	for i, across := range f.du[:len(f.eth)] {
		k, mu := s.bulk[i], s.shear[i]
		x := e + curve*s.z[i]
		z := across - (2*k-4.0/3*mu)*x*s.div[i]
		f.shear(i, i, z-x)
		f.volumetric(i, 2*x+z)
		p := f.mean[i] - f.devSum[i]/3
		f.plane[i], f.axial[i], f.radial[i] = p, p, 0
	}
}

func (f *field) sphere() {
	s, du := f.s, f.du
	n := len(f.eth) - 1
	du[0] = 0
	var m, q, before, half float64
	for i, eth := range f.eth {
		m, q = f.hM[i]-3*s.bulk[i]*eth, 0.5*f.hS[i]
		if i > 0 {
			du[i] = -s.meanW[i]*(m-before) - s.aboveW[i]*q + s.belowW[i]*half
		}
		if i < n {
			before, half = m, q
		}
	}
	du[n+1] = -s.surfMean[0]*before - s.surfHalf[0]*half - s.surfMean[1]*m - s.surfHalf[1]*q - s.tail*du[n]
	s.matrix.solve(du)
	f.round(0, du[1], du[2])
	for i := 1; i <= n; i++ {
		f.round(i, du[i], du[i+1])
	}
}

// ball is sphere for one with a cavity.
func (f *field) ball() {
	s, du := f.s, f.du
	du[0] = 0
	for i, eth := range f.eth {
		mi, mo, qi, qo := s.parts(i)
		m, q := s.volume[i]*(f.hM[i]-3*s.bulk[i]*eth), s.volume[i]*2.0/3*f.hS[i]
		du[i] -= m*mi + q*qi
		du[i+1] = -m*mo - q*qo
	}
	s.matrix.solve(du)
	for i := range f.eth {
		f.round(i, du[i], du[i+1])
	}
}

// round books the strain of volume i of a sphere and takes its stress, from the
// displacements that it hangs on.
func (f *field) round(i int, in, out float64) {
	s := f.s
	er := s.dri[i]*in + s.dro[i]*out
	et := s.dti[i]*in + s.dto[i]*out
	f.shear(i, i, er-et)
	f.volumetric(i, er+2*et)
	p, q := f.mean[i], f.devSum[i]/3
	f.radial[i], f.plane[i], f.axial[i] = p+2*q, p-q, p-q
}

func (f *field) cylinder() {
	s := f.s
	du := f.du
	du[0] = 0
	load := 0.0
	for i, eth := range f.eth {
		v := s.volume[i]
		m := f.hM[i] - 3*s.bulk[i]*eth
		sr, st := v*(m+f.hS[2*i]), v*(m+f.hS[2*i+1])
		du[i] -= sr*s.dri[i] + st*s.dti[i]
		du[i+1] = -sr*s.dro[i] - st*s.dto[i]
		load -= v * (m - f.hS[2*i] - f.hS[2*i+1])
	}
	if s.axis {
		du[0] = 0
	}
	s.matrix.solve(du)
	for i, b := range s.border {
		load -= b * du[i]
	}
	ez := load / s.axial
	for i, x := range s.second {
		du[i] -= ez * x
	}
	for i := range f.eth {
		er := s.dri[i]*du[i] + s.dro[i]*du[i+1]
		et := s.dti[i]*du[i] + s.dto[i]*du[i+1]
		vol := er + et + ez
		f.shear(i, 2*i, er-vol/3)
		f.shear(i, 2*i+1, et-vol/3)
		f.volumetric(i, vol)
		p, r, q := f.mean[i], f.devSum[2*i], f.devSum[2*i+1]
		f.radial[i], f.plane[i], f.axial[i] = p+r, p+q, p-r-q
	}
}

// faces carries the stress of the volumes to the innermost point and the
// cooled face.
func (f *field) faces() {
	n := len(f.plane) - 1
	a, b := &f.toInner, &f.toOuter
	at := func(s []float64) (inner, outer float64) {
		return a[0]*s[0] + a[1]*s[1] + a[2]*s[2], b[0]*s[n] + b[1]*s[n-1] + b[2]*s[n-2]
	}
	f.inner.plane, f.outer.plane = at(f.plane)
	if f.comps == 1 {
		f.inner.axial, f.outer.axial = f.inner.plane, f.outer.plane
	} else {
		f.inner.axial, f.outer.axial = at(f.axial)
	}
}

// place is the greatest principal stress of a part of the body and the node
// that has it.
type place struct {
	tension float64
	node    int
}

func (p *place) see(s float64, node int) {
	if s > p.tension {
		p.tension, p.node = s, node
	}
}

// tension returns the greatest principal stress of the core and of the shell
// around it.
func (f *field) tension(core []bool) (inside, surface place) {
	n := len(f.plane) - 1
	inside, surface = place{math.Inf(-1), 0}, place{math.Inf(-1), n}
	for i, s := range f.plane {
		s = math.Max(s, f.radial[i])
		if f.comps == 2 {
			s = math.Max(s, f.axial[i])
		}
		if core[i] {
			inside.see(s, i)
		} else {
			surface.see(s, i)
		}
	}
	first := &inside
	if !core[0] {
		first = &surface
	}
	first.see(math.Max(f.inner.plane, f.inner.axial), 0)
	surface.see(math.Max(f.outer.plane, f.outer.axial), n)
	return inside, surface
}

// newProfile makes room for a profile of a body.
func newProfile(h *heat) Profile {
	n := h.n + 1
	p := Profile{Depth: make([]float64, n), Plane: make([]float64, n), Axial: make([]float64, n), Radial: make([]float64, n)}
	for i, r := range h.r {
		p.Depth[i] = r - h.p.Body.Inner
	}
	return p
}

// profile copies the stress into p, with both faces in place of their half
// volumes.
func (f *field) profile(h *heat, p *Profile) {
	n := len(f.plane) - 1
	copy(p.Plane, f.plane)
	copy(p.Axial, f.axial)
	copy(p.Radial, f.radial)
	p.Plane[0], p.Axial[0] = f.inner.plane, f.inner.axial
	p.Plane[n], p.Axial[n], p.Radial[n] = f.outer.plane, f.outer.axial, 0
	switch {
	case h.hollow:
		p.Radial[0] = 0
	case f.s.form == Sphere: // at the center of symmetry all three are one
		p.Radial[0] = p.Plane[0]
	case f.s.form == Cylinder:
		p.Radial[0] = p.Plane[0]
	}
}
