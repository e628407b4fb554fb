package piece

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"lehr/anneal/seal"
	"lehr/anneal/seal/contents"
	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// What is in a piece is the same by keys and behind semicolons.
func TestReadLoad_inside(t *testing.T) {
	l, err := readLoad(`
glass = "borosilicate-33"
[[piece]]
what   = "2 x sphere 2.5in clear"
inside = "opal 8mm, 12mm deep"
skin   = "pink 1.5mm"
stripe = ["white 3mm x 1mm", "pink 2mm x 1mm"]
[[piece]]
what = "2 x sphere 2.5in clear; inside  opal 8mm, 12mm deep; skin pink 1.5mm;stripe white 3mm x 1mm; stripe pink 2mm x 1mm"
[[piece]]
what   = "sphere 63.5mm"
layers = ["core clear 40mm", "cobalt 2mm", "clear"]
[[piece]]
what   = "Sphere 63.5mm ; Layers core clear 40mm / cobalt 2mm / clear;"
[[piece]]
what    = "sphere 2in; skin pink 1mm"
resting = "raised"
`)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < 4; i += 2 {
		a, b := l.Pieces[i], l.Pieces[i+1]
		if b.What = a.What; i == 0 && l.Pieces[1].What != a.What || !reflect.DeepEqual(a, b) {
			t.Errorf("by keys %+v\nbehind what %+v", a, l.Pieces[i+1])
		}
		if a.ThermalKey() != b.ThermalKey() || a.ThermalKey() == l.Pieces[(i+2)%4].ThermalKey() {
			t.Errorf("piece %d: what is in it is no part of what makes two pieces one", i)
		}
	}
	c := l.Pieces[0].Contents
	if what := l.Pieces[4].What; what != "sphere 2in raised; skin pink 1mm" {
		t.Errorf("resting by its key: %q", what)
	}
	if len(c.Inside) != 1 || c.Inside[0].Depth != 12*unit.Millimeter || c.Skin.Thick != 1.5*unit.Millimeter || len(c.Stripes) != 2 {
		t.Errorf("in the first: %+v", c)
	}
	if n := len(l.Pieces[2].Contents.Layers); n != 3 {
		t.Errorf("%d layers", n)
	}
}

// What is in a piece makes it dark or opaque, whoever said that it is clear.
func TestFill_light(t *testing.T) {
	for text, want := range map[string]struct {
		light Light
		by    string
	}{
		"sphere 60mm clear; inside opal 10mm":                            {Dark, "opal"},
		"sphere 60mm; inside opal 10mm":                                  {LightUnknown, ""}, // dark or opaque: the worse counts
		"sphere 60mm opaque; inside opal 10mm":                           {Opaque, ""},
		"sphere 60mm clear; skin black 1mm":                              {Opaque, "black"},
		"sphere 60mm; layers core clear 50mm / black 1mm / clear":        {Opaque, "black"},
		"sphere 60mm dark; inside foil 0.05mm of platinum, 10mm deep":    {Opaque, "platinum"},
		"sphere 60mm clear; skin pink 1mm":                               {Clear, ""},
		"disc 80mm x 20mm clear; skin black 1mm, one face":               {Dark, "black"},
		"sphere 60mm clear; inside garnet 10mm, expansion 8e-6 /K":       {Clear, ""},
		"rod 20mm x 100mm clear; skin black 1mm; stripe white 2mm x 1mm": {Opaque, "black"},
	} {
		p, err := Parse(text)
		if err == nil {
			err = p.Fill(find(t, "borosilicate-33"), glass.Find)
		}
		if err != nil || p.Light != want.light || p.LightBy != want.by {
			t.Errorf("%q: %v, %q by %q, want %q by %q", text, err, p.Light, p.LightBy, want.light, want.by)
		}
	}
}

