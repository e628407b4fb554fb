package sim

import (
	"fmt"
	"math"
)

func bad(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrProblem, fmt.Sprintf(format, args...))
}

func positive(x float64) bool { return x > 0 && !math.IsInf(x, 1) }

// check refuses what cannot be simulated and names it. It is one list of
// refusals, each a branch.
func (p *Problem) check() error {
	b, m := p.Body, p.Material
	switch {
	case b.Form < Slab || b.Form > Sphere:
		return bad("form %d unknown", b.Form)
	case !positive(b.Outer):
		return bad("size %g m must be positive and finite", b.Outer)
	case b.Inner < 0 || b.Inner >= b.Outer || math.IsNaN(b.Inner):
		return bad("bore radius %g m must lie between 0 and the outer radius %g m", b.Inner, b.Outer)
	case b.Inner > 0 && b.Form == Slab:
		return bad("a slab has no bore")
	case b.InnerOpen && (b.Inner == 0 || b.Form != Cylinder):
		return bad("an open bore needs the bore of a cylinder")
	case b.OneFace && b.Form != Slab:
		return bad("only a slab has one face closed")
	case b.Held && !b.OneFace:
		return bad("only a slab with one face closed can be held")
	case !positive(m.Density):
		return bad("density %g kg/m³ must be positive", m.Density)
	case m.Conductivity == nil || m.SpecificHeat == nil:
		return bad("conductivity and specific heat are missing")
	case !positive(m.Young):
		return bad("Young's modulus %g Pa must be positive", m.Young)
	case !(m.Poisson > -1 && m.Poisson < 0.5):
		return bad("Poisson's ratio %g must lie between -1 and 0.5", m.Poisson)
	case math.IsNaN(m.Expansion) || math.Abs(m.Expansion) > 1e-3:
		return bad("expansion %g /K is not that of a glass", m.Expansion)
	case !(m.BulkLong >= 0 && m.BulkLong <= 1):
		return bad("long-time bulk modulus %g of the instant one must lie between 0 and 1", m.BulkLong)
	case !(m.Nonlinearity >= 0 && m.Nonlinearity <= 1):
		return bad("nonlinearity %g must lie between 0 and 1", m.Nonlinearity)
	case m.StructuralModulus != 0 && !positive(m.StructuralModulus):
		return bad("structural modulus %g Pa must be positive", m.StructuralModulus)
	case p.StartFictive != 0 && !positive(p.StartFictive):
		return bad("fictive temperature %g K at the start must be positive", p.StartFictive)
	case p.Room != 0 && !positive(p.Room):
		return bad("room temperature %g K must be positive", p.Room)
	case len(p.Variants) == 0:
		return bad("no viscosity given")
	case p.Kiln.At == nil || len(p.Kiln.Kinks) == 0:
		return bad("no kiln program given")
	case p.Start == nil:
		return bad("no starting temperature given")
	case !p.Surface.Follows && !(p.Surface.Film >= 0 && !math.IsInf(p.Surface.Film, 1)):
		return bad("film %g W/m²K must not be negative", p.Surface.Film)
	case !p.Surface.Follows && !(p.Surface.Emissivity >= 0 && p.Surface.Emissivity <= 1):
		return bad("emissivity %g must lie between 0 and 1", p.Surface.Emissivity)
	case p.Light != nil && !p.Light.fits(b):
		return bad("light was traced for a %v of %g m, not for this body", p.Light.body.Form, p.Light.body.Outer)
	case !p.Surface.Follows && p.Surface.Film+p.Surface.Emissivity == 0:
		return bad("surface neither follows the kiln nor exchanges heat with it")
	}
	for _, v := range p.Variants {
		if !(v.B >= 0) || math.IsInf(v.B, 0) || math.IsNaN(v.A+v.T0+v.ExpansionLiquid) || math.IsInf(v.A+v.T0+v.ExpansionLiquid, 0) {
			return bad("viscosity curve %q: A, B, T0 must be finite and B not negative", v.Name)
		}
		if v.Straight != 0 && !(v.Straight > v.T0+1 && positive(v.Straight)) {
			return bad("viscosity curve %q: straight below %g K, which must lie above T0 %g K", v.Name, v.Straight, v.T0)
		}
		if v.StructuralModulus != 0 && !positive(v.StructuralModulus) {
			return bad("structural modulus %g Pa of %q must be positive", v.StructuralModulus, v.Name)
		}
		if math.Abs(v.ExpansionLiquid) > 1e-3 {
			return bad("expansion of the liquid %g /K is not that of a glass", v.ExpansionLiquid)
		}
	}
	for _, set := range [][]Term{m.Shear, m.Bulk, m.Structural} {
		sum := 0.0
		for _, t := range set {
			if !positive(t.Time) || !(t.Weight >= 0) {
				return bad("relaxation term with weight %g and time %g", t.Weight, t.Time)
			}
			sum += t.Weight
		}
		if len(set) > 0 && math.Abs(sum-1) > 2e-3 {
			return bad("relaxation weights sum to %.4f, want 1", sum)
		}
	}
	last := 0.0
	for i, t := range p.Kiln.Kinks {
		if !(t >= last) || math.IsInf(t, 0) || (i > 0 && t == last) {
			return bad("kiln program: time %g s comes after %g s", t, last)
		}
		last = t
		if k := p.Kiln.At(t); !positive(k) {
			return bad("kiln program: temperature %g K at %g s", k, t)
		}
	}
	if !positive(last) {
		return bad("kiln program has no length")
	}
	if p.Mark < 0 || p.Mark > last || math.IsNaN(p.Mark) {
		return bad("end of soak at %g s lies outside the program of %g s", p.Mark, last)
	}
	return nil
}

// check refuses settings that cannot be worked with.
func (s Settings) check() error {
	switch {
	case s.Cells < 4 || s.Cells > 4096:
		return bad("settings: %d cells, want 4 to 4096", s.Cells)
	case !positive(s.Tolerance) || !positive(s.MaxChange):
		return bad("settings: tolerance %g K and change %g K must be positive", s.Tolerance, s.MaxChange)
	case s.FixedStep != 0 && !positive(s.FixedStep):
		return bad("settings: step %g s must be positive", s.FixedStep)
	case s.MaxSteps < 1:
		return bad("settings: %d steps, want one or more", s.MaxSteps)
	}
	return nil
}
