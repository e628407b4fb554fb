package sim

import "math"

// heat holds the temperature field: nodes from the innermost point (see mesh.go
// for their spacing) to the surface, each with the volume halfway to its neighbors
// (half volumes at both ends). A parabola, the steady state of a ramp, is
// reproduced exactly.
type heat struct {
	p          *Problem
	n          int       // intervals; n+1 nodes
	gap        []float64 // spacing of the nodes [m]
	r          []float64 // node positions [m]
	face       []float64 // positions of the n+2 volume faces [m]
	area       []float64 // r^m at the n+2 faces
	volume     []float64 // ∫ r^m dr of each node's volume
	k, c       table
	temp       []float64    // [K]
	stage      [4][]float64 // Rosenbrock stages [K]
	trial      []float64
	matrix     *tridiag
	radiation  *radiation // nil where no heat radiates inside
	cond       []float64  // conductance at the n inner faces, of the last rate
	pull       []float64  // area over spacing at the n inner faces
	cap        []float64  // 1/(ρ c V) of each node, of the last rate
	inv        []float64  // 1/(ρ V) of each node
	lean       []float64  // weight of the neighbors' difference in a volume's mean temperature
	mean, was  []float64  // volume means of trial and of temp [K]
	mid        []float64  // centroid of each volume [m]
	core       []bool     // nodes where steady cooling presses and what it leaves pulls
	hollow     bool       // the innermost point is a free face, not one of symmetry
	toInner    [3]float64 // weights of the first, last three volume means for the innermost, outermost value
	toOuter    [3]float64
	slowest    float64 // R²/κ at the start [s]
	heatIn     float64
	heatStored float64
	other      *other // the field of a Shape, not that of a form
}

// The core ends where the stress of steady cooling changes its sign: at 1/√3 of
// a slab and 1/√2 of a sphere (hoop) or cylinder (axial).
const (
	coreSlab  = 0.577
	coreRound = 0.707
)

func newHeat(p *Problem, cells int, low, high float64) *heat {
	n := cells
	h := &heat{p: p, n: n}
	m := float64(p.Body.Form)
	h.k = tabulate(p.Material.Conductivity, low, high)
	h.c = tabulate(p.Material.SpecificHeat, low, high)
	wall, skin := p.Body.Outer-p.Body.Inner, p.Start(1)
	kappa := h.k.at(skin) / (p.Material.Density * h.c.at(skin))
	h.slowest = wall * wall / kappa
	if p.Light == nil {
		h.gap = spacing(wall, n, draw(p, n, kappa), p.Body.InnerOpen)
	} else {
		h.gap = make([]float64, n)
		for i := range h.gap {
			h.gap[i] = p.Light.r[i+1] - p.Light.r[i]
		}
		h.radiation = newRadiation(p.Light, low, high)
	}
	buf := make([]float64, 18*(n+2))
	cut := func(i, size int) []float64 { return buf[i*(n+2) : i*(n+2)+size] }
	h.r, h.face, h.area, h.volume = cut(0, n+1), cut(1, n+2), cut(2, n+2), cut(3, n+1)
	h.temp, h.trial, h.cond, h.cap, h.inv = cut(4, n+1), cut(5, n+1), cut(6, n), cut(7, n+1), cut(8, n+1)
	h.lean, h.mean, h.was, h.mid = cut(9, n+1), cut(10, n+1), cut(11, n+1), cut(12, n+1)
	h.pull = cut(17, n)
	for i := range h.stage {
		h.stage[i] = cut(13+i, n+1)
	}
	h.r[0] = p.Body.Inner
	for i, g := range h.gap {
		h.r[i+1] = h.r[i] + g
	}
	h.r[n] = p.Body.Outer
	h.face[0], h.face[n+1] = p.Body.Inner, p.Body.Outer
	for i := 1; i <= n; i++ {
		h.face[i] = 0.5 * (h.r[i-1] + h.r[i])
	}
	for i, f := range h.face {
		h.area[i] = math.Pow(f, m)
	}
	for i := range h.volume {
		h.volume[i] = (math.Pow(h.face[i+1], m+1) - math.Pow(h.face[i], m+1)) / (m + 1)
		h.inv[i] = 1 / (p.Material.Density * h.volume[i])
	}
	var square [3]float64 // mean of r² over the first three volumes
	for i := range h.lean {
		r1, r2 := h.moments(i)
		h.mid[i] = r1
		if i < 3 {
			square[i] = r2
		}
		lo, hi := h.r[max(i-1, 0)], h.r[min(i+1, n)]
		h.lean[i] = (r2 - h.r[i]*h.r[i]) / (hi*hi - lo*lo)
	}
	h.hollow = p.Body.Inner > 0 || p.Body.OneFace
	if h.hollow {
		h.toInner = h.carry(h.face[0], 0, 1, 2)
	} else { // an even parabola through the means of the first two volumes
		h.toInner = [3]float64{square[1] / (square[1] - square[0]), square[0] / (square[0] - square[1]), 0}
	}
	h.toOuter = h.carry(h.face[n+1], n, n-1, n-2)
	for i := range h.temp {
		h.temp[i] = p.Start((h.r[i] - p.Body.Inner) / wall)
	}
	for i, g := range h.gap {
		h.pull[i] = h.area[i+1] / g
	}
	h.matrix = newTridiag(n + 1)
	h.core = make([]bool, n+1)
	for i, r := range h.r {
		x, rim := (r-p.Body.Inner)/wall, coreSlab
		switch {
		case p.Body.InnerOpen:
			x = math.Abs(2*x - 1)
		case p.Body.Inner == 0 && p.Body.Form != Slab:
			rim = coreRound
		}
		h.core[i] = x < rim
	}
	return h
}

