package contents

import (
	"fmt"
	"slices"
	"strings"

	"lehr/glass"
	"lehr/glass/strict"
)

// Finder finds materials by the words of the trade.
type Finder struct {
	Clear   *glass.Glass // the clear glass of the piece; "clear" means it
	Glasses *glass.Table // a person's own glasses before the built-in ones; may be nil
	// Look finds a glass where there is no table of them, nil for Glasses.
	Look func(name string) (*glass.Glass, error)
}

// UnknownError says that no material has a name.
type UnknownError struct {
	Name    string
	Nearest []string // that may have been meant, the likeliest first
}

// Error returns `no material "opsl"`.
func (e *UnknownError) Error() string { return fmt.Sprintf("no material %q", e.Name) }

// Hint names the nearest materials, and how to state one's own.
func (e *UnknownError) Hint() string {
	own := fmt.Sprintf(`for one of your own add its expansion: "%s ..., expansion 33.5e-7 /K"`, e.Name)
	if len(e.Nearest) == 0 {
		return "list the names with: lehr seal --materials; " + own
	}
	return "did you mean " + strings.Join(e.Nearest, " or ") + "? " + own
}

// Find returns the material with a name or a trade word: "clear", a glass, a
// color of the clear glass's family, a stone or a metal. Capitals, blanks and
// underscores do not matter.
//
// Errors: *[UnknownError], and *[glass.MissingError] for a glass whose
// expansion or stiffness is not known.
func (f Finder) Find(name string) (Material, error) {
	want := fold(name)
	if want == "clear" || want == "glass" {
		return f.ofGlass(f.Clear)
	}
	var open *materialText
	for _, m := range loadTable().Material {
		if m.Name != want && !slices.Contains(m.Words, want) {
			continue
		}
		if m.Kind != Color {
			return m.material, nil
		}
		switch {
		case len(m.Family) == 0:
			open = m
		case slices.Contains(m.Family, f.Clear.Name) || slices.Contains(m.Family, f.Clear.Like):
			c := f.color(m)
			c.StopsLight = m.stops(want)
			return c, nil
		}
	}
	if open != nil {
		c := f.color(open)
		c.StopsLight = open.stops(want)
		if want != open.Name {
			c.Name = want
		}
		return c, nil
	}
	look := f.Look
	if look == nil {
		t := f.Glasses
		if t == nil {
			t = new(glass.Table)
		}
		look = t.Find
	}
	if g, err := look(name); err == nil {
		return f.ofGlass(g)
	}
	return Material{}, f.unknown(name)
}

// unknown says which names are near.
func (f Finder) unknown(name string) error {
	want := fold(name)
	words := []string{"clear"}
	owner := map[string]string{"clear": "clear"}
	put := func(word, of string) {
		if _, there := owner[word]; !there {
			words = append(words, word)
			owner[word] = of
		}
	}
	for _, m := range loadTable().Material {
		put(m.Name, m.Name)
		for _, w := range m.Words {
			if m.Kind == Color {
				put(w, w)
			} else {
				put(w, m.Name)
			}
		}
	}
	list := glass.Builtin()
	if f.Glasses != nil {
		list = append(slices.Clone(f.Glasses.Glasses), list...)
	}
	for _, g := range list {
		put(g.Name, g.Name)
		for _, w := range g.Words {
			put(fold(w), g.Name)
		}
	}
	err := &UnknownError{Name: strings.TrimSpace(name)}
	for len(err.Nearest) < 3 && want != "" {
		near := strict.Nearest(want, words)
		if near == "" {
			break
		}
		words = slices.DeleteFunc(words, func(w string) bool { return owner[w] == owner[near] })
		err.Nearest = append(err.Nearest, owner[near])
	}
	return err
}

// ofGlass makes a material of a glass, with its expansion over the fall.
func (f Finder) ofGlass(g *glass.Glass) (Material, error) {
	if err := g.Need("expansion", "young_modulus", "poisson"); err != nil {
		return Material{}, err
	}
	value := func(v glass.Value) Value {
		return Value{v.Number, v.Number - v.Spread, v.Number + v.Spread, v.Text, v.Source, v.Status, v.Note}
	}
	return Material{Name: g.Name, Title: g.Title, Kind: Glass, Glass: g,
		Expansion: value(g.Expansion), Young: value(g.Young), Poisson: value(g.Poisson)}, nil
}

// color makes a material of a color: it is as stiff as the clear glass and
// flows like it.
func (f Finder) color(m *materialText) Material {
	c := m.material
	g, err := f.ofGlass(f.Clear)
	if err != nil {
		g = Material{}
	}
	c.Glass, c.Young, c.Poisson = f.Clear, g.Young, g.Poisson
	if m.apart.Known() {
		α, d := f.Clear.Expansion.Number, m.apart.Number
		c.Expansion, c.Unstated = m.apart, true
		c.Expansion.Number, c.Expansion.Low, c.Expansion.High = α, α-d, α+d
	}
	return c
}

// own makes a material of a stated expansion: as the material of that name is
// otherwise, or as stiff as the clear glass.
func (f Finder) own(name string, expansion Value) (Material, error) {
	m, err := f.Find(name)
	if err != nil {
		if m, err = f.ofGlass(f.Clear); err != nil {
			return m, err
		}
		m.Name, m.Title, m.Kind = fold(name), strings.TrimSpace(name), Color
	}
	if m.Kind == Glass {
		m.Kind, m.Name = Color, m.Name+" as stated"
	}
	m.Expansion, m.Unstated = expansion, false
	return m, nil
}

var blanks = strings.NewReplacer(" ", "-", "_", "-")

// fold makes spellings of a name equal.
func fold(name string) string {
	return blanks.Replace(strings.ToLower(strings.Join(strings.Fields(name), " ")))
}
