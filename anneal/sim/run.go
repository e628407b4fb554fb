package sim

import (
	"fmt"
	"math"
	"slices"
)

// fill puts the documented defaults in place of zero values.
func (s Settings) fill() Settings {
	if s.MaxChange == 0 {
		s.MaxChange = 8
	}
	if s.MaxSteps == 0 {
		s.MaxSteps = 20000
	}
	return s
}

func (m Material) fill() Material {
	if len(m.Shear) == 0 {
		m.Shear = []Term{{1, 1}}
	}
	if len(m.Structural) == 0 {
		m.Structural = meanOne(m.Shear)
	}
	if m.StructuralModulus == 0 {
		m.StructuralModulus = 3.2e9
	}
	if m.Nonlinearity == 0 {
		m.Nonlinearity = 0.5
	}
	return m
}

// meanOne scales the times of a set so that its mean time is 1.
func meanOne(set []Term) []Term {
	mean := 0.0
	for _, t := range set {
		mean += t.Weight * t.Time
	}
	out := make([]Term, len(set))
	for i, t := range set {
		out[i] = Term{t.Weight, t.Time / mean}
	}
	return out
}

// run is the state of one Run.
type run struct {
	p       *Problem
	s       Settings
	heat    *heat
	states  []*glassState
	fields  []*field
	out     []Outcome
	res     Result
	watches []watch
	stiff   float64 // the step the error control would like next [s]
}

// Run simulates the problem. An error means that there is no answer: the
// problem is not well put (wraps ErrProblem), or the step control gave up
// (wraps ErrNotConverged, with the time). The work is bounded by
// Settings.MaxSteps.
func Run(p Problem, s Settings) (Result, error) { return simulate(p, s, nil) }

func simulate(p Problem, s Settings, shape Shape) (Result, error) {
	if err := p.check(); err != nil {
		return Result{}, err
	}
	p.Material = p.Material.fill()
	s = s.fill().fit(&p)
	if err := s.check(); err != nil {
		return Result{}, err
	}
	r, err := newRun(&p, s, shape)
	if err != nil {
		return Result{}, err
	}
	t := 0.0
	for span, end := range p.Kiln.Kinks {
		if end <= t {
			continue
		}
		stops := [2]float64{end, end}
		if p.Mark > t && p.Mark < end {
			stops[0] = p.Mark
		}
		for _, stop := range stops {
			if t, err = r.span(t, stop, span); err != nil {
				return Result{}, err
			}
			if p.Mark == t {
				r.mark()
			}
		}
	}
	r.finish()
	return r.res, nil
}