// moments returns the means of r and r² over volume i.
func (h *heat) moments(i int) (r1, r2 float64) {
	m, a, b, v := float64(h.p.Body.Form), h.face[i], h.face[i+1], h.volume[i]
	return (math.Pow(b, m+2) - math.Pow(a, m+2)) / ((m + 2) * v), (math.Pow(b, m+3) - math.Pow(a, m+3)) / ((m + 3) * v)
}

// carry returns the weights with which the means over three volumes give the
// value at x of the parabola that has these means.
func (h *heat) carry(x float64, volumes ...int) (w [3]float64) {
	// Means of (r−x) and (r−x)², scaled; the weights w satisfy Σw = 1, Σw p = 0, Σw q = 0.
	var p, q [3]float64
	unit := h.gap[min(volumes[0], h.n-1)]
	for j, i := range volumes {
		r1, r2 := h.moments(i)
		p[j], q[j] = (r1-x)/unit, (r2-2*x*r1+x*x)/(unit*unit)
	}
	det := 0.0
	for j := range w {
		k, l := (j+1)%3, (j+2)%3
		w[j] = p[k]*q[l] - p[l]*q[k]
		det += w[j]
	}
	for j := range w {
		w[j] /= det
	}
	return w
}

// means puts the volume means of the field u into out. It is exact where u is
// a parabola, so that stress, which lives in the volumes, sees the same mean.
func (h *heat) means(u, out []float64) {
	if h.other != nil {
		h.other.Points(u, h.other.kiln, out)
		return
	}
	n := h.n
	out[0] = u[0] + h.lean[0]*(u[1]-u[0])
	for i := 1; i < n; i++ {
		out[i] = u[i] + h.lean[i]*(u[i+1]-u[i-1])
	}
	out[n] = u[n] + h.lean[n]*(u[n]-u[n-1])
}

// surfaceFlux returns the heat flux into a surface [W/m²] and its slope with the
// surface temperature.
func (h *heat) surfaceFlux(kiln, surface float64) (flux, slope float64) {
	s := h.p.Surface
	if x := h.radiation; x != nil { // what is not opaque is the business of the rays
		return s.HeatTransfer*(kiln-surface) + s.Emissivity*(x.beyond.at(kiln)-x.beyond.at(surface)), -s.HeatTransfer - s.Emissivity*x.beyond.slopeAt(surface)
	}
	return s.Flux(kiln, surface)
}