func find(t *testing.T, name string) *glass.Glass {
	t.Helper()
	g, err := glass.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// Each mistake is said where it stands, and what to write with it.
func TestParse_insideErrors(t *testing.T) {
	for text, want := range map[string][2]string{
		"sphere 2in; skn white 1mm":               {`"skn white 1mm": does not begin with inside, layers, skin or stripe`, "did you mean skin?"},
		"sphere 2in inside opal 8mm":              {"has no semicolon before it", `"sphere 2in; inside opal 8mm"`},
		"sphere 2in, inside opal 8mm, 12mm deep":  {"has no semicolon before it", `"sphere 2in; inside opal 8mm, 12mm deep"`},
		"sphere 2in; inside":                      {"does not say what", "inside opal"},
		"sphere 2in; skin pink 1mm; skin red 1mm": {"is said twice", "one skin"},
	} {
		_, err := Parse(text)
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(e.Error(), want[0]) || !strings.Contains(e.Hint(), want[1]) {
			t.Errorf("%q: %v", text, err)
		}
	}
	if _, err := Parse("sphere 2in; inside " + strings.Repeat("opal ", 300)); err == nil {
		t.Error("a text of 1500 characters is a piece")
	}
	for text, as := range map[string]any{
		"sphere 50mm; inside opsl 8mm":                       new(*contents.UnknownError),
		"sphere 50mm; inside opal 8":                         new(*unit.ParseError),
		"sphere 50mm; inside opal 8mm, 3mm deep":             new(*seal.FitError),
		"sphere 50mm; layers core clear 40mm / pink 20mm":    new(*seal.FitError),
		"sphere 50mm; inside aluminum 3mm":                   new(*seal.FitError),
		"tube 38mm wall 4mm; skin white 1mm":                 new(*ShapeError),
		"rod 20mm; layers core clear 10mm / pink 2mm / pink": new(*seal.FitError),
	} {
		p, err := Parse(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		if err := p.Fill(find(t, "borosilicate-33"), glass.Find); err == nil || !errors.As(err, as) {
			t.Errorf("%q: %v, want %T", text, err, as)
		}
	}
}

// An error of what is in a piece points at its key.
func TestReadLoad_insideErrors(t *testing.T) {
	for text, want := range map[string]string{
		`inside = "opsl 8mm"`:                      "load.toml:4: inside: inside \"opsl 8mm\": no material \"opsl\"",
		`layers = ["core clear 40mm", "pink 9"]`:   "load.toml:4: layers: layer \"pink 9\": thickness 9: has no unit",
		`skin = "pink"`:                            "load.toml:4: skin: skin \"pink\": has no thickness",
		`stripe = "pink 3mm"`:                      "load.toml:4: stripe: stripe \"pink 3mm\": needs two sizes",
		`layers = ["core clear 70mm", "clear"]`:    "load.toml:4: layers: layers thicker than the piece",
		`inside = "opal 8mm, 3mm deep"`:            `load.toml:4: inside: "opal 8mm, 3mm deep": reaches the surface`,
		`skin = "x 1mm, expansion 33.5e-7"`:        `load.toml:4: skin: skin "x 1mm, expansion 33.5e-7": expansion 33.5e-7: has no unit`,
		`inside = "aluminum 3mm"`:                  "load.toml:4: inside: aluminum: above its melting point",
		"skin = \"pink 1mm\"\nwhat = \"sphere 1\"": "",
	} {
		_, err := readLoad("glass = \"borosilicate-33\"\n[[piece]]\nwhat = \"sphere 2in\"\n" + text + "\n")
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
	_, err := readLoad("glass = \"borosilicate-33\"\n[[piece]]\nwhat = \"sphere 2in; skin pink 1mm\"\nskin = \"pink 1mm\"\n")
	if err == nil || !strings.Contains(err.Error(), "load.toml:3: what: what is in it stands behind what and in keys of its own") {
		t.Error(err)
	}
}

// TestPiece_nameStays: what a person wrote stays whole: the way a piece rests stands
// behind it once, before what is in it, and the name of a profile is a name.
func TestPiece_nameStays(t *testing.T) {
	const profile = "profile = [\"0 0\", \"25mm 0\", \"25mm 10mm\", \"0 10mm\"]\n"
	for _, c := range []struct{ what, keys, want, head, within string }{
		{"tube 38mm wall 4mm x 200mm raised open-ended", "resting = \"raised\"\n", "tube 38mm wall 4mm x 200mm raised open-ended", "", ""},
		{"sphere 2in RAISED", "resting = \"raised\"\n", "sphere 2in RAISED", "", ""},
		{"sphere 2in;  inside opal 8mm", "resting = \"raised\"\n", "sphere 2in raised; inside opal 8mm", "sphere 2in raised", "inside opal 8mm"},
		{"sphere 2in raised; inside opal 8mm", "resting = \"raised\"\n", "sphere 2in raised; inside opal 8mm", "sphere 2in raised", "inside opal 8mm"},
		{"sphere 2in", "skin = \"white 1mm\"\n", "sphere 2in; skin white 1mm", "sphere 2in", "skin white 1mm"},
		{"bell; the first", profile + "resting = \"raised\"\n", "bell; the first raised", "", ""},
		{"sphere 2in of soda-104", profile, "sphere 2in of soda-104", "", ""},
	} {
		l, err := ReadLoad(strings.NewReader("glass = \"borosilicate-33\"\n[[piece]]\nwhat = \""+c.what+"\"\n"+c.keys), "load.toml", "", glass.Find)
		if err != nil {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		if c.head == "" {
			c.head = c.want
		}
		if p := l.Pieces[0]; p.What != c.want || p.Head() != c.head || p.Within() != c.within || p.Glass.Name != "borosilicate-33" {
			t.Errorf("%s: %q, %q, %q of %s", c.what, p.What, p.Head(), p.Within(), p.Glass.Name)
		}
	}
}

// TestParseOf_long: the advice for a piece that ends in a glass holds all of it,
// however long it is.
func TestParseOf_long(t *testing.T) {
	const long = "pendant 45.123456789 mm x 12.123456789 mm raised"
	_, _, err := ParseOf(long + "          soda-104")
	if got := strict.AdviceOf(err).String(); got != `write "`+long+` of soda-104"` {
		t.Errorf("%v: %q", err, got)
	}
}
