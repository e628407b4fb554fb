package glass

import (
	_ "embed"
	"io"
	"strings"
	"sync"

	"lehr/glass/strict"
)

// packedTable is table.toml, packed.
//
//go:embed table.gz
var packedTable []byte

var tableText = sync.OnceValue(func() string {
	text, err := strict.Unpack(packedTable)
	must(err)
	return text
})

// section is the part of the table that holds one glass. Reading the whole
// table takes a good part of the time in which a plan is made, and a plan needs
// one or two glasses: so each is read when it is first asked for. The tests
// read the table as a whole, with the checks that need all of it.
type section struct {
	name  string
	words []string
	glass func() *Glass
}

// sections finds the glasses in the table. What it makes is never changed.
var sections = sync.OnceValue(func() []section {
	glasses, _, _ := strings.Cut(tableText(), "\n[source.")
	parts := strings.Split(glasses, "\n[[glass]]\n")[1:]
	list := make([]section, len(parts))
	for i, part := range parts {
		var head struct {
			Name  string   `toml:"name"`
			Title string   `toml:"title"`
			Words []string `toml:"words"`
		}
		text, _, _ := strings.Cut(part, "\nfamily = ")
		_, err := strict.Decode(strings.NewReader(text), "table.toml", &head)
		must(err)
		list[i] = section{head.Name, head.Words, sync.OnceValue(func() *Glass {
			t, err := (&loader{name: "table.toml", partial: true}).load(strings.NewReader("[[glass]]\n" + part))
			must(err)
			return t.Glasses[0]
		})}
	}
	return list
})

// must panics: the embedded table is part of the program, and is tested.
func must(err error) {
	if err != nil {
		panic("glass: " + err.Error())
	}
}

// Builtin returns the glasses that come with lehr, in the order of the table.
// They are shared: do not change them.
func Builtin() []*Glass {
	list := make([]*Glass, len(sections()))
	for i, s := range sections() {
		list[i] = s.glass()
	}
	return list
}

// Sources returns the source list of the built-in glasses by key. It is
// shared: do not change it.
func Sources() map[string]Source { return sources() }

var sources = sync.OnceValue(func() map[string]Source {
	var t struct {
		Source map[string]Source `toml:"source"`
	}
	_, text, _ := strings.Cut(tableText(), "\n[source.")
	_, err := strict.Decode(strings.NewReader("[source."+text), "table.toml", &t)
	must(err)
	return t.Source
})

// Find returns the built-in glass with this name, or with this among its trade
// words. Upper and lower case, blanks and underscores do not matter.
//
// Errors: *[NotFoundError], which knows the nearest name.
func Find(name string) (*Glass, error) { return new(Table).Find(name) }

// Find returns the glass of this table with the name or trade word, or else the
// built-in one, as [Find] does.
func (t *Table) Find(name string) (*Glass, error) {
	want := fold(name)
	if g := lookup(t.Glasses, want); g != nil {
		return g, nil
	}
	for _, s := range sections() {
		if called(s.name, s.words, want) {
			return s.glass(), nil
		}
	}
	var words []string
	owner := map[string]string{}
	add := func(name string, also []string) {
		for _, word := range append([]string{name}, also...) {
			words = append(words, fold(word))
			owner[fold(word)] = name
		}
	}
	for _, g := range t.Glasses {
		add(g.Name, g.Words)
	}
	for _, s := range sections() {
		add(s.name, s.words)
	}
	err := &NotFoundError{Name: name, Nearest: owner[strict.Nearest(want, words)]}
	for i := 0; err.Nearest == "" && len(want) >= 4 && i < len(words); i++ {
		if strings.HasPrefix(words[i], want) { // the beginning of a name
			err.Nearest = owner[words[i]]
		}
	}
	return nil, err
}

// lookup returns the glass with a name or trade word, or nil.
func lookup(glasses []*Glass, name string) *Glass {
	for _, g := range glasses {
		if called(g.Name, g.Words, fold(name)) {
			return g
		}
	}
	return nil
}

// called reports whether a folded word is a name or one of the trade words.
func called(name string, words []string, want string) bool {
	if want == "" || name == want {
		return want != ""
	}
	for _, word := range words {
		if fold(word) == want {
			return true
		}
	}
	return false
}

var blanks = strings.NewReplacer(" ", "-", "_", "-")

// fold makes spellings of a name equal.
func fold(name string) string {
	return blanks.Replace(strings.ToLower(strings.TrimSpace(name)))
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
// With like, which names a built-in glass, no other value is needed; when the annealing point differs
// from that of the other glass, fixed points that are not given move with it. A
// range of a fixed point is at most 60 K and counts: that of the annealing point
// for all four, that of another for this point alone.
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
//   - viscosity = "strain-anneal-soften" or "anneal-soften-work": this curve
//     only
//   - viscosity = { A = -3.02, B = 6987, T0 = "94.9 °C" }, with B in K, and
//     over = "400-900 °C" if it has a range: fixed points are not needed then;
//     B = 0 is a constant viscosity
//   - no expansion_liquid: no structural relaxation
//   - shear_relaxation = { weights = [...], times = [...] }, and beside it
//     structural_relaxation and bulk_relaxation (with long, the share that does
//     not relax), in place of the six terms of soda-lime glass; structural_modulus
//     ("3.2 GPa", derived from the mean times if not given) and nonlinearity
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
	return (&loader{name: filename, taken: Builtin(), cites: Sources()}).load(r)
}
