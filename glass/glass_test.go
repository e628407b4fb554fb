package glass

import (
	"errors"
	"math"
	"strings"
	"testing"

	"lehr/glass/unit"

	"pgregory.net/rapid"
)

// TestCurve_falls: on every curve, hotter glass is thinner, and At finds the
// temperature back.
func TestCurve_falls(t *testing.T) {
	var curves []Curve
	for _, g := range Builtin() {
		cs, err := g.Curves()
		if err != nil {
			t.Fatal(err)
		}
		curves = append(curves, cs...)
	}
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SampledFrom(curves).Draw(t, "curve")
		lo, hi := c.Low.Kelvin(), c.High.Kelvin()
		a := rapid.Float64Range(lo, hi).Draw(t, "a")
		b := rapid.Float64Range(lo, hi).Draw(t, "b")
		if a > b {
			a, b = b, a
		}
		la, err1 := c.Log10(unit.Kelvin(a))
		lb, err2 := c.Log10(unit.Kelvin(b))
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if b-a > 1e-6 && la <= lb {
			t.Fatalf("%g at %g K, %g at %g K", la, a, lb, b)
		}
		back, err := c.At(la)
		if err != nil || math.Abs(back.Kelvin()-a) > 1e-6 {
			t.Fatalf("%g K has log10 %g, which is at %s (%v)", a, la, back, err)
		}
	})
}

// TestThroughThree: three points of a known curve give that curve back.
func TestThroughThree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := Curve{A: rapid.Float64Range(-20, 0).Draw(t, "A"), B: rapid.Float64Range(1000, 30000).Draw(t, "B"), T0: rapid.Float64Range(-100, 500).Draw(t, "T0")}
		var k [3]float64
		logs := [3]float64{13.5, 12, 6.6}
		for i, l := range logs {
			k[i] = want.T0 + want.B/(l-want.A)
		}
		got, err := throughThree("x", logs[0], unit.Kelvin(k[0]), logs[1], unit.Kelvin(k[1]), logs[2], unit.Kelvin(k[2]))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.A-want.A) > 1e-6*30 || math.Abs(got.B-want.B) > 1e-6*want.B || math.Abs(got.T0-want.T0) > 1e-3 {
			t.Fatalf("got %+v, want %+v", got, want)
		}
	})
}

func TestCurve_outOfRange(t *testing.T) {
	curves, err := mustFind(t, "boro").Curves()
	if err != nil {
		t.Fatal(err)
	}
	_, err = curves[0].Log10(unit.Celsius(900))
	var r *RangeError
	if !errors.As(err, &r) || err.Error() != "temperature 900 °C: viscosity curve strain-anneal-soften valid from 430 °C to 821 °C" {
		t.Error(err)
	}
	if _, err = curves[0].At(3); !errors.As(err, &r) || !strings.HasPrefix(err.Error(), "log10 of the viscosity in Pa·s 3: ") {
		t.Error(err)
	}
	if _, err = curves[1].At(-4); !errors.As(err, &r) {
		t.Error("thinner than the curve can be:", err)
	}
}

// TestProperty_holdsItsEnds: outside the range a property stays at the value
// of its end, and Check says so.
func TestProperty_holdsItsEnds(t *testing.T) {
	p := mustFind(t, "borosilicate-33").Conductivity
	if p.Low != unit.Celsius(27) || p.High != unit.Celsius(527) {
		t.Fatalf("%s to %s", p.Low, p.High)
	}
	if p.At(0) != p.At(p.Low.Kelvin()) || p.At(2000) != p.At(p.High.Kelvin()) {
		t.Error("continued beyond its range")
	}
	err := p.Check(unit.Celsius(560))
	if err == nil || err.Error() != "temperature 560 °C: conductivity valid from 27 °C to 527 °C (source nbs1966)" {
		t.Error(err)
	}
	if p.Check(p.Low) != nil || p.Check(p.High) != nil {
		t.Error("the ends belong to the range")
	}
}

