package contents

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Shape is what form a stone has.
type Shape string

// The shapes of what lies inside.
const (
	Round Shape = "sphere"
	Flat  Shape = "cabochon" // flat, with an edge: the second measure is its thickness
	Foil  Shape = "foil"     // a sheet: the one measure is its thickness
)

// Inside is a stone, or several alike, inside a piece.
type Inside struct {
	Text     string
	Count    int
	Shape    Shape
	Size     unit.Length // diameter, or the greatest width; of a foil, its thickness
	Thick    unit.Length // of a cabochon
	Edge     unit.Length // to which the edge of a cabochon is rounded; 0 if not said
	Depth    unit.Length // of its middle below the surface; 0 is the middle of the piece
	Apart    unit.Length // from middle to middle of two; 0 if not said
	Dry      bool        // said to be dry
	Material Material
}

// Reach is how far a stone reaches toward the surface from its middle.
func (in Inside) Reach() unit.Length {
	if in.Shape == Flat {
		return in.Thick / 2
	}
	return in.Size / 2
}

// Band is one layer of glass.
type Band struct {
	Text     string
	Core     bool        // the innermost one: Thick is its diameter, or whole thickness
	Thick    unit.Length // 0: what is left
	OneFace  bool        // a skin on one face of a flat piece only
	Material Material
}

// Depth is what a layer takes of the way from the middle outward.
func (b Band) Depth() unit.Length {
	if b.Core {
		return b.Thick / 2
	}
	return b.Thick
}

// Stripe is a stripe of color on the surface.
type Stripe struct {
	Text        string
	Wide, Thick unit.Length
	Material    Material
}

// Contents is everything that is in a piece besides its clear glass.
type Contents struct {
	Inside  []Inside
	Layers  []Band // from the core outward
	Skin    *Band
	Stripes []Stripe
}

// Other returns the first material in the piece that is not the clear glass of
// that name, "" if there is none.
func (c Contents) Other(clear string) string {
	var all []Material
	for _, in := range c.Inside {
		all = append(all, in.Material)
	}
	for _, b := range c.Layers {
		all = append(all, b.Material)
	}
	if c.Skin != nil {
		all = append(all, c.Skin.Material)
	}
	for _, s := range c.Stripes {
		all = append(all, s.Material)
	}
	for _, m := range all {
		if m.Name != clear {
			return m.Name
		}
	}
	return ""
}

// Empty reports whether there is nothing in the piece.
func (c Contents) Empty() bool {
	return len(c.Inside) == 0 && len(c.Layers) == 0 && c.Skin == nil && len(c.Stripes) == 0
}

// TextError is a text about what is inside that cannot be understood.
type TextError struct {
	What, Text, Reason, hint string
	cause                    error
}

func (e *TextError) Error() string {
	return fmt.Sprintf("%s %q: %s", e.What, strict.Short(e.Text, 60), e.Reason)
}

// Hint returns one thing to do.
func (e *TextError) Hint() string { return e.hint }

// Unwrap returns the error of a measure or a material.
func (e *TextError) Unwrap() error { return e.cause }

const (
	insideHint = `write "sphere 8mm of opal", "opal 8mm, 12mm deep", "cabochon 10mm x 4mm of opal, edge 1mm" or "foil 0.05mm of silver"`
	layersHint = `write "core clear 40mm", "cobalt 2mm", "clear", from inside out`
	skinHint   = `write "white 1.5mm"`
	stripeHint = `write "white 3mm x 1mm", width and thickness`
)

// reader takes a text apart: a head and clauses behind commas.
type reader struct {
	find             Finder
	what, text, hint string
	head             string
	clauses          []string
}

