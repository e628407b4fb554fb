package piece

import (
	"fmt"
	"math"

	"lehr/anneal/formula"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// structuralModulus K_s makes structural relaxation nine times slower than
// shear for soda-lime glass: mean structural time η/K_s.
//
// Source: daudeville1998, tables 1 and 2 [derived].
const structuralModulus = 3.2e9 // [Pa]

// fastStructure is K_s where the structure follows more quickly, four times
// slower than shear. It leaves more stress.
//
// Source: published ratios of the mean times from 2.4 to 10
// [derived]; the four corners are compared in anneal/sim, TestCorners.
const fastStructure = 7.2e9 // [Pa]

// MissingError is a property that a glass needs for a simulation and lacks.
type MissingError struct{ Glass, Property, For string }

func (e *MissingError) Error() string {
	return fmt.Sprintf("glass %q: no %s, so %s", e.Glass, e.Property, e.For)
}

// Hint says what to add.
func (e *MissingError) Hint() string { return "add it to your glass file" }

// Curve is one viscosity curve of a glass, with the middle of its other
// properties, and with the structure that follows more quickly.
type Curve struct{ Middle, FastStructure sim.Variant }

// Material hands a glass to the simulation, with a curve for each of its
// viscosity curves.
func Material(g *glass.Glass) (sim.Material, []Curve, error) {
	need := func(v glass.Value, name, what string) error {
		if !v.Known() || v.Number == 0 && name != "poisson" {
			return &MissingError{g.Name, name, what}
		}
		return nil
	}
	for _, n := range []struct {
		v          glass.Value
		name, what string
	}{
		{g.Density, "density", "heat flow cannot be computed"},
		{g.Young, "young_modulus", "stress cannot be checked"},
		{g.Poisson, "poisson", "stress cannot be checked"},
		{g.Expansion, "expansion", "stress cannot be checked"},
	} {
		if err := need(n.v, n.name, n.what); err != nil {
			return sim.Material{}, nil, err
		}
	}
	m := sim.Material{
		Density:      g.Density.Number,
		Conductivity: g.Conductivity.At,
		SpecificHeat: g.SpecificHeat.At,
		Young:        g.Young.Number, Poisson: g.Poisson.Number,
		Expansion:         g.Expansion.Number,
		StructuralModulus: structuralModulus,
	}
	if g.StructuralModulus.Known() {
		m.StructuralModulus = g.StructuralModulus.Number
	}
	if g.Nonlinearity.Known() {
		m.Nonlinearity = g.Nonlinearity.Number
	}
	if s := g.Spectra; s.Own() {
		m.Shear, m.Structural, m.Bulk, m.BulkLong = terms(s.Shear), terms(s.Structure), terms(s.Bulk), s.BulkLong
	} else if g.Relaxation != "maxwell" {
		weights, times := formula.SixTermShape()
		for i, w := range weights {
			m.Shear = append(m.Shear, sim.Term{Weight: w, Time: times[i]})
		}
	}
	curves, err := g.Curves()
	if err != nil {
		return sim.Material{}, nil, err
	}
	var out []Curve
	for _, c := range curves {
		v := sim.Variant{Name: "viscosity " + c.Name, A: c.A, B: c.B, T0: c.T0, Straight: c.Straight.Kelvin(), ExpansionLiquid: g.ExpansionLiquid.Number}
		if !g.ExpansionLiquid.Known() {
			v.Name += ", no structural relaxation"
			v.ExpansionLiquid = 0
		}
		fast := v
		fast.Name += ", fast structure"
		fast.StructuralModulus = fastStructure
		if own := g.StructuralModulus; own.Known() { // its own range stands in for that of all glasses
			fast.StructuralModulus = own.Number + own.Spread
		}
		out = append(out, Curve{v, fast})
	}
	return m, out, nil
}

// terms hands a relaxation function to the simulation.
func terms(set []glass.Term) (out []sim.Term) {
	for _, t := range set {
		out = append(out, sim.Term{Weight: t.Weight, Time: t.Time})
	}
	return out
}

// naturalConvection is the heat transfer of still air in a kiln [W/m²K].
//
// Source: common practice, the lower end of handbook values for free
// convection; radiation carries nearly all heat above 300 °C.
const naturalConvection = 5.0

// UsualEmissivity is that of a glass for which nobody gives one.
//
// Source: ats129, as of the glasses of the table [derived].
const UsualEmissivity = 0.9

// Surface is how a piece of a glass exchanges heat with the kiln.
func Surface(g *glass.Glass) sim.Surface {
	if g.SurfaceFollows {
		return sim.Surface{Follows: true}
	}
	e := UsualEmissivity
	if g.Emissivity.Known() {
		e = g.Emissivity.Number
	}
	return sim.Surface{HeatTransfer: naturalConvection, Emissivity: e}
}

// The soak range of a glass ends where it begins to mark and sag.
const (
	SoakSlowLog10 = 13.5 // strain point: below, a soak takes many hours
	SoakHotLog10  = 11.5 // compact pieces hold hours here without visible sag
)

// SoakRange returns the temperatures at which a glass can be soaked: from where
// stress relaxes in hours (10^13.5 Pa·s on the stiffer curve) to where a compact
// piece begins to mark and sag in hours (10^11.5 Pa·s on the softer curve).
func SoakRange(g *glass.Glass) (low, high unit.Temp, err error) {
	curves, err := g.Curves()
	if err != nil {
		return low, high, err
	}
	lo, hi := 0.0, math.Inf(1)
	for _, c := range curves {
		l, err := c.At(SoakSlowLog10)
		if err != nil {
			return low, high, err
		}
		h, err := c.At(SoakHotLog10)
		if err != nil {
			return low, high, err
		}
		lo, hi = math.Max(lo, l.Kelvin()), math.Min(hi, h.Kelvin())
	}
	return unit.Kelvin(lo), unit.Kelvin(hi), nil
}

// setLog10 is the viscosity above which a glass keeps the stress it has: it
// relaxes a part in e in about a month [log10 Pa·s].
const setLog10 = 17.0

// SetPoint returns the temperature below which a glass keeps the stress it has:
// where its softer curve is at 10^17 Pa·s. It is the one definition of too cold
// to set. A glass without curves sets, as most do, 130 K below its strain point.
func SetPoint(g *glass.Glass) unit.Temp {
	curves, err := g.Curves()
	if err != nil || len(curves) == 0 {
		return g.Strain.Temp().Add(-130)
	}
	least := 1e4 // [K]: a pinned curve that is stiffer at any temperature never gives way
	for _, c := range curves {
		if t, ok := c.Reach(setLog10); ok {
			least = math.Min(least, t.Kelvin())
		}
	}
	return unit.Kelvin(least)
}

// Log10Viscosity returns the viscosity of the softer curve.
func Log10Viscosity(g *glass.Glass, t unit.Temp) (float64, error) {
	curves, err := g.Curves()
	if err != nil {
		return 0, err
	}
	low := math.Inf(1)
	for _, c := range curves {
		l, err := c.Log10(t)
		if err != nil {
			return 0, err
		}
		low = math.Min(low, l)
	}
	return low, nil
}
