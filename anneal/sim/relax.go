package sim

import "math"

// glassState follows fictive temperature and relaxation along one viscosity
// curve. All variants on that curve, with whatever expansion of the liquid,
// share it.
type glassState struct {
	v          Variant // with its structural modulus filled in
	structured bool
	straight   [2]float64 // log10 of the viscosity at Variant.Straight, its slope with 1/T below
	x          float64    // nonlinearity
	lnShear    float64    // ln of G/Pa
	shear      series
	structural series
	bulk       series
	bulkLong   float64
	lnFast     float64 // ln of the largest rate of any term, relative to G/η

	tf       []float64 // fictive temperature, n+1 nodes [K]
	tfPart   []float64 // partial fictive temperatures, node-major
	tfTrial  []float64 // the same after the trial step
	tfRate   []float64 // dTf/dt of the last step [K/s]
	tfNew    []float64 // trial
	guess    []float64 // fictive temperature with which phiNew was found
	ln       []float64 // ln(G/η · s)
	lnNew    []float64 // trial
	phi      []float64 // G/η [1/s], 0 where it has not been asked for
	phiNew   []float64 // trial
	moved    []bool    // node relaxed in the trial step
	frozen   bool      // no node did
	decay    []float64 // exp(−Δξ/τ_j), shear, node-major
	part     []float64 // w_j (1−exp(−Δξ/τ_j))/(Δξ/τ_j), shear, node-major
	stiff    []float64 // the sum of part, per node
	bulkDec  []float64 // as decay, bulk
	bulkPart []float64 // as part, bulk
	bulkStf  []float64 // as stiff, bulk with its long-time share
	memory   []float64 // a unit stress of the start, by shear term, node-major
	fade     []float64 // what is left of each structural term and its mean, of one node
	exps     int
	active   bool // some node is neither liquid nor frozen in the trial step
	section  *section
}

// series is a set of terms laid out for the inner loops: rates, not times.
type series struct{ weight, rate, time, inverse []float64 } // inverse of weight

func newSeries(set []Term, scale float64) series {
	s := series{make([]float64, len(set)), make([]float64, len(set)), make([]float64, len(set)), make([]float64, len(set))}
	for i, t := range set {
		s.weight[i], s.rate[i], s.time[i] = t.Weight, scale/t.Time, t.Time/scale
		if t.Weight > 0 {
			s.inverse[i] = 1 / t.Weight
		}
	}
	return s
}

// shift returns ln(G/η(T, Tf) · s): the equilibrium viscosity at Tf moved to T
// along the glass's own activation energy there, reduced by x. With T0 = 0 it
// is exactly the shift of Tool, Narayanaswamy and Moynihan.
func (g *glassState) shift(kelvin, tf float64) float64 {
	var l float64
	if !g.structured {
		l = g.v.Log10(kelvin)
	} else if tf < g.v.Straight {
		l = g.straight[0] + g.straight[1]*(1/tf-1/g.v.Straight+g.x*(1/kelvin-1/tf))
	} else {
		d := max(tf-g.v.T0, 1)
		l = g.v.A + g.v.B/d + g.x*g.v.B*(tf-kelvin)*tf/(d*d*kelvin)
	}
	return g.lnShear - math.Ln10*max(l, runnyLog10)
}

func newGlassState(p *Problem, v Variant, temp []float64) *glassState {
	m := p.Material
	g := &glassState{v: v, structured: v.ExpansionLiquid != 0,
		x: m.Nonlinearity, bulkLong: m.BulkLong}
	if v.Straight > 0 {
		g.straight[0], g.straight[1] = v.line()
	}
	shear := m.Young / (2 * (1 + m.Poisson))
	g.lnShear = math.Log(shear)
	g.shear, g.bulk = newSeries(m.Shear, 1), newSeries(m.Bulk, 1)
	if g.structured {
		g.structural = newSeries(m.Structural, v.StructuralModulus/shear)
	}
	fast := 0.0
	for _, s := range []series{g.shear, g.bulk, g.structural} {
		for _, rate := range s.rate {
			fast = math.Max(fast, rate)
		}
	}
	g.lnFast = math.Log(fast)
	nodes, ns, nt, nb := len(temp), len(g.shear.rate), len(g.structural.rate), len(g.bulk.rate)
	g.fade = make([]float64, 2*nt)
	buf := make([]float64, nodes*(10+3*ns+2*nt+2*nb))
	cut := func(size int) []float64 {
		s := buf[: nodes*size : nodes*size]
		buf = buf[nodes*size:]
		return s
	}
	g.tf, g.tfRate, g.tfNew, g.guess = cut(1), cut(1), cut(1), cut(1)
	g.ln, g.lnNew, g.phi, g.phiNew = cut(1), cut(1), cut(1), cut(1)
	g.stiff, g.bulkStf = cut(1), cut(1)
	g.decay, g.part, g.memory = cut(ns), cut(ns), cut(ns)
	g.tfPart, g.tfTrial = cut(nt), cut(nt)
	g.bulkDec, g.bulkPart = cut(nb), cut(nb)
	g.moved = make([]bool, nodes)
	least := p.StartFictive
	if least == 0 {
		least = v.isokom(13.5)
	}
	for i, t := range temp {
		g.tf[i] = math.Max(t, least)
		for j := range g.structural.rate {
			g.tfPart[i*nt+j] = g.tf[i]
		}
		copy(g.memory[i*ns:i*ns+ns], g.shear.weight)
		g.ln[i] = g.shift(t, g.tf[i])
	}
	return g
}

