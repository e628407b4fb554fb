package contents

import (
	"strings"

	"lehr/glass/unit"
)

// Words are the texts that say what is in a piece, as a file writes them.
type Words struct {
	Inside Texts    `toml:"inside"` // see [Finder.ParseInside]
	Layers []string `toml:"layers"` // see [Finder.ParseLayers]
	Skin   string   `toml:"skin"`   // see [Finder.ParseSkin]
	Stripe Texts    `toml:"stripe"` // see [Finder.ParseStripe]
}

// Texts are one text or several.
type Texts []string

// OneOrMany lets a single text stand for a list of one in a file.
func (Texts) OneOrMany() {}

// Parse reads everything that is in a piece.
//
// Errors: *[TextError], which says which of the words it is about.
func (f Finder) Parse(w Words) (c Contents, err error) {
	for _, text := range w.Inside {
		in, err := f.ParseInside(text)
		if err != nil {
			return c, err
		}
		c.Inside = append(c.Inside, in)
	}
	if len(w.Layers) > 0 {
		if c.Layers, err = f.ParseLayers(w.Layers); err != nil {
			return c, err
		}
	}
	if w.Skin != "" {
		skin, err := f.ParseSkin(w.Skin)
		if err != nil {
			return c, err
		}
		c.Skin = &skin
	}
	for _, text := range w.Stripe {
		s, err := f.ParseStripe(text)
		if err != nil {
			return c, err
		}
		c.Stripes = append(c.Stripes, s)
	}
	return c, nil
}

// ParseLayers reads the layers of a piece from inside out:
//
//	core clear 40mm | cobalt 2mm | clear
//
// The size of a core is its diameter, or its whole thickness in a flat piece,
// where every other layer lies on both sides of it; the size of any other is
// its thickness. One layer may go without: it takes what is left.
//
// Errors: *[TextError], which names the layer.
func (f Finder) ParseLayers(texts []string) ([]Band, error) {
	var list []Band
	open := 0
	for i, text := range texts {
		r, err := f.read("layer", text, layersHint)
		if err != nil {
			return nil, err
		}
		b := Band{Text: strings.Join(strings.Fields(text), " ")}
		head := r.head
		if rest, ok := strings.CutPrefix(strings.ToLower(head), "core "); ok {
			if i > 0 {
				return nil, r.fail("the core comes first")
			}
			b.Core, head = true, head[len(head)-len(rest):]
		}
		name, size := split(head)
		if b.Material, err = r.material(name); err != nil {
			return nil, err
		}
		if size != "" {
			if b.Thick, err = r.length("thickness", size); err != nil {
				return nil, err
			}
		} else if open++; open > 1 {
			return nil, r.fail("has no thickness, and another layer has none")
		}
		if err := r.rest(); err != nil {
			return nil, err
		}
		if m := b.Material; i > 0 && (m.Kind == Stone || m.Kind == Metal) {
			return nil, r.fail("%s is no glass; only the core may be a stone", m.Name)
		}
		list = append(list, b)
	}
	if len(list) == 1 {
		return nil, &TextError{What: "layers", Text: texts[0], Reason: "a single layer meets nothing", hint: layersHint}
	}
	if len(list) > 20 {
		return nil, &TextError{What: "layers", Text: strings.Join(texts, ", "), Reason: "more than 20 layers", hint: layersHint}
	}
	return list, nil
}

// ParseSkin reads a layer that covers the outside: "white 1.5mm", and for a
// flat piece perhaps "white 1.5mm, one face".
//
// Errors: *[TextError].
func (f Finder) ParseSkin(text string) (Band, error) {
	r, err := f.read("skin", text, skinHint)
	if err != nil {
		return Band{}, err
	}
	b := Band{Text: strings.Join(strings.Fields(text), " ")}
	name, size := split(r.head)
	if size == "" {
		return b, r.fail("has no thickness")
	}
	if b.Material, err = r.material(name); err != nil {
		return b, err
	}
	if m := b.Material; m.Kind == Stone || m.Kind == Metal {
		return b, r.fail("%s is no glass", m.Name)
	}
	if b.Thick, err = r.length("thickness", size); err != nil {
		return b, err
	}
	_, b.OneFace = r.take(facePart)
	return b, r.rest()
}

// ParseStripe reads a stripe or thread on the surface: "white 3mm x 1mm", its
// width and its thickness.
//
// Errors: *[TextError].
func (f Finder) ParseStripe(text string) (Stripe, error) {
	r, err := f.read("stripe", text, stripeHint)
	if err != nil {
		return Stripe{}, err
	}
	s := Stripe{Text: strings.Join(strings.Fields(text), " ")}
	name, size := split(r.head)
	sizes := times.Split(size, -1)
	if size == "" || len(sizes) != 2 {
		return s, r.fail("needs two sizes, its width and its thickness")
	}
	if s.Material, err = r.material(name); err != nil {
		return s, err
	}
	for i, into := range []*unit.Length{&s.Wide, &s.Thick} {
		if *into, err = r.length([]string{"width", "thickness"}[i], sizes[i]); err != nil {
			return s, err
		}
	}
	return s, r.rest()
}
