package sim

import (
	"fmt"
	"math"
)

func bad(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrProblem, fmt.Sprintf(format, args...))
}

func positive(x float64) bool { return x > 0 && !math.IsInf(x, 1) }

// check refuses what cannot be simulated and names it.
func (p *Problem) check() error {
	for _, check := range []func() error{p.Body.check, p.Material.check, p.checkStart, p.checkSurface} {
		if err := check(); err != nil {
			return err
		}
	}
	if len(p.Variants) == 0 {
		return bad("no viscosity given")
	}
	for _, v := range p.Variants {
		if err := v.check(); err != nil {
			return err
		}
	}
	length, err := p.Kiln.check()
	if err != nil {
		return err
	}
	if p.Mark < 0 || p.Mark > length || math.IsNaN(p.Mark) {
		return bad("end of soak at %g s lies outside the program of %g s", p.Mark, length)
	}
	return nil
}

func (b Body) check() error {
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
	}
	return nil
}

func (m Material) check() error {
	switch {
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
	}
	for _, set := range [][]Term{m.Shear, m.Bulk, m.Structural} {
		if err := checkTerms(set); err != nil {
			return err
		}
	}
	return nil
}

// checkTerms refuses a set of relaxation terms, if there is one.
func checkTerms(set []Term) error {
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
	return nil
}

// checkStart refuses what a piece begins with and ends at.
func (p *Problem) checkStart() error {
	switch {
	case p.StartFictive != 0 && !positive(p.StartFictive):
		return bad("fictive temperature %g K at the start must be positive", p.StartFictive)
	case p.Room != 0 && !positive(p.Room):
		return bad("room temperature %g K must be positive", p.Room)
	case p.Start == nil:
		return bad("no starting temperature given")
	}
	return nil
}

// checkSurface refuses a surface, and light of another body.
func (p *Problem) checkSurface() error {
	s := p.Surface
	switch {
	case !s.Follows && !(s.HeatTransfer >= 0 && !math.IsInf(s.HeatTransfer, 1)):
		return bad("heat transfer %g W/m²K must not be negative", s.HeatTransfer)
	case !s.Follows && !(s.Emissivity >= 0 && s.Emissivity <= 1):
		return bad("emissivity %g must lie between 0 and 1", s.Emissivity)
	case p.Light != nil && !p.Light.fits(p.Body):
		return bad("light was traced for a %v of %g m, not for this body", p.Light.body.Form, p.Light.body.Outer)
	case !s.Follows && s.HeatTransfer+s.Emissivity == 0:
		return bad("surface neither follows the kiln nor exchanges heat with it")
	}
	return nil
}

func (v Variant) check() error {
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
	return nil
}

// check refuses a program, or returns its length [s].
func (k Kiln) check() (length float64, err error) {
	if k.At == nil || len(k.Kinks) == 0 {
		return 0, bad("no kiln program given")
	}
	for i, t := range k.Kinks {
		if !(t >= length) || math.IsInf(t, 0) || (i > 0 && t == length) {
			return 0, bad("kiln program: time %g s comes after %g s", t, length)
		}
		length = t
		if temp := k.At(t); !positive(temp) {
			return 0, bad("kiln program: temperature %g K at %g s", temp, t)
		}
	}
	if !positive(length) {
		return 0, bad("kiln program has no length")
	}
	return length, nil
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