func (f Finder) read(what, text, hint string) (*reader, error) {
	r := &reader{find: f, what: what, text: text, hint: hint}
	if len(text) > 200 {
		return nil, r.fail("is longer than 200 characters")
	}
	parts := strings.Split(text, ",")
	for _, p := range parts[1:] {
		if p = strings.Join(strings.Fields(p), " "); p != "" {
			r.clauses = append(r.clauses, p)
		}
	}
	if r.head = strings.Join(strings.Fields(parts[0]), " "); r.head == "" {
		return nil, r.fail("is empty")
	}
	return r, nil
}

func (r *reader) fail(format string, args ...any) error {
	return &TextError{What: r.what, Text: r.text, Reason: fmt.Sprintf(format, args...), hint: r.hint}
}

// because wraps an error of a measure or a name, which keeps its own hint.
func (r *reader) because(err error, where string) error {
	hint := ""
	if h, ok := err.(interface{ Hint() string }); ok {
		hint = h.Hint()
	}
	if where != "" {
		where += " "
	}
	return &TextError{What: r.what, Text: r.text, Reason: where + err.Error(), hint: hint, cause: err}
}

// length reads a measure of a thing that has a size.
func (r *reader) length(name, text string) (unit.Length, error) {
	l, err := unit.ParseLength(text)
	if err != nil {
		return 0, r.because(err, name)
	}
	if l < 0.1*unit.Micrometer || l > 300*unit.Millimeter {
		return 0, r.fail("%s %s: must be from 0.0001 mm to 300 mm", name, text)
	}
	return l, nil
}

var beginsNumber = regexp.MustCompile(`^[-+]?[0-9.½¼¾⅓⅔⅛⅜⅝⅞]`)

// split takes "soda-104 2 1/2 in" apart into name and size; size is "" if none
// stands at the end.
func split(text string) (name, size string) {
	words := strings.Fields(text)
	for i := 1; i < len(words); i++ {
		if !beginsNumber.MatchString(words[i]) {
			continue
		}
		rest := strings.Join(words[i:], " ")
		if _, err := unit.ParseLength(firstMeasure(rest)); err == nil || i == len(words)-1 {
			return strings.Join(words[:i], " "), rest
		}
	}
	return text, ""
}

var times = regexp.MustCompile(`(?i)\s*(?:×|\bby\b|x)\s*`)

func firstMeasure(s string) string { return times.Split(s, 2)[0] }

// material finds the material of a name, with the expansion that a clause
// states.
func (r *reader) material(name string) (Material, error) {
	for i, c := range r.clauses {
		rest, ok := strings.CutPrefix(c, "expansion")
		if !ok {
			continue
		}
		rest = strings.TrimLeft(rest, " =")
		n, pm, err := glass.ParseProperty("expansion", rest)
		if err != nil {
			return Material{}, r.because(err, "expansion")
		}
		r.clauses = append(r.clauses[:i:i], r.clauses[i+1:]...)
		m, err := r.find.own(name, Value{n, n - pm, n + pm, rest, "", glass.Given, ""})
		if err != nil {
			return m, r.because(err, "")
		}
		return m, nil
	}
	m, err := r.find.Find(name)
	if err != nil {
		return m, r.because(err, "")
	}
	return m, nil
}

// rest refuses a clause that nobody took.
func (r *reader) rest() error {
	if len(r.clauses) > 0 {
		return r.fail("%q: is not understood", r.clauses[0])
	}
	return nil
}

// take removes the clause that a pattern matches and returns what its group
// holds.
func (r *reader) take(pattern *regexp.Regexp) (string, bool) {
	for i, c := range r.clauses {
		if m := pattern.FindStringSubmatch(c); m != nil {
			r.clauses = append(r.clauses[:i:i], r.clauses[i+1:]...)
			return m[len(m)-1], true
		}
	}
	return "", false
}