// kilnSlope returns the slope of the surface's flux with the temperature of the
// kiln.
func (h *heat) kilnSlope(kiln float64) float64 {
	s := h.p.Surface
	if x := h.radiation; x != nil {
		return s.HeatTransfer + s.Emissivity*x.beyond.slopeAt(kiln)
	}
	return s.HeatTransfer + 4*s.Emissivity*StefanBoltzmann*kiln*kiln*kiln
}

// rate puts dT/dt of the state u into out. Where the surface follows the kiln
// its rate is the kiln's own.
func (h *heat) rate(u, out []float64, kiln, kilnRate float64) {
	n := h.n
	u, out = u[:n+1], out[:n+1]
	cond, pull, caps, inv := h.cond[:n], h.pull[:n], h.cap[:n+1], h.inv[:n+1]
	follows, open := h.p.Surface.Follows, h.p.Body.InnerOpen
	flow := 0.0 // into volume i from below
	if open && !follows {
		q, _ := h.surfaceFlux(kiln, u[0])
		flow = q * h.area[0]
	}
	for i := range cond {
		c := h.k.at(0.5*(u[i]+u[i+1])) * pull[i]
		cond[i] = c
		up := c * (u[i+1] - u[i])
		caps[i] = inv[i] / h.c.at(u[i])
		out[i] = (flow + up) * caps[i]
		flow = -up
	}
	caps[n] = inv[n] / h.c.at(u[n])
	if h.radiation != nil {
		h.radiation.emit(u, kiln)
		out[n] = 0
		h.radiation.add(out, caps)
	}
	if follows {
		out[n] = kilnRate
		if open {
			out[0] = kilnRate
		}
		return
	}
	q, _ := h.surfaceFlux(kiln, u[n])
	gain := (flow + q*h.area[n+1]) * caps[n]
	if h.radiation != nil {
		gain += out[n]
	}
	out[n] = gain
}

// step tries one step of the method of rosenbrock.go. The new field is in
// trial; the answer is the largest local error.
func (h *heat) step(t, dt float64) (err float64) {
	if h.other != nil {
		return h.stepOther(t, dt)
	}
	kiln, end := h.p.Kiln.At(t), h.p.Kiln.At(t+dt)
	kilnRate := (end - kiln) / dt
	h.rate(h.temp, h.stage[0], kiln, kilnRate)
	g := rosGamma * dt
	slope := h.linearize(g, kiln, kilnRate)
	for i := range h.stage {
		if i > 0 {
			h.between(i)
			h.rate(h.trial, h.stage[i], h.p.Kiln.At(t+rosAlpha[i]*dt), kilnRate)
		}
		h.solve(i, g, dt, slope)
	}
	err = h.combine()
	if h.p.Surface.Follows {
		err = max(err, h.sag(t, dt))
		h.trial[h.n] = end
		if h.p.Body.InnerOpen {
			h.trial[0] = end
		}
	}
	return err
}

// linearize factors I − γ dt J, with conductance and heat capacity frozen at the
// old state; g is γ dt. It returns γ dt ∂F/∂t at both faces: the kiln's slope seen
// through the surface.
func (h *heat) linearize(g, kiln, kilnRate float64) (slope [2]float64) {
	n, follows := h.n, h.p.Surface.Follows
	a := h.matrix
	a.lower[0], a.upper[n] = 0, 0
	for i := range a.diag {
		a.diag[i] = 1
	}
	for i, c := range h.cond {
		lo, hi := g*h.cap[i]*c, g*h.cap[i+1]*c
		a.upper[i], a.lower[i+1] = -lo, -hi
		a.diag[i] += lo
		a.diag[i+1] += hi
	}
	for side, i := range [2]int{0, n} {
		switch {
		case side == 0 && !h.p.Body.InnerOpen:
		case follows:
			a.diag[i], a.lower[i], a.upper[i] = 1, 0, 0
		default:
			w := g * h.cap[i] * h.area[side*(n+1)]
			_, dq := h.surfaceFlux(kiln, h.temp[i])
			a.diag[i] -= w * dq
			slope[side] = w * h.kilnSlope(kiln) * kilnRate
		}
	}
	if h.radiation == nil {
		a.factor()
	} else {
		h.radiation.jacobian(a, h.temp, h.cap, g, kiln, kilnRate, follows)
		h.radiation.matrix.factor()
	}
	return slope
}

