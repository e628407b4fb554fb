// Package glass knows what a glass is: its fixed points, its viscosity, and how
// it expands, conducts, stores and radiates heat.
//
// Glasses are named by family and expansion ("borosilicate-33", "soda-104").
// [Builtin] holds the families that come with lehr; [Load] reads a person's
// own, in the same form and with the same checks. Every number carries where it
// is from and how well that is known, and none is made up where nothing is
// known: an absent [Value] is unknown, not zero.
//
// The package plans nothing and computes no stress.
package glass

import (
	"fmt"
	"strings"
	"time"

	"lehr/glass/unit"
)

// Status says how well a number is known.
type Status string

const (
	Verified       Status = "verified"        // read in the source
	Corroborated   Status = "corroborated"    // two independent sources agree
	Quoted         Status = "quoted"          // found in one text that quotes the source
	Memory         Status = "memory"          // general knowledge, no source read
	Derived        Status = "derived"         // worked out from other values, no better than the weakest of them
	CommonPractice Status = "common practice" // what the trade does; has no source
	Given          Status = "given"           // stated without a source in a person's own file
)

// Value is one number of a glass, with where it is from.
type Value struct {
	Number float64 // in SI units: K, 1/K, kg/m³, Pa, 1/Pa, W/(m K), J/(kg K), or none
	Spread float64 // how far another piece of such glass may be off, either way; 0 if not stated
	Text   string  // as typed in the table: "510 ± 10 °C"
	Over   string  // the range or the condition it holds for: "20-300 °C"
	Source string  // key of the source list, or ""
	Status Status
	Note   string
}

// Known reports whether there is a number at all. One that was typed is known,
// zero or not: a Poisson's ratio may be 0.
func (v Value) Known() bool { return v.Number != 0 || v.Text != "" }

// Temp returns the number of a fixed point as a temperature.
func (v Value) Temp() unit.Temp { return unit.Kelvin(v.Number) }

// Glass is one glass. Values that are not known are zero; ask with Known.
type Glass struct {
	Name  string   // by family and expansion: "borosilicate-33"
	Title string   // for a reader: "Borosilicate 3.3, clear and colored"
	Words []string // what the trade also calls it; [Find] understands these
	Note  string   // how far the values as a whole can be trusted

	// Fixed points [K]: the temperatures at which the viscosity is 10^13.5,
	// 10^12, 10^6.6 and 10^3 Pa·s.
	Strain, Anneal, Soften, Work Value
	// Alone are the keys of those but the annealing point whose range is a person's
	// own: it moves this point by itself. Other ranges move with the annealing point.
	Alone []string

	Expansion       Value // mean linear expansion, 20-300 °C [1/K]
	ExpansionLiquid Value // above the transformation [1/K]; unknown means that structural relaxation is left out

	Density     Value // [kg/m³]
	Young       Value // Young's modulus [Pa]
	Poisson     Value // Poisson's ratio
	StressOptic Value // stress-optic coefficient [1/Pa]; 1 Brewster is 1e-12 /Pa
	Refractive  Value // refractive index in yellow light
	Emissivity  Value // total, hemispherical, of a piece thick enough to be opaque to its own heat

	Conductivity       Property // of a sample, with the heat that radiates through it [W/(m K)]
	ConductivityPhonon Property // without radiation [W/(m K)]
	SpecificHeat       Property // [J/(kg K)]
	InfraredIndex      Value    // refractive index for heat rays
	// Absorption holds the bands in which clear glass lets its own heat through,
	// by rising wavelength and without gap; none where that is not known.
	Absorption []Band

	Relaxation string // "maxwell", "six-term" or "own": the shape of stress relaxation
	Family     string // the oxides that a set of relaxation times may be shared by: "soda-lime", or ""
	Spectra    Spectra
	// StructuralModulus K_s sets the mean time of the structure, η/K_s [Pa], and
	// Nonlinearity is x; where they are not known, those of soda-lime glass serve.
	StructuralModulus, Nonlinearity Value
	Viscosity                       string // "" for every curve that can be had, or the name of the only one to use
	ViscosityLimit                  Value  // log10 of the viscosity [Pa·s] of infinitely hot glass; stands in for an unpublished working point
	// PhaseSeparation is by how much log10 of the viscosity may rise in a long
	// treatment near the annealing point, because the glass separates into two
	// phases. Where it is known, no soak of many hours can be trusted to relax as
	// computed.
	PhaseSeparation Value
	Pin             *Curve  // the curve named "given", or nil
	SurfaceFollows  bool    // the surface has the temperature of the kiln, whatever the heat transfer
	Garage          Holding // where the trade holds finished pieces
	Like            string  // the built-in glass from which absent values were taken, or ""

	// Alternatives holds, for each key of the file, the honest values that
	// differ from the one in use.
	Alternatives map[string][]Value
}

