package contents

import (
	"strings"
	"testing"

	"lehr/glass"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

func TestParseInside(t *testing.T) {
	f := clear33(t)
	mm := unit.Millimeter
	for text, want := range map[string]Inside{
		"sphere 8mm of opal, 12mm deep":            {Count: 1, Shape: Round, Size: 8 * mm, Depth: 12 * mm},
		"opal 10mm":                                {Count: 1, Shape: Round, Size: 10 * mm},
		"Opal 3/8 in, 1/2 in deep":                 {Count: 1, Shape: Round, Size: 3.0 / 8 * unit.Inch, Depth: unit.Inch / 2},
		"3 x sphere 6mm of CZ, 9mm deep":           {Count: 3, Shape: Round, Size: 6 * mm, Depth: 9 * mm},
		"cabochon 10mm x 4 mm of opal, edge 1mm":   {Count: 1, Shape: Flat, Size: 10 * mm, Thick: 4 * mm, Edge: mm},
		"foil 0.05mm of platinum":                  {Count: 1, Shape: Foil, Size: 0.05 * mm},
		"borosilicate-33 5 mm":                     {Count: 1, Shape: Round, Size: 5 * mm},
		"opal 6mm, dry, 20mm apart, 10mm deep":     {Count: 1, Shape: Round, Size: 6 * mm, Depth: 10 * mm, Apart: 20 * mm, Dry: true},
		"garnet 5mm, expansion 8e-6 /K":            {Count: 1, Shape: Round, Size: 5 * mm},
		"opal 5mm, expansion 2e-6 ± 0.5e-6 /K":     {Count: 1, Shape: Round, Size: 5 * mm},
		"cubic zirconia 5mm":                       {Count: 1, Shape: Round, Size: 5 * mm},
		"2 x sphere 5mm of fused silica, 8mm deep": {Count: 2, Shape: Round, Size: 5 * mm, Depth: 8 * mm},
	} {
		got, err := f.ParseInside(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		m := got.Material
		got.Text, got.Material = "", Material{}
		if got != want {
			t.Errorf("%q: got %+v, want %+v", text, got, want)
		}
		if m.Name == "" || !m.Expansion.Known() || !m.Young.Known() {
			t.Errorf("%q: material %+v", text, m)
		}
	}
	own := must(f.ParseInside("opal 5mm, expansion 2e-6 ± 0.5e-6 /K"))(t).Material
	if e := own.Expansion; own.Kind != Stone || e.Low != 1.5e-6 || e.High <= 2.4e-6 || e.Status != glass.Given {
		t.Errorf("%+v", own)
	}
}

func TestParse_refusals(t *testing.T) {
	f := clear33(t)
	inside := func(s string) error { _, err := f.ParseInside(s); return err }
	layers := func(s string) error { _, err := f.ParseLayers(strings.Split(s, "|")); return err }
	skin := func(s string) error { _, err := f.ParseSkin(s); return err }
	stripe := func(s string) error { _, err := f.ParseStripe(s); return err }
	for _, c := range []struct {
		parse      func(string) error
		text       string
		want, hint string
	}{
		{inside, "", "is empty", "write"},
		{inside, "opal", "has no size", "write"},
		{inside, "opsl 10mm", `no material "opsl"`, "did you mean opal"},
		{inside, "silvr 1mm", `no material "silvr"`, "silver"},
		{inside, "qqqqq 1mm", `no material "qqqqq"`, "expansion 33.5e-7 /K"},
		{inside, "opal 10", "10: has no unit", `"10 mm"`},
		{inside, "opal 10mm, 12 deep", "depth 12: has no unit", `"12 mm"`},
		{inside, "opal 10mm, expansion 33.5e-7", "33.5e-7: has no unit", "/K"},
		{inside, "opal 10mm, expansion 33.5", "33.5: has no unit", "/K"},
		{inside, "opal 10mm, blue", `"blue": is not understood`, "write"},
		{inside, "sphere 10mm opal", "does not say of what", "write"},
		{inside, "sphere 10mm x 4mm of opal", "takes one", "write"},
		{inside, "cabochon 10mm of opal", "its thickness", "write"},
		{inside, "cabochon 4mm x 10mm of opal", "at most the width", "write"},
		{inside, "cabochon 10mm x 4mm of opal, edge 3mm", "at most half the thickness", "write"},
		{inside, "opal 10mm, 5mm apart", "less than their size", "write"},
		{inside, "0 x sphere 10mm of opal", "count 0", "write"},
		{inside, "opal 0mm", "must be from", "write"},
		{inside, "opal 5m", "must be from", "write"},
		{inside, strings.Repeat("x", 300), "longer than", "write"},
		{layers, "clear 5mm", "meets nothing", "write"},
		{layers, "core clear|white", "another layer has none", "write"},
		{layers, "clear 5mm|core white 3mm", "the core comes first", "write"},
		{layers, "core clear 5mm|opal 3mm|clear", "only the core may be a stone", "write"},
		{layers, "core clear 5|white", "5: has no unit", "mm"},
		{skin, "white", "has no thickness", "write"},
		{skin, "gold 1mm", "is no glass", "write"},
		{skin, "whit 1mm", `no material "whit"`, "white"},
		{stripe, "white 3mm", "needs two sizes", "write"},
		{stripe, "white 3mm x 1", "1: has no unit", "mm"},
	} {
		err := c.parse(c.text)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: got %v, want %q", c.text, err, c.want)
			continue
		}
		if hint := err.(*TextError).Hint(); !strings.Contains(hint, c.hint) {
			t.Errorf("%q: hint %q, want %q in it", c.text, hint, c.hint)
		}
	}
}

// A file may say it all, one text or several.
func TestParse_file(t *testing.T) {
	var w Words
	text := "inside = \"opal 8mm\"\nlayers = [\"core clear 40mm\", \"cobalt 2mm\", \"clear\"]\nskin = \"white 1mm\"\nstripe = [\"white 3mm x 1mm\", \"red 2mm x 1mm\"]\n"
	if _, err := strict.Decode(strings.NewReader(text), "x", &w); err != nil {
		t.Fatal(err)
	}
	c := must(clear33(t).Parse(w))(t)
	if len(c.Inside) != 1 || len(c.Layers) != 3 || c.Skin == nil || len(c.Stripes) != 2 || !c.Layers[0].Core || c.Layers[2].Thick != 0 {
		t.Errorf("%+v", c)
	}
	for _, bad := range []Words{{Inside: Texts{"x"}}, {Layers: []string{"x"}}, {Skin: "x"}, {Stripe: Texts{"x"}}} {
		if _, err := clear33(t).Parse(bad); err == nil {
			t.Errorf("accepted %+v", bad)
		}
	}
}

// The color of a word depends on the family: nobody stated it for borosilicate,
// somebody did for 104.
func TestFind_families(t *testing.T) {
	hard := must(clear33(t).Find("White"))(t)
	if !hard.Unstated || hard.Name != "white" || hard.Expansion.High-hard.Expansion.Number < 1.9e-7 {
		t.Errorf("%+v", hard)
	}
	soft := must(Finder{Clear: must(glass.Find("soda-104"))(t)}.Find("white"))(t)
	if soft.Unstated || soft.Name != "opaque" || soft.Expansion.High != 11e-6 {
		t.Errorf("%+v", soft)
	}
	if g := must(clear33(t).Find("clear"))(t); g.Name != "borosilicate-33" || g.Kind != Glass {
		t.Errorf("%+v", g)
	}
}

func FuzzInside(f *testing.F) {
	for _, s := range []string{"sphere 8mm of opal, 12mm deep", "3 x cabochon 1/2 in x 4mm of cz, edge 1mm", "foil 5µm of gold", "x 1mm, expansion 3e-6 /K"} {
		f.Add(s)
	}
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		f.Fatal(err)
	}
	find := Finder{Clear: g}
	f.Fuzz(func(t *testing.T, text string) {
		in, err := find.ParseInside(text)
		if err != nil {
			return
		}
		if !(in.Size > 0) || in.Count < 1 {
			t.Fatalf("%q: %+v", text, in)
		}
		if _, err := find.ParseInside(in.Text); err != nil {
			t.Fatalf("%q: its own text %q: %v", text, in.Text, err)
		}
	})
}

func clear33(t testing.TB) Finder {
	return Finder{Clear: must(glass.Find("borosilicate-33"))(t)}
}

func must[T any](v T, err error) func(testing.TB) T {
	return func(t testing.TB) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}
