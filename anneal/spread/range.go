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
	Key  string // of the glass file: "conductivity"
	Name string // in words
	// Absolute is the range of a temperature [K], Relative that of anything
	// else, as a share of the value; one of the two is 0.
	Absolute, Relative float64
	Status             glass.Status
	Source             string // key of the glass's source list, or ""
	// Default says that the glass states no range and this one stands in.
	Default bool
	Note    string
}

// Keys of what [Ranges] lists.
const (
	Conductivity       = "conductivity"
	conductivityPhonon = "conductivity_phonon"
	SpecificHeat       = "specific_heat"
	Expansion          = "expansion"
	Young              = "young_modulus"
	FixedPoints        = "annealing_point"
	LiquidExpansion    = "expansion_liquid"
	StrainPoint        = "strain_point"
	SofteningPoint     = "softening_point"
	WorkingPoint       = "working_point"
	absorption         = "absorption"
)

// defaults are the ranges of what a glass states without one.
var defaults = []struct {
	Range
	fixed bool
}{
	{Range{Key: Conductivity, Name: "conductivity", Relative: 0.15, Status: glass.Derived,
		Note: "the range that the built-in soft glasses state; the sheets of one kind of glass differ by 10 %"}, false},
	{Range{Key: conductivityPhonon, Name: "conductivity without radiation", Relative: 0.15, Status: glass.Derived, Note: "as conductivity"}, false},
	{Range{Key: SpecificHeat, Name: "specific heat", Relative: 0.05, Status: glass.Derived,
		Note: "what the factors of the oxides are good to"}, false},
	{Range{Key: Expansion, Name: "expansion", Relative: 0.03, Status: glass.CommonPractice,
		Note: "the spread the trade allows within one nominal expansion: 0.3 of 10.4"}, false},
	{Range{Key: Young, Name: "Young's modulus", Relative: 0.03, Status: glass.Derived,
		Note: "how far the sheets of one kind of glass and its composition models lie apart"}, false},
	{Range{Key: FixedPoints, Name: "annealing point", Absolute: 10, Status: glass.Corroborated,
		Note: "the tolerance of makers' sheets is 5 to 15 K; the other fixed points move with it"}, true},
	{Range{Key: LiquidExpansion, Name: "liquid expansion", Relative: 0.25, Status: glass.Derived,
		Note: "the mean of what the table states"}, false},
	{Range{Key: StrainPoint, Name: "strain point"}, true},
	{Range{Key: SofteningPoint, Name: "softening point"}, true},
	{Range{Key: WorkingPoint, Name: "working point"}, true},
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
		v, ok := g.Value(d.Key)
		if !ok || v.Number == 0 || d.fixed && d.Absolute == 0 && !slices.Contains(g.Alone, d.Key) {
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
		r := Range{Key: absorption, Name: "absorption of its own heat", Status: glass.Memory, Relative: 1,
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
func Known(g *glass.Glass, key string) (*glass.Glass, error) {
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
	case conductivityPhonon:
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
	case absorption:
		c.Absorption = slices.Clone(g.Absorption)
		for i := range c.Absorption {
			c.Absorption[i].Low, c.Absorption[i].High = c.Absorption[i].Number, c.Absorption[i].Number
		}
	}
	return &c, nil
}
