package sim

import "math"

// glassState follows fictive temperature and relaxation along one viscosity
// curve. All variants on that curve, with whatever expansion of the liquid,
// share it.
type glassState struct {
	a, b, t0   float64
	structured bool
	x          float64 // nonlinearity
	shearMod   float64 // G [Pa]
	toStruct   float64 // K_s/G: structural reduced time over shear reduced time
	shear      []Term
	structural []Term
	bulk       []Term
	fast       float64 // largest weight-bearing rate: 1 / shortest relative time

	tf       []float64 // fictive temperature, n+1 nodes [K]
	tfPart   []float64 // partial fictive temperatures, node-major
	tfTrial  []float64 // the same after the trial step
	tfRate   []float64 // dTf/dt of the last step [K/s]
	tfNew    []float64 // trial
	phi      []float64 // G/η [1/s]
	phiNew   []float64 // trial
	moved    []bool    // node relaxed in the trial step
	decay    []float64 // exp(−Δξ/τ_j), shear, node-major
	stiff    []float64 // Σ w_j (1−exp(−Δξ/τ_j))/(Δξ/τ_j), per node
	part     []float64 // the same by term, node-major
	bulkDec  []float64 // as decay, bulk
	bulkStf  []float64 // as stiff, bulk with its long-time share
	bulkPart []float64 // as part, bulk
	memory   []float64 // a unit stress of the start, by shear term, node-major
	dxi      []float64 // Δξ of the trial step, in units of η/G
	exps     int
	bulkLong float64
}

// log10 returns the equilibrium log10 viscosity, stiff without bound at T0.
func (g *glassState) log10(kelvin float64) float64 {
	if kelvin <= g.t0+1 {
		return math.Inf(1)
	}
	return g.a + g.b/(kelvin-g.t0)
}

// shift returns G/η(T, Tf) [1/s]: the equilibrium viscosity at Tf moved to T
// along the glass's own activation energy there, reduced by x. With T0 = 0 it
// is exactly the shift of Tool, Narayanaswamy and Moynihan.
func (g *glassState) shift(kelvin, tf float64) float64 {
	var l float64
	if !g.structured {
		l = g.log10(kelvin)
	} else {
		d := math.Max(tf-g.t0, 1)
		l = g.a + g.b/d + g.x*g.b*(tf*tf/(d*d))*(1/kelvin-1/tf)
	}
	switch {
	case l > frozenLog10:
		return 0
	case l < runnyLog10:
		l = runnyLog10
	}
	return g.shearMod * math.Exp(-math.Ln10*l)
}

func newGlassState(p *Problem, v Variant, temp []float64) *glassState {
	m := p.Material
	g := &glassState{a: v.A, b: v.B, t0: v.T0, structured: v.ExpansionLiquid != 0,
		x: m.Nonlinearity, shearMod: m.Young / (2 * (1 + m.Poisson)),
		shear: m.Shear, structural: m.Structural, bulk: m.Bulk, bulkLong: m.BulkLong}
	g.toStruct = m.StructuralModulus / g.shearMod
	for _, t := range g.shear {
		g.fast = math.Max(g.fast, 1/t.Time)
	}
	for _, t := range g.bulk {
		g.fast = math.Max(g.fast, 1/t.Time)
	}
	nodes, ns, nt, nb := len(temp), len(g.shear), len(g.structural), len(g.bulk)
	buf := make([]float64, nodes*(8+3*ns+2*nt+2*nb))
	cut := func(size int) []float64 {
		s := buf[: nodes*size : nodes*size]
		buf = buf[nodes*size:]
		return s
	}
	g.tf, g.tfRate, g.tfNew, g.phi, g.phiNew = cut(1), cut(1), cut(1), cut(1), cut(1)
	g.stiff, g.bulkStf, g.dxi = cut(1), cut(1), cut(1)
	g.decay, g.part, g.memory = cut(ns), cut(ns), cut(ns)
	g.tfPart, g.tfTrial = cut(nt), cut(nt)
	g.bulkDec, g.bulkPart = cut(nb), cut(nb)
	g.moved = make([]bool, nodes)
	least := p.StartFictive
	if least == 0 {
		least = g.t0 + g.b/(13.5-g.a)
	}
	for i, t := range temp {
		g.tf[i] = math.Max(t, least)
		for j := range g.structural {
			g.tfPart[i*nt+j] = g.tf[i]
		}
		for j, term := range g.shear {
			g.memory[i*ns+j] = term.Weight
		}
		g.phi[i] = g.shift(t, g.tf[i])
	}
	return g
}

