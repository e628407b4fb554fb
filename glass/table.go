package glass

import (
	"bytes"
	_ "embed"
	"io"
	"slices"
	"strings"
	"sync"

	"lehr/glass/strict"
)

//go:embed table.toml
var tableText []byte

// builtin reads the embedded table once. It is not written to afterwards.
var builtin = sync.OnceValue(func() *Table {
	t, err := load(bytes.NewReader(tableText), "table.toml", new(Table))
	if err != nil {
		panic("glass: " + err.Error())
	}
	return t
})

// Builtin returns the glasses that come with lehr, in the order of the table.
// They are shared: do not change them.
func Builtin() []*Glass { return slices.Clone(builtin().Glasses) }

// Sources returns the source list of the built-in glasses by key. It is
// shared: do not change it.
func Sources() map[string]Source { return builtin().Sources }

// Find returns the built-in glass with this name, or with this among its trade
// words. Upper and lower case, blanks and underscores do not matter.
//
// Errors: *[NotFoundError], which knows the nearest name.
func Find(name string) (*Glass, error) { return find(builtin().Glasses, name) }

// Find returns the glass of this table with the name or trade word, or else the
// built-in one, as [Find] does.
func (t *Table) Find(name string) (*Glass, error) {
	return find(append(slices.Clone(t.Glasses), builtin().Glasses...), name)
}

func find(glasses []*Glass, name string) (*Glass, error) {
	want := fold(name)
	var words []string
	owner := map[string]*Glass{}
	for _, g := range glasses {
		for _, word := range append([]string{g.Name}, g.Words...) {
			if fold(word) == want && want != "" {
				return g, nil
			}
			words = append(words, fold(word))
			owner[fold(word)] = g
		}
	}
	err := &NotFoundError{Name: name}
	if g := owner[strict.Nearest(want, words)]; g != nil {
		err.Nearest = g.Name
	} else if len(want) >= 4 { // the beginning of a name
		for _, word := range words {
			if strings.HasPrefix(word, want) {
				err.Nearest = owner[word].Name
				break
			}
		}
	}
	return nil, err
}

// fold makes spellings of a name equal.
func fold(name string) string {
	return strings.NewReplacer(" ", "-", "_", "-").Replace(strings.ToLower(strings.TrimSpace(name)))
}

// Load reads a person's glass file. filename is used in messages only.
//
// The form is that of the built-in table (lehr's glass/table.toml):
//
//	[[glass]]
//	name = "my-clear"
//	like = "soda-104"                  # take from there what is not said here
//	annealing_point = "515 °C"         # a number with its unit,
//	expansion = { value = "10.3e-6 ± 0.1e-6 /K", over = "20-300 °C", source = "sheet", status = "verified" }
//	[source.sheet]
//	cite = "Maker's data sheet, 2024"
//	read = "2026-11-25"
//
// With like, name and one value are enough; when the annealing point differs
// from that of the other glass, fixed points that are not given move with it.
// Without like, a glass needs name, strain_point, annealing_point,
// softening_point, expansion, density, young_modulus, poisson, conductivity,
// specific_heat and emissivity. All may be bare text, "1.2 W/m/K", "1000
// J/kg/K", "2.23 g/cm³", "63 GPa", "3.3e-6 /K"; poisson and emissivity have no
// unit. Bare text has the status "given"; a table must have a status, and a
// source unless the status is memory, derived or common practice. A list of
// tables keeps several honest values; one has use = true.
//
// A file may pin the model, to reproduce a textbook case exactly:
//
//   - relaxation = "maxwell" or "six-term" (default six-term)
//   - viscosity = "strain-anneal-soften", "anneal-soften-work", or
//     { A = -3.02, B = 6987, T0 = "94.9 °C" } (B in K; B = 0 is a constant
//     viscosity); then the fixed points are not needed
//   - no expansion_liquid: no structural relaxation
//   - surface = "follows kiln"; then emissivity is not needed
//
// conductivity may be { polynomial = [1.1, 0.0008], over = "20-600 °C", ... }
// in W/m/K with t in °C; specific_heat may be a polynomial likewise in J/kg/K,
// { sharp_ginther = { a = , b = , c = }, ... } or { molar = [c0, c1, c2, c3],
// molar_mass = , ... } for (c0 + c1 T + c2/T² + c3/√T)/molar_mass in J/mol/K,
// K and kg/mol.
//
// Errors name the file, the line and the rule: unknown keys, sources that do
// not resolve or are not used, a missing status, a value that is impossible or
// out of order, missing properties, and a name that lehr already uses.
func Load(r io.Reader, filename string) (*Table, error) {
	return load(r, filename, builtin())
}