// Holding is the range of temperatures in which the trade keeps finished
// pieces hot until the kiln is cooled. It is zero when there is none.
type Holding struct {
	Low, High unit.Temp
	Value
}

// Source is a published text that values rest on.
type Source struct {
	Cite string `toml:"cite"` // author or body, year, title, place
	Read string `toml:"read"` // the day it was read, "2026-11-25"
}

// Table is what a file holds.
type Table struct {
	Glasses []*Glass
	Sources map[string]Source
}

// StressPerKelvin returns the stress that one kelvin of temperature difference
// causes in a flat piece where it is fully held back, E α / (1 - ν).
//
// Source: Timoshenko & Goodier, Theory of Elasticity, 3rd ed. (1970), sec. 149
// [memory].
func (g *Glass) StressPerKelvin() unit.Stress {
	return unit.Stress(g.Young.Number * g.Expansion.Number / (1 - g.Poisson.Number))
}

// Diffusivity returns the thermal diffusivity k/(ρ c) [m²/s] at a temperature,
// with conductivity and specific heat as their [Property] gives them there.
func (g *Glass) Diffusivity(t unit.Temp) float64 {
	k := t.Kelvin()
	return g.Conductivity.At(k) / (g.Density.Number * g.SpecificHeat.At(k))
}

// Viscosities that matter when hot pieces rest on something, as log10
// of the viscosity [Pa·s].
//
// They were worked out for four hours on a shelf: a 3 g load on a grain of
// 0.2 mm radius leaves a mark of 1.5 µm at 10^12.5; a slab 6 mm thick on a span
// of 50 mm sags 9 µm at 10^11.5 and 29 µm at 10^11, an 8 mm rod on 150 mm
// 0.56 mm and 1.8 mm [derived]. Sag grows with the fourth power of the span.
const (
	MarkFree   = 12.5 // no visible mark from shelf or fiber after hours
	Compact    = 11.5 // compact pieces do not sag visibly in hours
	NeverHours = 11.0 // nothing should be held for hours above this

	// Sagging is how long a piece may be as soft as [NeverHours] or softer, in all,
	// before it must be taken to sag.
	Sagging = time.Hour
)

// Isokom returns the temperature at which the glass has the viscosity
// 10^log10 Pa·s. Where two curves differ it returns the lower temperature, the
// cautious one for sagging and marking.
//
// Errors: those of [Glass.Curves], and *[RangeError] when no curve reaches it.
func (g *Glass) Isokom(log10 float64) (unit.Temp, error) {
	curves, err := g.Curves()
	if err != nil {
		return unit.Temp{}, err
	}
	var low unit.Temp
	for _, c := range curves {
		t, e := c.At(log10)
		if e != nil {
			err = e
		} else if low.IsZero() || t.Less(low) {
			low = t
		}
	}
	if low.IsZero() {
		return low, err
	}
	return low, nil
}

