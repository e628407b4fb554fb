package sim

import "math"

// table is a function of temperature read off at even spacing, so that a step
// costs a multiplication instead of a polynomial. Outside its range the end
// value stands; the range is chosen so that no temperature of the run leaves it.
type table struct {
	low, perKelvin float64
	value          []float64
}

const tableSpacing = 4.0 // [K]; linear between, error below 1e-5 for k(T), c(T) of glasses

func tabulate(f func(float64) float64, low, high float64) table {
	n := int((high-low)/tableSpacing) + 2
	t := table{low: low, perKelvin: 1 / tableSpacing, value: make([]float64, n+1)}
	for i := range t.value {
		t.value[i] = f(low + float64(i)*tableSpacing)
	}
	return t
}

func (t *table) at(kelvin float64) float64 {
	x := (kelvin - t.low) * t.perKelvin
	i := int(x)
	if x < 0 {
		return t.value[0]
	}
	if i >= len(t.value)-1 {
		return t.value[len(t.value)-1]
	}
	return t.value[i] + (x-float64(i))*(t.value[i+1]-t.value[i])
}

// heat holds the temperature field: nodes at the innermost point, evenly
// spaced, and at the surface, each with the volume halfway to its neighbors
// (half volumes at both ends). A parabola, the steady state of a ramp, is
// reproduced exactly.
type heat struct {
	p          *Problem
	n          int       // intervals; n+1 nodes
	h          float64   // spacing [m]
	r          []float64 // node positions [m]
	face       []float64 // positions of the n+2 volume faces [m]
	area       []float64 // r^m at the n+2 faces
	volume     []float64 // ∫ r^m dr of each node's volume
	k, c       table
	temp       []float64 // [K]
	k1, k2     []float64 // Rosenbrock stages [K/s]
	trial      []float64
	slope      []float64 // ∂F/∂t
	matrix     *tridiag
	cond       []float64 // conductance at the n inner faces, trial state
	lean       []float64 // weight of the neighbors' difference in a volume's mean temperature
	mean, was  []float64 // volume means of trial and of temp [K]
	mid        []float64 // centroid of each volume [m]
	slowest    float64   // R²/κ at the start [s]
	heatIn     float64
	heatStored float64
}

func newHeat(p *Problem, cells int, low, high float64) *heat {
	n := cells
	h := &heat{p: p, n: n}
	m := float64(p.Body.Form)
	h.h = (p.Body.Outer - p.Body.Inner) / float64(n)
	buf := make([]float64, 13*(n+2))
	cut := func(i, size int) []float64 { return buf[i*(n+2) : i*(n+2)+size] }
	h.r, h.face, h.area, h.volume = cut(0, n+1), cut(1, n+2), cut(2, n+2), cut(3, n+1)
	h.temp, h.k1, h.k2, h.trial, h.slope = cut(4, n+1), cut(5, n+1), cut(6, n+1), cut(7, n+1), cut(8, n+1)
	h.cond, h.lean, h.mean, h.was, h.mid = make([]float64, n), cut(9, n+1), cut(10, n+1), cut(11, n+1), cut(12, n+1)
	for i := range h.r {
		h.r[i] = p.Body.Inner + float64(i)*h.h
	}
	h.face[0], h.face[n+1] = p.Body.Inner, p.Body.Outer
	for i := 1; i <= n; i++ {
		h.face[i] = p.Body.Inner + (float64(i)-0.5)*h.h
	}
	for i, f := range h.face {
		h.area[i] = math.Pow(f, m)
	}
	for i := range h.volume {
		h.volume[i] = (math.Pow(h.face[i+1], m+1) - math.Pow(h.face[i], m+1)) / (m + 1)
	}
	for i := range h.lean {
		// mean of r and r² over the volume
		a, b := h.face[i], h.face[i+1]
		h.mid[i] = (math.Pow(b, m+2) - math.Pow(a, m+2)) / ((m + 2) * h.volume[i])
		square := (math.Pow(b, m+3) - math.Pow(a, m+3)) / ((m + 3) * h.volume[i])
		lo, hi := h.r[max(i-1, 0)], h.r[min(i+1, n)]
		h.lean[i] = (square - h.r[i]*h.r[i]) / (hi*hi - lo*lo)
	}
	for i := range h.temp {
		h.temp[i] = p.Start(float64(i) / float64(n))
	}
	h.k = tabulate(p.Material.Conductivity, low, high)
	h.c = tabulate(p.Material.SpecificHeat, low, high)
	h.matrix = newTridiag(n + 1)
	t := h.temp[n]
	h.slowest = (p.Body.Outer - p.Body.Inner) * (p.Body.Outer - p.Body.Inner) * p.Material.Density * h.c.at(t) / h.k.at(t)
	return h
}

// means puts the volume means of the field u into out. It is exact where u is
// a parabola, so that stress, which lives in the volumes, sees the same mean.
func (h *heat) means(u, out []float64) {
	n := h.n
	out[0] = u[0] + h.lean[0]*(u[1]-u[0])
	for i := 1; i < n; i++ {
		out[i] = u[i] + h.lean[i]*(u[i+1]-u[i-1])
	}
	out[n] = u[n] + h.lean[n]*(u[n]-u[n-1])
}

