package gather

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lehr/glass/unit"
)

func recipe(t testing.TB, piece string, parts ...string) Recipe {
	t.Helper()
	r := Recipe{Piece: body(t, piece), Density: 2230, Count: 1}
	for _, text := range parts {
		p, err := ParsePart(text)
		if err != nil {
			t.Fatal(err)
		}
		r.Parts = append(r.Parts, p)
	}
	return r
}

// Whatever the parts are, they weigh as much as the piece and stand as high.
func TestPortions_addUp(t *testing.T) {
	for _, parts := range [][]string{
		{"lens 50%", "core 30%", "backing 20%"},
		{"lens 30mm", "core rest", "backing 12mm"},
		{"lens 50%", "core rest", "flower cone 20mm x 10mm", "frit 4g"},
		{"all 100%"},
		{"casing shell 63.5mm wall 3mm", "core rest"},
		{"front 31.75mm", "back rest"},
	} {
		r := recipe(t, "sphere 63.5mm", parts...)
		ps, err := r.Portions()
		if err != nil {
			t.Errorf("%v: %v", parts, err)
			continue
		}
		var m unit.Mass
		var high unit.Length
		for _, p := range ps {
			m += p.Mass
			high += p.Height
		}
		near(t, strings.Join(parts, ", "), float64(m), float64(r.Mass()), 1e-12)
		near(t, "height", float64(high), 0.0635, 1e-9)
	}
	ps, _ := recipe(t, "sphere 63.5mm", "front 31.75mm", "back rest").Portions()
	near(t, "half", ps[0].Share, 0.5, 1e-12)
}

func TestPortions_refuses(t *testing.T) {
	for want, parts := range map[string][]string{
		"120 %":                {"lens 50%", "core 70%"},
		"80 %":                 {"lens 50%", "core 30%"},
		"there twice":          {"lens 50%", "lens 50%"},
		"the rest already":     {"lens rest", "core rest"},
		"nothing is left":      {"lens 100%", "core rest"},
		"first and the last":   {"lens 50%", "core 10mm", "back rest"},
		"whole piece or more":  {"lens 80mm", "core rest"},
		"what they lie in":     {"lens 50%", "flower 10g"},
		"together they make 1": {"flower 500g", "core rest"},
	} {
		if ps, err := recipe(t, "sphere 63.5mm", parts...).Portions(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: got %v, %v, want %q", parts, ps, err, want)
		}
	}
	for _, text := range []string{"", "lens", "50%", "lens 0%", "lens 120%", "lens -3g", "lens 12", "lens 0mm", "lens blob 3mm"} {
		if p, err := ParsePart(text); err == nil {
			t.Errorf("%q: read as %+v", text, p)
		}
	}
}

func TestParseRod(t *testing.T) {
	// 19 mm of borosilicate weighs π/4 · 19² mm² · 2.23 g/cm³ = 632 g/m.
	a, err := ParseRod("19mm")
	if err != nil {
		t.Fatal(err)
	}
	b, err := ParseRod("632.28 g/m")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "length", float64(b.length(0.3, 2230)), float64(a.length(0.3, 2230)), 1e-4)
	c, err := ParseRod("6.3228 g/cm")
	if err != nil || math.Abs(float64(c.PerMeter-b.PerMeter)) > 1e-9 {
		t.Error(c, err)
	}
	for _, text := range []string{"", "19", "0mm", "400mm", "5 g/x", "5 g/", "5000 kg/m", "5/8"} {
		if r, err := ParseRod(text); err == nil {
			t.Errorf("%q: read as %+v", text, r)
		}
	}
	if r, err := ParseRod("5/8 in"); err != nil || math.Abs(r.Diameter.Inches()-0.625) > 1e-12 {
		t.Error(r, err)
	}
}

// Twice as large takes eight times the glass in every part, in the same shares.
func TestScaled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(0.2, 5).Draw(t, "factor")
		r := recipe2(t)
		a, err := r.Portions()
		if err != nil {
			t.Fatal(err)
		}
		b, err := r.Scaled(f).Portions()
		if err != nil {
			t.Fatal(err)
		}
		for i := range a {
			if math.Abs(float64(b[i].Mass)/(float64(a[i].Mass)*f*f*f)-1) > 1e-9 || math.Abs(a[i].Share-b[i].Share) > 1e-9 {
				t.Errorf("%+v and %+v", a[i], b[i])
			}
		}
		if s := r.SizeOf(r.Scaled(f).Mass()).Size(); math.Abs(float64(s/r.Piece.Size())/f-1) > 1e-9 {
			t.Errorf("size %v", s)
		}
	})
}

func recipe2(t *rapid.T) Recipe {
	b, err := ParseBody("sphere 63.5mm")
	if err != nil {
		t.Fatal(err)
	}
	cone, err := ParseBody("cone 20mm x 10mm")
	if err != nil {
		t.Fatal(err)
	}
	return Recipe{Piece: b, Density: 2230, Parts: []Part{{Name: "lens", High: 0.03}, {Name: "core", Rest: true},
		{Name: "flower", Body: &cone}, {Name: "frit", Mass: 4 * unit.Gram}}}
}

func TestParsePieces(t *testing.T) {
	for text, want := range map[string]int{"6 x sphere 2.5in": 6, "sphere 2.5in": 1, "12 of cone 30mm x 40mm": 12, "3 spheres 2in": 3} {
		if n, _, err := ParsePieces(text); err != nil || n != want {
			t.Errorf("%s: got %d, %v", text, n, err)
		}
	}
	for _, text := range []string{"0 x sphere 2in", "-2 x sphere 2in", "99999 x sphere 2in", "2.5in sphere", "6 x"} {
		if n, b, err := ParsePieces(text); err == nil {
			t.Errorf("%q: read as %d %v", text, n, b)
		}
	}
}
