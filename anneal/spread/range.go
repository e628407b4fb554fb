package spread

import (
	"fmt"
	"math"
	"slices"

	"lehr/glass"
)

// Range is how far a property of another piece of such glass may lie from the
// middle value, two standard deviations to either side.
type Range struct {
	Key Unknown
	// Absolute is the range of a temperature [K], Relative that of anything
	// else, as a share of the value; one of the two is 0.
	Absolute, Relative float64
	Status             glass.Status
	Source             string // key of the glass's source list, or ""
	// Default says that the glass states no range and this one stands in.
	Default bool
	Note    string
}

// Unknown is what nobody knows exactly of a piece of glass: a property, by its key
// in the glass file, or a question of model.
type Unknown string

// What [Ranges] lists.
const (
	Conductivity    Unknown = "conductivity"
	PhononPart      Unknown = "conductivity_phonon"
	SpecificHeat    Unknown = "specific_heat"
	Expansion       Unknown = "expansion"
	Young           Unknown = "young_modulus"
	FixedPoints     Unknown = "annealing_point"
	LiquidExpansion Unknown = "expansion_liquid"
	StrainPoint     Unknown = "strain_point"
	SofteningPoint  Unknown = "softening_point"
	WorkingPoint    Unknown = "working_point"
	Absorption      Unknown = "absorption"
)

// What is no range: the second viscosity curve, which is an end of what the first
// stands for, and the questions that nobody can average.
const (
	Viscosity Unknown = "viscosity"
	Structure Unknown = "structure" // the pace of structural relaxation
	Light     Unknown = "light"     // how clear the glass is
)

var unknowns = []Unknown{Light, Structure, Young, FixedPoints, Conductivity, Expansion, LiquidExpansion, SofteningPoint, SpecificHeat, StrainPoint, Viscosity, WorkingPoint, PhononPart, Absorption}

// Unknowns lists what a worst case is made of, in the order in which it is summed.
func Unknowns() []Unknown { return slices.Clone(unknowns) }

// defaults are the ranges of what a glass states without one.
var defaults = []struct {
	Range
	fixed bool
}{
	{Range{Key: Conductivity, Relative: 0.15, Status: glass.Derived,
		Note: "the range that the built-in soft glasses state; the sheets of one kind of glass differ by 10 %"}, false},
	{Range{Key: PhononPart, Relative: 0.15, Status: glass.Derived, Note: "as conductivity"}, false},
	{Range{Key: SpecificHeat, Relative: 0.05, Status: glass.Derived,
		Note: "what the factors of the oxides are good to"}, false},
	{Range{Key: Expansion, Relative: 0.03, Status: glass.CommonPractice,
		Note: "the spread the trade allows within one nominal expansion: 0.3 of 10.4"}, false},
	{Range{Key: Young, Relative: 0.03, Status: glass.Derived,
		Note: "how far the sheets of one kind of glass and its composition models lie apart"}, false},
	{Range{Key: FixedPoints, Absolute: 10, Status: glass.Corroborated,
		Note: "the tolerance of makers' sheets is 5 to 15 K; the other fixed points move with it"}, true},
	{Range{Key: LiquidExpansion, Relative: 0.25, Status: glass.Derived,
		Note: "the mean of what the table states"}, false},
	{Range{Key: StrainPoint}, true},
	{Range{Key: SofteningPoint}, true},
	{Range{Key: WorkingPoint}, true},
}

// Ranges returns the ranges of the properties that matter for stress, for a
// glass that has them: conductivity with and without radiation, specific heat,
// expansion, Young's modulus, fixed points, liquid expansion, absorption. Where
// the glass states none, a default stands in and says so; a person's own value
// with its ± narrows it. A range of another fixed point in a person's own file
// is one of its own; those of the built-in glasses move with the annealing
// point. The two viscosity curves and the pace of the structure
// are no ranges but variants of their own.
//
// Poisson's ratio and density are left out: their ranges change no stress by a
// per cent.
func Ranges(g *glass.Glass) []Range {
	var out []Range
	for _, d := range defaults {
		v, ok := g.Value(string(d.Key))
		if !ok || v.Number == 0 || d.fixed && d.Absolute == 0 && !slices.Contains(g.Alone, string(d.Key)) {
			continue
		}
		r := d.Range
		r.Default = v.Spread <= 0
		if !r.Default {
			r.Status, r.Source, r.Note = v.Status, v.Source, v.Note
			if d.fixed {
				r.Absolute = v.Spread
			} else {
				r.Relative = v.Spread / math.Abs(v.Number)
			}
		}
		out = append(out, r)
	}
	if len(g.Absorption) > 0 {
		r := Range{Key: Absorption, Status: glass.Memory, Relative: 1,
			Note: "each band over its own range; it matters for clear glass only"}
		for _, b := range g.Absorption {
			r.Relative = math.Min(r.Relative, b.High/b.Number-1)
		}
		out = append(out, r)
	}
	return out
}

// Known returns the glass as if one property had been measured: its range is a
// thousandth of what it was, nothing for absorption. The glass itself is not
// changed.
//
// Errors: a key that [Ranges] does not list for this glass.
func Known(g *glass.Glass, key Unknown) (*glass.Glass, error) {
	i := slices.IndexFunc(Ranges(g), func(r Range) bool { return r.Key == key })
	if i < 0 {
		return nil, fmt.Errorf("glass %q: has no range for %q", g.Name, key)
	}
	r := Ranges(g)[i]
	c := *g
	narrow := func(v *glass.Value) {
		v.Spread = (r.Absolute + r.Relative*math.Abs(v.Number)) / 1000
	}
	switch key {
	case Conductivity:
		narrow(&c.Conductivity.Value)
	case PhononPart:
		narrow(&c.ConductivityPhonon.Value)
	case SpecificHeat:
		narrow(&c.SpecificHeat.Value)
	case Expansion:
		narrow(&c.Expansion)
	case Young:
		narrow(&c.Young)
	case LiquidExpansion:
		narrow(&c.ExpansionLiquid)
	case FixedPoints:
		narrow(&c.Anneal)
	case StrainPoint:
		narrow(&c.Strain)
	case SofteningPoint:
		narrow(&c.Soften)
	case WorkingPoint:
		narrow(&c.Work)
	case Absorption:
		c.Absorption = slices.Clone(g.Absorption)
		for i := range c.Absorption {
			c.Absorption[i].Low, c.Absorption[i].High = c.Absorption[i].Number, c.Absorption[i].Number
		}
	}
	return &c, nil
}