var (
	countPart = regexp.MustCompile(`(?i)^(-?\d{1,6})\s*(?:x|×|\*)\s+(\D.*)$`)
	shapePart = regexp.MustCompile(`(?i)^(sphere|ball|round|bead|cabochon|cab|disc|disk|flat|foil|leaf|sheet)s?\b\s*(.*)$`)
	ofPart    = regexp.MustCompile(`(?i)^(.*?)\s+of\s+(.*)$`)
	deepPart  = regexp.MustCompile(`(?i)^(.*) deep$`)
	edgePart  = regexp.MustCompile(`(?i)^edge (.*)$`)
	apartPart = regexp.MustCompile(`(?i)^(.*) apart$`)
	dryPart   = regexp.MustCompile(`(?i)^(dry|dried)$`)
	facePart  = regexp.MustCompile(`(?i)^((?:on )?one face)$`)
)

// ParseInside reads what lies inside a piece:
//
//	sphere 8mm of opal, 12mm deep      opal 8mm
//	3 x sphere 6mm of cz, 20mm apart   cabochon 10mm x 4mm of opal, edge 1mm
//	foil 0.05mm of platinum            garnet 5mm, expansion 8e-6 /K
//
// A depth is that of the middle below the surface; without one it lies in the
// middle of the piece. Further clauses: dry.
//
// Errors: *[TextError] for the words, which wraps those of measures and names.
func (f Finder) ParseInside(text string) (Inside, error) {
	r, err := f.read("inside", text, insideHint)
	if err != nil {
		return Inside{}, err
	}
	in := Inside{Text: strings.Join(strings.Fields(text), " "), Count: 1, Shape: Round}
	head := r.head
	if m := countPart.FindStringSubmatch(head); m != nil {
		n, err := strconv.Atoi(m[1])
		if err != nil || n < 1 || n > 1000 {
			return in, r.fail("count %s: must be from 1 to 1000", m[1])
		}
		in.Count, head = n, m[2]
	}
	name, size := "", ""
	if m := shapePart.FindStringSubmatch(head); m != nil {
		switch strings.ToLower(m[1]) {
		case "cabochon", "cab", "disc", "disk", "flat":
			in.Shape = Flat
		case "foil", "leaf", "sheet":
			in.Shape = Foil
		}
		of := ofPart.FindStringSubmatch(m[2])
		if of == nil {
			return in, r.fail("does not say of what")
		}
		size, name = of[1], of[2]
	} else {
		name, size = split(head)
	}
	if size == "" {
		return in, r.fail("has no size")
	}
	if in.Material, err = r.material(name); err != nil {
		return in, err
	}
	sizes := times.Split(size, -1)
	if in.Size, err = r.length("size", sizes[0]); err != nil {
		return in, err
	}
	switch {
	case in.Shape == Flat && len(sizes) >= 2:
		if in.Thick, err = r.length("thickness", sizes[len(sizes)-1]); err != nil {
			return in, err
		}
		if in.Thick > in.Size {
			return in, r.fail("thickness %s: must be at most the width %s", unit.AsTyped(in.Thick), unit.AsTyped(in.Size))
		}
	case in.Shape == Flat:
		return in, r.fail("one size given; a cabochon takes its width and its thickness")
	case len(sizes) > 1:
		return in, r.fail("%d sizes given; a %s takes one", len(sizes), in.Shape)
	}
	for _, part := range []struct {
		name    string
		pattern *regexp.Regexp
		into    *unit.Length
	}{{"depth", deepPart, &in.Depth}, {"edge", edgePart, &in.Edge}, {"distance", apartPart, &in.Apart}} {
		text, ok := r.take(part.pattern)
		if !ok {
			continue
		}
		if *part.into, err = r.length(part.name, text); err != nil {
			return in, err
		}
	}
	_, in.Dry = r.take(dryPart)
	switch {
	case in.Edge > 0 && (in.Shape != Flat || in.Edge > in.Thick/2):
		return in, r.fail("edge %s: must be at most half the thickness of a cabochon", unit.AsTyped(in.Edge))
	case in.Apart > 0 && in.Apart < in.Size:
		return in, r.fail("%s apart from middle to middle: less than their size %s", unit.AsTyped(in.Apart), unit.AsTyped(in.Size))
	}
	return in, r.rest()
}