// between puts the field at which stage i is asked for its rate into trial.
func (h *heat) between(i int) {
	c := &rosA[i]
	x0, x1, x2 := h.stage[0], h.stage[1], h.stage[2]
	for j, old := range h.temp {
		h.trial[j] = old + c[0]*x0[j] + c[1]*x1[j] + c[2]*x2[j]
	}
}

// solve makes stage i out of its rate.
func (h *heat) solve(i int, g, dt float64, slope [2]float64) {
	u, c := h.stage[i], &rosC[i]
	switch i {
	case 0:
		for j := range u {
			u[j] *= g
		}
	case 1:
		for j, x := range h.stage[0] {
			u[j] = g*u[j] + c[0]*x
		}
	default:
		x0, x1, x2 := h.stage[0], h.stage[1], h.stage[2]
		if i == 2 {
			x2 = x1 // its weight is zero
		}
		for j := range u {
			u[j] = g*u[j] + c[0]*x0[j] + c[1]*x1[j] + c[2]*x2[j]
		}
	}
	u[0] += slope[0] * rosSum[i] * dt
	u[h.n] += slope[1] * rosSum[i] * dt
	if h.radiation == nil {
		h.matrix.solve(u)
		return
	}
	for j, x := range h.radiation.push {
		u[j] += x * rosSum[i] * dt
	}
	h.radiation.matrix.solve(u)
}

// combine makes the trial field out of the stages, and returns the largest local
// error.
func (h *heat) combine() (err float64) {
	x0, x1, x2, x3 := h.stage[0], h.stage[1], h.stage[2], h.stage[3]
	for j, old := range h.temp {
		h.trial[j] = old + rosM[0]*x0[j] + rosM[1]*x1[j] + rosM[2]*x2[j] + rosM[3]*x3[j]
		d := math.Abs(rosE[0]*x0[j] + rosE[1]*x1[j] + rosE[2]*x2[j] + rosE[3]*x3[j])
		if !(d <= err) {
			err = d
		}
	}
	return err
}

// sag is how far the kiln is from the chord of a step [K], along which a
// surface that follows is taken: an error that the stages do not see.
func (h *heat) sag(t, dt float64) float64 {
	return math.Abs(h.p.Kiln.At(t+0.5*dt) - 0.5*(h.p.Kiln.At(t)+h.p.Kiln.At(t+dt)))
}

// accept makes the trial field the field and keeps the heat balance.
func (h *heat) accept(t, dt float64) {
	if h.other != nil {
		copy(h.temp, h.trial)
		copy(h.was, h.mean)
		return
	}
	n := h.n
	rho := h.p.Material.Density
	stored := 0.0
	for i := range h.temp {
		mid := h.c.at(0.5 * (h.temp[i] + h.trial[i]))
		stored += rho * mid * h.volume[i] * (h.trial[i] - h.temp[i])
	}
	h.heatStored += stored
	if !h.p.Surface.Follows {
		q0, _ := h.surfaceFlux(h.p.Kiln.At(t), h.temp[n])
		q1, _ := h.surfaceFlux(h.p.Kiln.At(t+dt), h.trial[n])
		h.heatIn += 0.5 * dt * (q0 + q1) * h.area[n+1]
		if x := h.radiation; x != nil {
			x.emit(h.temp, h.p.Kiln.At(t))
			q0 = x.through()
			x.emit(h.trial, h.p.Kiln.At(t+dt))
			h.heatIn -= 0.5 * dt * (q0 + x.through())
		}
		if h.p.Body.InnerOpen {
			q0, _ := h.surfaceFlux(h.p.Kiln.At(t), h.temp[0])
			q1, _ := h.surfaceFlux(h.p.Kiln.At(t+dt), h.trial[0])
			h.heatIn += 0.5 * dt * (q0 + q1) * h.area[0]
		}
	}
	copy(h.temp, h.trial)
	copy(h.was, h.mean)
}