// TestProperty_text: the formula shown is the formula computed.
func TestProperty_text(t *testing.T) {
	for name, want := range map[string][2]string{
		"borosilicate-33": {"1.106 + 0.000789 t + 1.23e-6 t² W/m/K, t in °C, ± 5 %", "(722 + 4.219 t + 0.00307987 t²) / (1 + 0.00146 t)² J/kg/K, t in °C, ± 5 %"},
		"fused-silica":    {"1.32 + 0.0016 t - 1e-6 t² W/m/K, t in °C, ± 15 %", "(127.2 - 0.010777 T + 431270/T² - 1463.8/√T) / 0.0600843 J/kg/K, T in K, ± 5 %"},
	} {
		g := mustFind(t, name)
		if g.Conductivity.Text != want[0] || g.SpecificHeat.Text != want[1] {
			t.Errorf("%s\n%s", g.Conductivity.Text, g.SpecificHeat.Text)
		}
	}
}

func TestFind(t *testing.T) {
	for word, want := range map[string]string{
		"boro": "borosilicate-33", "Borosilicate": "borosilicate-33", "borosilicate-3.3": "borosilicate-33", "COE 33": "borosilicate-33",
		"104": "soda-104", "soft": "soda-104", "soft_glass": "soda-104", "coe96": "fusible-96", "90": "fusible-90",
		"Fused Silica": "fused-silica", "crystal": "lead-crystal", " float ": "float", "bk7": "bk7",
	} {
		if g, err := Find(word); err != nil || g.Name != want {
			t.Errorf("Find(%q): %v", word, err)
		}
	}
	for word, want := range map[string]string{
		"borosilicat": "borosilicate-33", "borosilicate33": "borosilicate-33", "soda-140": "soda-104", "fusable-96": "fusible-96",
		"alum": "aluminosilicate", "xyzzy": "", "": "",
	} {
		_, err := Find(word)
		var n *NotFoundError
		if !errors.As(err, &n) || !errors.Is(err, ErrNotFound) || n.Nearest != want {
			t.Errorf("Find(%q): %v, %+v", word, err, n)
		}
	}
	_, err := Find("borosilicat")
	if h := err.(*NotFoundError).Hint(); err.Error() != `no glass "borosilicat"` || h != "did you mean borosilicate-33? list them with: lehr glass" {
		t.Error(err, h)
	}
}

func TestBuiltin_isComplete(t *testing.T) {
	seen := map[string]string{}
	for _, g := range Builtin() {
		for _, w := range append([]string{g.Name}, g.Words...) {
			if other, ok := seen[fold(w)]; ok {
				t.Errorf("%s is a word for %s and %s", w, other, g.Name)
			}
			seen[fold(w)] = g.Name
		}
		keys := []string{"strain_point", "annealing_point", "softening_point", "expansion", "expansion_liquid", "density", "conductivity",
			"specific_heat", "young_modulus", "poisson", "stress_optic", "refractive_index", "emissivity"}
		if err := g.Need(keys...); err != nil {
			t.Error(err)
		}
		curves, err := g.Curves()
		if err != nil {
			t.Error(err)
		}
		want := 2
		if g.Name == "fused-silica" {
			want = 1 // no working point is published for it
		}
		if len(curves) != want {
			t.Errorf("%s has %d curves, want %d", g.Name, len(curves), want)
		}
		if got := float64(g.StressPerKelvin()) / 1e6; got < 0.03 || got > 1 {
			t.Errorf("%s: %g MPa/K", g.Name, got)
		}
		if got := g.Diffusivity(unit.Celsius(400)); got < 3e-7 || got > 1.1e-6 {
			t.Errorf("%s: diffusivity %g m²/s", g.Name, got)
		}
	}
}

func TestNeed(t *testing.T) {
	g := &Glass{Name: "x"}
	err := g.Need("young_modulus")
	if err == nil || err.Error() != `glass "x": no Young's modulus, so stress cannot be checked` {
		t.Error(err)
	}
	if h := err.(*MissingError).Hint(); h != "add young_modulus to the glass file" {
		t.Error(h)
	}
	if _, err := g.Curves(); err == nil || !strings.HasPrefix(err.Error(), `glass "x": no strain point, annealing point and no softening point, so the viscosity cannot be computed`) {
		t.Error(err)
	}
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := (&loader{name: "table.toml"}).load(strings.NewReader(tableText())); err != nil {
			b.Fatal(err)
		}
	}
}

func TestParseProperty(t *testing.T) {
	if n, pm, err := ParseProperty("expansion", "33.5e-7 ± 1e-7 /K"); err != nil || n != 33.5e-7 || pm != 1e-7 {
		t.Errorf("got %g ± %g, %v", n, pm, err)
	}
	if _, _, err := ParseProperty("expansion", "33.5e-7"); err == nil {
		t.Error("a bare number is accepted")
	}
}