func newRun(p *Problem, s Settings, shape Shape) (*run, error) {
	if p.Light != nil {
		s.Cells = p.Light.cells()
	}
	low, high := math.Inf(1), math.Inf(-1)
	see := func(k float64) { low, high = math.Min(low, k), math.Max(high, k) }
	see(p.Kiln.At(0))
	for _, t := range p.Kiln.Kinks {
		see(p.Kiln.At(t))
	}
	for i := 0; i <= s.Cells; i++ {
		k := p.Start(float64(i) / float64(s.Cells))
		if !positive(k) {
			return nil, bad("starting temperature %g K", k)
		}
		see(k)
	}
	if high > 4000 {
		return nil, bad("temperature %.0f K is beyond any glass work", high)
	}
	r := &run{p: p, s: s}
	comps := 0
	if shape == nil {
		r.heat = newHeat(p, s.Cells, low-8, high+8)
	} else {
		r.heat, comps = newShapeHeat(p, shape, low-8, high+8)
	}
	for i := range r.heat.temp {
		if k, c := r.heat.k.at(r.heat.temp[i]), r.heat.c.at(r.heat.temp[i]); !positive(k) || !positive(c) {
			return nil, bad("conductivity %g W/mK or specific heat %g J/kgK at %.0f K", k, c, r.heat.temp[i])
		}
	}
	for _, t := range [2]table{r.heat.k, r.heat.c} {
		for i, v := range t.value {
			if !positive(v) {
				return nil, bad("conductivity or specific heat %g at %.0f K", v, t.low+tableSpacing*float64(i))
			}
		}
	}
	if p.Surface.Follows && shape == nil {
		r.heat.temp[s.Cells] = p.Kiln.At(0)
		if p.Body.InnerOpen {
			r.heat.temp[0] = p.Kiln.At(0)
		}
	}
	r.heat.means(r.heat.temp, r.heat.was)
	for _, v := range p.Variants {
		if v.StructuralModulus == 0 {
			v.StructuralModulus = p.Material.StructuralModulus
		}
		var g *glassState
		for _, have := range r.states {
			if have.relaxesAs(v) {
				g = have
			}
		}
		if g == nil {
			g = newGlassState(p, v, r.heat.was)
			g.section = newSection(r.heat, p.Material)
			r.states = append(r.states, g)
		}
		r.fields = append(r.fields, newField(r.heat, g, v, p.Material, comps))
		r.out = append(r.out, Outcome{Variant: v, Unrelaxed: 1})
	}
	r.watches = make([]watch, len(r.out))
	for i := range r.watches {
		if shape != nil {
			r.out[i].PeakRho, r.out[i].PeakBySpan = 1, make([]float64, len(p.Kiln.Kinks))
			continue
		}
		r.watches[i].open(r.heat, &r.out[i])
	}
	r.stiff = 1e-3 * r.heat.slowest
	r.look(0, 0)
	return r, nil
}

// span steps from t to end, within which the kiln has no kink.
func (r *run) span(t, end float64, index int) (float64, error) {
	if t >= end {
		return t, nil
	}
	r.stiff = math.Min(r.stiff, 0.02*r.heat.slowest)
	for i := range r.watches { // a kink ends the smooth stretch
		r.watches[i].kink()
	}
	for t < end {
		if r.res.Stats.Steps+r.res.Stats.Rejected >= r.s.MaxSteps {
			return t, &StopError{t, fmt.Sprintf("it took %d steps, limit %d", r.res.Stats.Steps, r.s.MaxSteps)}
		}
		dt, last := r.length(end - t)
		errK, change, scale := r.try(t, dt)
		if r.s.FixedStep == 0 && scale > 1.2 {
			if dt < 1e-7 || math.IsNaN(scale) {
				return t, &StopError{t, fmt.Sprintf("step %.2g s, local error %.3g K, limit %g K", dt, errK, r.s.Tolerance)}
			}
			r.res.Stats.Rejected++
			r.stiff = dt * math.Max(0.2, 0.85/math.Sqrt(scale))
			continue
		}
		r.advance(t, dt)
		if last {
			t = end
		} else {
			t += dt
		}
		r.res.Stats.Steps++
		r.res.Stats.LargestChange = math.Max(r.res.Stats.LargestChange, change)
		r.look(t, index)
		if grow := math.Min(3, 0.85/math.Sqrt(math.Max(scale, 1e-6))); !last || grow < 1 {
			r.stiff = dt * grow
		}
	}
	return t, nil
}

// length returns the next step of what is left of a span, and whether it is the
// last. The one before the last takes half, so that no sliver is left.
func (r *run) length(remaining float64) (dt float64, last bool) {
	dt = r.stiff
	if r.s.FixedStep > 0 {
		dt = r.s.FixedStep
	}
	if dt >= remaining*(1-1e-9) {
		return remaining, true
	}
	if dt > 0.5*remaining && r.s.FixedStep == 0 {
		dt = 0.5 * remaining
	}
	return dt, false
}

