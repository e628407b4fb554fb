package glass

// The form of a glass file. Strict decoding refuses every key that is not here.

// file is a whole file.
type file struct {
	Glass  []form            `toml:"glass"`
	Source map[string]Source `toml:"source"`
}

// form is one [[glass]].
type form struct {
	Name   string   `toml:"name"`
	Title  string   `toml:"title"`
	Words  []string `toml:"words"`
	Note   string   `toml:"note"`
	Like   string   `toml:"like"`
	Family string   `toml:"family"`

	Strain            entries `toml:"strain_point"`
	Anneal            entries `toml:"annealing_point"`
	Soften            entries `toml:"softening_point"`
	Work              entries `toml:"working_point"`
	Expansion         entries `toml:"expansion"`
	Liquid            entries `toml:"expansion_liquid"`
	Density           entries `toml:"density"`
	Young             entries `toml:"young_modulus"`
	Poisson           entries `toml:"poisson"`
	StressOptic       entries `toml:"stress_optic"`
	Refractive        entries `toml:"refractive_index"`
	Emissivity        entries `toml:"emissivity"`
	Conductivity      entries `toml:"conductivity"`
	Phonon            entries `toml:"conductivity_phonon"`
	Infrared          entries `toml:"infrared_index"`
	SpecificHeat      entries `toml:"specific_heat"`
	ViscosityLimit    entries `toml:"viscosity_limit"`
	Garage            entries `toml:"garage"`
	Separation        entries `toml:"phase_separation"`
	StructuralModulus entries `toml:"structural_modulus"`
	Nonlinearity      entries `toml:"nonlinearity"`

	Absorption []band `toml:"absorption"`

	Viscosity  *pin   `toml:"viscosity"`
	Relaxation string `toml:"relaxation"`
	Surface    string `toml:"surface"`

	Shear     *series `toml:"shear_relaxation"`
	Structure *series `toml:"structural_relaxation"`
	Bulk      *series `toml:"bulk_relaxation"`
}

// entries are the honest values of one property. One may stand alone, without
// brackets.
type entries []entry

// OneOrMany lets a single value stand for a list of one.
func (entries) OneOrMany() {}

// entry is one value: either bare text, or a table.
type entry struct {
	Value  typed  `toml:"value"`
	Over   string `toml:"over"`
	Source string `toml:"source"`
	Status Status `toml:"status"`
	Note   string `toml:"note"`
	Use    bool   `toml:"use"`

	// Formulas, for conductivity and specific heat.
	Polynomial   []float64 `toml:"polynomial"`
	SharpGinther *mean     `toml:"sharp_ginther"`
	Molar        []float64 `toml:"molar"`
	MolarMass    float64   `toml:"molar_mass"`
	Spread       string    `toml:"spread"`

	bare bool
}

// band is one range of wavelengths of the absorption.
type band struct {
	To     string `toml:"to"`
	Value  string `toml:"value"`
	Range  string `toml:"range"`
	Source string `toml:"source"`
	Status Status `toml:"status"`
	Note   string `toml:"note"`
}

// mean holds the coefficients of a mean specific heat, see [sharpGinther].
type mean struct {
	A float64 `toml:"a"`
	B float64 `toml:"b"`
	C float64 `toml:"c"`
}

// UnmarshalText takes a value without source and status.
func (e *entry) UnmarshalText(text []byte) error {
	e.Value, e.bare = typed(text), true
	return nil
}

// typed is text, or a bare number as typed; what it means is decided later,
// when it is known which property it belongs to.
type typed string

// UnmarshalText keeps the text.
func (t *typed) UnmarshalText(text []byte) error {
	*t = typed(text)
	return nil
}

// pin fixes the viscosity: by the name of a curve, or by its coefficients.
type pin struct {
	A    *float64 `toml:"A"`
	B    *float64 `toml:"B"`
	T0   typed    `toml:"T0"`
	Over string   `toml:"over"`

	name string
}

// UnmarshalText takes the name of a curve.
func (p *pin) UnmarshalText(text []byte) error {
	p.name = string(text)
	return nil
}

// values returns the entries of each key, in the order of [keys].
func (f *form) values() []struct {
	key     string
	entries entries
} {
	type row = struct {
		key     string
		entries entries
	}
	return []row{
		{"strain_point", f.Strain}, {"annealing_point", f.Anneal}, {"softening_point", f.Soften}, {"working_point", f.Work},
		{"expansion", f.Expansion}, {"expansion_liquid", f.Liquid}, {"density", f.Density},
		{"conductivity", f.Conductivity}, {"conductivity_phonon", f.Phonon}, {"specific_heat", f.SpecificHeat},
		{"young_modulus", f.Young}, {"poisson", f.Poisson}, {"stress_optic", f.StressOptic},
		{"refractive_index", f.Refractive}, {"infrared_index", f.Infrared}, {"emissivity", f.Emissivity},
		{"viscosity_limit", f.ViscosityLimit}, {"garage", f.Garage}, {"phase_separation", f.Separation}, {"structural_modulus", f.StructuralModulus}, {"nonlinearity", f.Nonlinearity},
	}
}