// relaxesAs reports whether a variant relaxes as this one does, whatever its
// expansions.
func (g *glassState) relaxesAs(v Variant) bool {
	w := g.v
	same := w.A == v.A && w.B == v.B && w.T0 == v.T0 && w.Straight == v.Straight
	structured := v.ExpansionLiquid != 0
	return same && g.structured == structured && (!structured || w.StructuralModulus == v.StructuralModulus)
}

// decayed fills e and f with e^−a and (1−e^−a)/a for the reduced time xi > 0, a of
// each term, to 1e-9.
func (g *glassState) decayed(s *series, xi float64, e, f []float64) {
	inverse := 1 / xi
	times := s.time[:len(s.rate)]
	e, f = e[:len(s.rate)], f[:len(s.rate)]
	for j, rate := range s.rate {
		a := xi * rate
		switch {
		case a < 0.1:
			f[j] = 1 - a*(1.0/2-a*(1.0/6-a*(1.0/24-a*(1.0/120-a*(1.0/720)))))
			e[j] = 1 - a*f[j]
		case !(a <= mostDecayed):
			e[j], f[j] = 0, inverse*times[j]
		default:
			g.exps++
			// Steps of a table, and a series for what is left.
			n := int(a*perFold + 0.5)
			x := float64(n)/perFold - a
			e[j] = folds[n] * (1 + x*(1+x*(1.0/2+x*(1.0/6+x*(1.0/24)))))
			f[j] = (1 - e[j]) * (inverse * times[j])
		}
	}
}

// mostDecayed is the exponent from which nothing counts as left, and perFold how
// many steps of folds, which are e^−(n/perFold), are one e-fold.
const (
	mostDecayed = 40
	perFold     = 32
)

var folds = func() (out [mostDecayed*perFold + 1]float64) {
	for n := range out {
		out[n] = math.Exp(-float64(n) / perFold)
	}
	return out
}()

// exp returns e^x to 1e-11: a power of two by its bits, a part of one from a table, and
// a series for what is left.
func exp(x float64) float64 {
	const least, most = -700, 700
	if !(x > least && x < most) {
		return math.Exp(x)
	}
	n := int(x*(partsOfTwo/math.Ln2)+(1-partsOfTwo*2*least)) + (partsOfTwo*2*least - 1) // the part below
	r := x - float64(n)*(math.Ln2/partsOfTwo)
	return math.Float64frombits(uint64(1023+n>>partsBits)<<52) * parts[n&(partsOfTwo-1)] * (1 + r*(1+r*(1.0/2+r*(1.0/6+r*(1.0/24)))))
}

// parts are the powers of two that lie between one and two, partsOfTwo of them.
const (
	partsBits  = 6
	partsOfTwo = 1 << partsBits
)

var parts = func() (out [partsOfTwo]float64) {
	for n := range out {
		out[n] = math.Exp2(float64(n) / partsOfTwo)
	}
	return out
}()

// stillLimit is the greatest share of its slowest-relaxing part that a node may
// lose in a step and still count as not relaxing. It must be so small that
// thousands of such steps do not show: a node may stop only when even the
// fastest of its terms has, or the moment it stops is frozen into the stress.
var stillLimit = math.Log(1e-7)

// activeLimit is the share above which a node counts as active, so that the
// step control follows its relaxation.
var activeLimit = math.Log(0.03)