// film returns the heat flux into a surface [W/m²] and its slope with the
// surface temperature.
func (h *heat) film(kiln, surface float64) (flux, slope float64) {
	s := h.p.Surface
	es := s.Emissivity * stefanBoltzmann
	k2, s2 := kiln*kiln, surface*surface
	return s.Film*(kiln-surface) + es*(k2*k2-s2*s2), -s.Film - 4*es*s2*surface
}

// rate puts dT/dt of the state u into out. Where the surface follows the kiln
// its rate is the kiln's own.
func (h *heat) rate(u, out []float64, kiln, kilnRate float64) {
	n := h.n
	for i := 0; i < n; i++ {
		h.cond[i] = h.k.at(0.5*(u[i]+u[i+1])) * h.area[i+1] / h.h
	}
	flow := 0.0 // into volume i from below
	if h.p.Body.InnerOpen && !h.p.Surface.Follows {
		q, _ := h.film(kiln, u[0])
		flow = q * h.area[0]
	}
	rho := h.p.Material.Density
	for i := 0; i < n; i++ {
		up := h.cond[i] * (u[i+1] - u[i])
		out[i] = (flow + up) / (rho * h.c.at(u[i]) * h.volume[i])
		flow = -up
	}
	if h.p.Surface.Follows {
		out[n] = kilnRate
		if h.p.Body.InnerOpen {
			out[0] = kilnRate
		}
		return
	}
	q, _ := h.film(kiln, u[n])
	out[n] = (flow + q*h.area[n+1]) / (rho * h.c.at(u[n]) * h.volume[n])
}

// step tries one step of ROS2 (Verwer, Spee, Blom and Hundsdorfer 1999, SIAM J.
// Sci. Comput. 20, 1456 [memory; the order is measured in order_test.go]):
// linearly implicit, L-stable, second order whatever the accuracy of the
// Jacobian. The new field is in trial; the answer is the largest local error.
func (h *heat) step(t, dt float64) (err float64) {
	const gamma = 1 - 1/math.Sqrt2
	n, rho := h.n, h.p.Material.Density
	k0, kEnd := h.p.Kiln.At(t), h.p.Kiln.At(t+dt)
	kilnRate := (kEnd - k0) / dt
	h.rate(h.temp, h.k1, k0, kilnRate)

	// I − γ dt J with conductances frozen at the old state.
	g := gamma * dt
	a := h.matrix
	for i := 0; i <= n; i++ {
		w := g / (rho * h.c.at(h.temp[i]) * h.volume[i])
		a.diag[i], a.lower[i], a.upper[i] = 1, 0, 0
		if i > 0 {
			a.lower[i] = -w * h.cond[i-1]
			a.diag[i] += w * h.cond[i-1]
		}
		if i < n {
			a.upper[i] = -w * h.cond[i]
			a.diag[i] += w * h.cond[i]
		}
		h.slope[i] = 0
		if i == n || (i == 0 && h.p.Body.InnerOpen) {
			if h.p.Surface.Follows {
				a.diag[i], a.lower[i], a.upper[i] = 1, 0, 0
				continue
			}
			s, f := h.p.Surface, h.area[n+1]
			if i == 0 {
				f = h.area[0]
			}
			_, dq := h.film(k0, h.temp[i])
			a.diag[i] -= w * f * dq
			// γ dt ∂F/∂t: the kiln's slope seen through film and radiation.
			h.slope[i] = w * f * (s.Film + 4*s.Emissivity*stefanBoltzmann*k0*k0*k0) * kilnRate
		}
	}
	a.factor()
	for i := range h.k1 {
		h.k1[i] += h.slope[i]
	}
	a.solve(h.k1)
	for i := range h.trial {
		h.trial[i] = h.temp[i] + dt*h.k1[i]
	}
	h.rate(h.trial, h.k2, kEnd, kilnRate)
	for i := range h.k2 {
		h.k2[i] -= 2*h.k1[i] + h.slope[i]
		if h.p.Surface.Follows && (i == n || (i == 0 && h.p.Body.InnerOpen)) {
			h.k2[i] = -h.k1[i]
		}
	}
	a.solve(h.k2)
	for i := range h.trial {
		d := 0.5 * dt * (h.k1[i] + h.k2[i])
		h.trial[i] = h.temp[i] + dt*h.k1[i] + d
		err = math.Max(err, math.Abs(d))
	}
	if h.p.Surface.Follows {
		h.trial[n] = kEnd
		if h.p.Body.InnerOpen {
			h.trial[0] = kEnd
		}
	}
	return err
}

// accept makes the trial field the field and keeps the heat balance.
func (h *heat) accept(t, dt float64) {
	n := h.n
	rho := h.p.Material.Density
	stored := 0.0
	for i := range h.temp {
		mid := h.c.at(0.5 * (h.temp[i] + h.trial[i]))
		stored += rho * mid * h.volume[i] * (h.trial[i] - h.temp[i])
	}
	h.heatStored += stored
	if !h.p.Surface.Follows {
		q0, _ := h.film(h.p.Kiln.At(t), h.temp[n])
		q1, _ := h.film(h.p.Kiln.At(t+dt), h.trial[n])
		h.heatIn += 0.5 * dt * (q0 + q1) * h.area[n+1]
		if h.p.Body.InnerOpen {
			q0, _ := h.film(h.p.Kiln.At(t), h.temp[0])
			q1, _ := h.film(h.p.Kiln.At(t+dt), h.trial[0])
			h.heatIn += 0.5 * dt * (q0 + q1) * h.area[0]
		}
	}
	copy(h.temp, h.trial)
	copy(h.was, h.mean)
}