// try tries a step: heat, then relaxation in the states. It returns the local
// error of the temperature [K], its greatest change [K], and the greatest of all
// errors as a share of what is allowed, to the power 2/3; infinite if the field
// is no temperature.
func (r *run) try(t, dt float64) (errK, change, scale float64) {
	h := r.heat
	errK = h.step(t, dt)
	scale = math.Pow(errK/r.s.Tolerance, 2.0/3) // the error is of third order
	for i, now := range h.trial {
		change = max(change, math.Abs(now-h.temp[i]))
		if !(now > 0) || math.IsInf(now, 1) {
			scale = math.Inf(1)
		}
	}
	h.means(h.trial, h.mean)
	limit := r.s.MaxChange
	active := false
	if !math.IsInf(scale, 1) {
		scale, active = r.relax(scale, dt)
	}
	if !active {
		limit *= 10
	}
	return errK, change, math.Max(scale, (change/limit)*(change/limit))
}

// relax tries the relaxation of a step and raises the scale of its error to that
// of structure and stress. active says that some of the glass relaxes.
func (r *run) relax(scale, dt float64) (_ float64, active bool) {
	h := r.heat
	for _, g := range r.states {
		if math.IsInf(scale, 1) {
			break
		}
		// An error of fictive temperature weighs as one of temperature does.
		scale = math.Max(scale, g.step(h.was, h.mean, dt)/(2*r.s.Tolerance))
		active = active || g.active
	}
	// An error of stress weighs as the temperature that would cause it.
	m := &r.p.Material
	perKelvin := m.Young * math.Max(math.Abs(m.Expansion), 1e-7) / (1 - m.Poisson)
	for _, f := range r.fields {
		if !f.g.frozen && !math.IsInf(scale, 1) {
			scale = math.Max(scale, f.relaxError(r.s.Tolerance*perKelvin))
		}
	}
	return scale, active
}

// advance accepts the trial step of heat and relaxation and moves the stress.
func (r *run) advance(t, dt float64) {
	h := r.heat
	for _, g := range r.states {
		g.section.update(g)
	}
	for _, f := range r.fields {
		f.advance(h, f.g.tf, f.g.tfNew)
	}
	for _, g := range r.states {
		g.accept(h.mean, dt, r.p.Mark > t)
	}
	h.accept(t, dt)
}

// lag is the difference between the hottest and the coldest place.
func (h *heat) lag() float64 {
	return slices.Max(h.temp) - slices.Min(h.temp)
}

func (r *run) mark() {
	h := r.heat
	r.res.MarkLag = h.lag()
	for i, f := range r.fields {
		r.out[i].Unrelaxed = f.g.unrelaxed()
	}
}

// finish lets the piece come to room temperature without relaxing and keeps
// the stress that is left.
func (r *run) finish() {
	h := r.heat
	room := r.p.Room
	if room == 0 {
		room = r.p.Kiln.At(r.p.Kiln.Kinks[len(r.p.Kiln.Kinks)-1])
	}
	r.res.Temperature = append([]float64(nil), h.temp...)
	for i := range h.mean {
		h.mean[i] = room
	}
	for _, g := range r.states {
		for i := range g.moved {
			g.moved[i], g.stiff[i], g.bulkStf[i] = false, 1, 1
		}
		g.frozen = true
		g.section.update(g)
		r.res.Stats.Exponentials += g.exps
	}
	for i, f := range r.fields {
		f.advance(h, f.g.tf, f.g.tf)
		o := &r.out[i]
		if h.other != nil {
			last := len(r.p.Kiln.Kinks) - 1
			h.other.Look(Look{Variant: i, Time: r.p.Kiln.Kinks[last], Kiln: room, Span: last, Temp: h.temp, Stress: f.look, AtRoom: true})
		} else {
			o.Residual = newProfile(h)
			f.profile(h, &o.Residual)
			inside, surface := f.tension(h.core)
			o.ResidualInside, o.ResidualSurface = inside.tension, surface.tension
		}
		o.FictiveCenter, o.FictiveSurface = f.g.tf[0], f.g.tf[h.n]
	}
	r.res.Stats.HeatIn, r.res.Stats.HeatStored = h.heatIn, h.heatStored
	r.res.Outcomes = r.out
}