// step finds reduced time, fictive temperature and relaxation factors of a
// step from old to new temperatures. The answer is the largest difference
// between predicted and found fictive temperature [K].
func (g *glassState) step(old, now []float64, dt float64) (err float64) {
	nt, nb := len(g.structural.rate), len(g.bulk.rate)
	g.frozen, g.active = true, false
	perStep := g.lnFast + math.Log(dt)
	still, active := stillLimit-perStep, activeLimit-perStep
	for i, t := range now {
		guess := t
		if g.structured {
			guess = g.tf[i] + g.tfRate[i]*dt
		}
		ln0, ln := g.ln[i], g.shift(t, guess)
		g.guess[i], g.lnNew[i] = guess, ln
		if g.moved[i] = ln0 > still || ln > still; !g.moved[i] {
			g.tfNew[i], g.stiff[i], g.bulkStf[i] = g.tf[i], 1, 1
			continue
		}
		g.frozen = false
		// The shift changes exponentially as temperature changes evenly.
		p0, p1 := g.phi[i], exp(ln)
		if p0 == 0 {
			p0 = exp(ln0)
			g.phi[i] = p0
		}
		g.phiNew[i] = p1
		xi := 0.5 * (p0 + p1) * dt
		if d := ln - ln0; math.Abs(d) > 1e-4 {
			xi = (p1 - p0) / d * dt
		}
		g.active = g.active || (xi < liquidReduced && ln > active)
		if g.structured {
			s, dT, o := 0.0, t-old[i], old[i]
			part, trial := g.tfPart[i*nt:i*nt+nt], g.tfTrial[i*nt:i*nt+nt]
			e, f := g.fade[:nt], g.fade[nt:nt+nt]
			g.decayed(&g.structural, xi, e, f)
			for j, weight := range g.structural.weight[:nt] {
				v := t + (part[j]-o)*e[j] - dT*f[j]
				trial[j] = v
				s += weight * v
			}
			g.tfNew[i] = s
			if d := math.Abs(s - guess); d > err {
				err = d
			}
		} else {
			g.tfNew[i] = t
		}
		g.stiff[i] = g.relax(&g.shear, xi, i, g.decay, g.part, 1)
		if nb > 0 {
			g.bulkStf[i] = g.bulkLong + g.relax(&g.bulk, xi, i, g.bulkDec, g.bulkPart, 1-g.bulkLong)
		} else {
			g.bulkStf[i] = 1
		}
	}
	return err
}

// relax fills decay and part of node i for the reduced time xi and returns the
// sum of part.
func (g *glassState) relax(s *series, xi float64, i int, decay, part []float64, share float64) (sum float64) {
	n := len(s.rate)
	part = part[i*n : i*n+n]
	g.decayed(s, xi, decay[i*n:i*n+n], part)
	for j, weight := range s.weight[:n] {
		part[j] *= share * weight
		sum += part[j]
	}
	return sum
}

// accept makes the trial step the state.
func (g *glassState) accept(now []float64, dt float64, marking bool) {
	ns, nt := len(g.shear.rate), len(g.structural.rate)
	for i := range g.tf {
		if !g.moved[i] {
			g.tfRate[i], g.ln[i], g.phi[i] = 0, g.shift(now[i], g.tf[i]), 0
			continue
		}
		copy(g.tfPart[i*nt:i*nt+nt], g.tfTrial[i*nt:i*nt+nt])
		if marking {
			for j := i * ns; j < i*ns+ns; j++ {
				g.memory[j] *= g.decay[j]
			}
		}
		g.tfRate[i] = (g.tfNew[i] - g.tf[i]) / dt
		g.tf[i] = g.tfNew[i]
		// The fictive temperature found differs from the predicted one.
		g.ln[i], g.phi[i] = g.lnNew[i], g.phiNew[i]
		if g.structured && g.tf[i] != g.guess[i] {
			g.ln[i] = g.shift(now[i], g.tf[i])
			if d := g.ln[i] - g.lnNew[i]; math.Abs(d) < 0.02 {
				g.phi[i] *= 1 + d*(1+d/2*(1+d/3*(1+d/4)))
			} else {
				g.phi[i] = exp(g.ln[i])
			}
		}
	}
}

// unrelaxed returns the largest share of a starting stress that is left.
func (g *glassState) unrelaxed() float64 {
	ns, most := len(g.shear.rate), 0.0
	for i := range g.tf {
		sum := 0.0
		for j := 0; j < ns; j++ {
			sum += g.memory[i*ns+j]
		}
		most = math.Max(most, sum)
	}
	return most
}