// reduced integrates the shift over a step in which it changes from p0 to p1
// exponentially, as it does when temperature changes evenly.
func reduced(p0, p1, dt float64) float64 {
	if p0 <= 0 || p1 <= 0 {
		return 0.5 * (p0 + p1) * dt
	}
	q := p1 / p0
	if q > 0.999 && q < 1.001 {
		return 0.5 * (p0 + p1) * dt
	}
	return dt * (p1 - p0) / math.Log(q)
}

// decayed returns e^−a and (1−e^−a)/a.
func (g *glassState) decayed(a float64) (e, f float64) {
	switch {
	case a < 1e-5:
		return 1 - a, 1 - 0.5*a
	case a > 45:
		return 0, 1 / a
	}
	g.exps++
	e = math.Exp(-a)
	return e, (1 - e) / a
}

// step finds reduced time, fictive temperature and relaxation factors of a
// step from old to new temperatures. The answer is the largest difference
// between predicted and found fictive temperature [K].
func (g *glassState) step(old, now []float64, dt float64) (err float64) {
	ns, nt, nb := len(g.shear), len(g.structural), len(g.bulk)
	for i, t := range now {
		guess := t
		if g.structured {
			guess = g.tf[i] + g.tfRate[i]*dt
		}
		g.phiNew[i] = g.shift(t, guess)
		xi := reduced(g.phi[i], g.phiNew[i], dt)
		g.dxi[i] = xi
		g.moved[i] = xi*g.fast > 1e-7
		if !g.moved[i] {
			g.tfNew[i], g.stiff[i], g.bulkStf[i] = g.tf[i], 1, 1
			continue
		}
		if g.structured {
			s, dT := 0.0, t-old[i]
			for j, term := range g.structural {
				e, f := g.decayed(xi * g.toStruct / term.Time)
				part := t + (g.tfPart[i*nt+j]-old[i])*e - dT*f
				g.tfTrial[i*nt+j] = part
				s += term.Weight * part
			}
			g.tfNew[i] = s
			if d := math.Abs(s - guess); d > err {
				err = d
			}
		} else {
			g.tfNew[i] = t
		}
		stiff := 0.0
		for j, term := range g.shear {
			e, f := g.decayed(xi / term.Time)
			g.decay[i*ns+j] = e
			g.part[i*ns+j] = term.Weight * f
			stiff += term.Weight * f
		}
		g.stiff[i] = stiff
		stiff = 1
		if nb > 0 {
			stiff = g.bulkLong
			for j, term := range g.bulk {
				e, f := g.decayed(xi / term.Time)
				g.bulkDec[i*nb+j] = e
				g.bulkPart[i*nb+j] = (1 - g.bulkLong) * term.Weight * f
				stiff += g.bulkPart[i*nb+j]
			}
		}
		g.bulkStf[i] = stiff
	}
	return err
}

// accept makes the trial step the state.
func (g *glassState) accept(now []float64, dt float64, marking bool) {
	ns, nt := len(g.shear), len(g.structural)
	for i := range g.tf {
		if g.moved[i] {
			copy(g.tfPart[i*nt:i*nt+nt], g.tfTrial[i*nt:i*nt+nt])
			if marking {
				for j := 0; j < ns; j++ {
					g.memory[i*ns+j] *= g.decay[i*ns+j]
				}
			}
		}
		g.tfRate[i] = (g.tfNew[i] - g.tf[i]) / dt
		g.tf[i] = g.tfNew[i]
		g.phi[i] = g.shift(now[i], g.tf[i])
	}
}

// unrelaxed returns the largest share of a starting stress that is left.
func (g *glassState) unrelaxed() float64 {
	ns, most := len(g.shear), 0.0
	for i := range g.tf {
		sum := 0.0
		for j := 0; j < ns; j++ {
			sum += g.memory[i*ns+j]
		}
		most = math.Max(most, sum)
	}
	return most
}