// keyWords are the properties as a reader calls them and what cannot be had
// without them.
var keyWords = []struct{ key, words, without string }{
	{"strain_point", "strain point", "the viscosity cannot be computed"},
	{"annealing_point", "annealing point", "the viscosity cannot be computed"},
	{"softening_point", "softening point", "the viscosity cannot be computed"},
	{"working_point", "working point", "the viscosity of fluid glass cannot be computed"},
	{"expansion", "expansion", "stress cannot be computed"},
	{"expansion_liquid", "expansion above the transformation", "structural relaxation cannot be computed"},
	{"density", "density", "the time heat takes cannot be computed"},
	{"conductivity", "conductivity", "the time heat takes cannot be computed"},
	{"conductivity_phonon", "conductivity without radiation", "glass that heat does not radiate through cannot be computed"},
	{"specific_heat", "specific heat", "the time heat takes cannot be computed"},
	{"young_modulus", "Young's modulus", "stress cannot be checked"},
	{"poisson", "Poisson's ratio", "stress cannot be checked"},
	{"stress_optic", "stress-optic coefficient", "a polariscope reading cannot be predicted"},
	{"refractive_index", "refractive index", "what light does at the surface cannot be computed"},
	{"infrared_index", "refractive index for heat rays", "radiation inside the glass cannot be computed"},
	{"emissivity", "emissivity", "the heat that a surface radiates cannot be computed"},
}

// MissingError says which properties of a glass are needed and not known.
type MissingError struct {
	Glass string
	Keys  []string // of the file: "young_modulus"
	File  string   // where to add them, or ""
}

// Error returns `glass "x": no Young's modulus, so stress cannot be checked`.
func (e *MissingError) Error() string {
	var words, without []string
	for _, k := range keyWords {
		for _, key := range e.Keys {
			if k.key == key {
				words = append(words, k.words)
				if len(without) == 0 || without[len(without)-1] != k.without {
					without = append(without, k.without)
				}
			}
		}
	}
	return fmt.Sprintf("glass %q: no %s, so %s", e.Glass, listing(words, "and no"), listing(without, "and"))
}

// Hint returns what to add where.
func (e *MissingError) Hint() string {
	file := e.File
	if file == "" {
		file = "the glass file"
	}
	return fmt.Sprintf("add %s to %s", listing(e.Keys, "and"), file)
}

// listing writes "a, b and c".
func listing(words []string, and string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " " + and + " " + words[last]
}

// Need returns a *[MissingError] unless every property named by its key
// ("young_modulus", "stress_optic") is known.
func (g *Glass) Need(keys ...string) error {
	var missing []string
	for _, key := range keys {
		if v := g.value(key); v == nil || v.Text == "" {
			missing = append(missing, key)
		}
	}
	if missing == nil {
		return nil
	}
	return &MissingError{Glass: g.Name, Keys: missing}
}

// Value returns the value in use for a key of the file, such as
// "annealing_point" or "young_modulus". ok is false when it is not known or
// there is no such key.
func (g *Glass) Value(key string) (v Value, ok bool) {
	p := g.value(key)
	if p == nil || p.Text == "" {
		return Value{}, false
	}
	return *p, true
}

// keys returns the keys that hold a value with a source and a status, in the
// order in which a table of properties shows them.
func keys() []string {
	keys := make([]string, 0, len(keyWords)+5)
	for _, k := range keyWords {
		keys = append(keys, k.key)
	}
	return append(keys, "viscosity_limit", "garage", "phase_separation", "structural_modulus", "nonlinearity")
}

// value returns the place of a value, or nil for a key without one.
func (g *Glass) value(key string) *Value {
	switch key {
	case "strain_point":
		return &g.Strain
	case "annealing_point":
		return &g.Anneal
	case "softening_point":
		return &g.Soften
	case "working_point":
		return &g.Work
	case "expansion":
		return &g.Expansion
	case "expansion_liquid":
		return &g.ExpansionLiquid
	case "density":
		return &g.Density
	case "young_modulus":
		return &g.Young
	case "poisson":
		return &g.Poisson
	case "stress_optic":
		return &g.StressOptic
	case "refractive_index":
		return &g.Refractive
	case "emissivity":
		return &g.Emissivity
	case "conductivity":
		return &g.Conductivity.Value
	case "conductivity_phonon":
		return &g.ConductivityPhonon.Value
	case "infrared_index":
		return &g.InfraredIndex
	case "specific_heat":
		return &g.SpecificHeat.Value
	case "viscosity_limit":
		return &g.ViscosityLimit
	case "garage":
		return &g.Garage.Value
	case "structural_modulus":
		return &g.StructuralModulus
	case "nonlinearity":
		return &g.Nonlinearity
	case "phase_separation":
		return &g.PhaseSeparation
	}
	return nil
}
