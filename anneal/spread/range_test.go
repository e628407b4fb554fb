package spread

import (
	"math"
	"strings"
	"testing"

	"lehr/glass"
	"lehr/glass/unit"
)

func find(t testing.TB, name string) *glass.Glass {
	g, err := glass.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func ranges(g *glass.Glass) map[string]Range {
	out := map[string]Range{}
	for _, r := range Ranges(g) {
		out[r.Key] = r
	}
	return out
}

// TestRanges: the table's own ranges, and a default with its status where it
// has none.
func TestRanges(t *testing.T) {
	boro := ranges(find(t, "borosilicate-33"))
	for key, want := range map[string]string{Conductivity: "± 5 %", ConductivityPhonon: "± 8 %", SpecificHeat: "± 5 %", Expansion: "± 3 %",
		Young: "± 1.6 %", FixedPoints: "± 8 K", LiquidExpansion: "± 43 %"} {
		if r := boro[key]; r.Text() != want || r.Default || r.Status == "" {
			t.Errorf("%s: %s, default %v, %s; want %s", key, r.Text(), r.Default, r.Status, want)
		}
	}
	bk7 := ranges(find(t, "bk7"))
	if r := bk7[FixedPoints]; r.Absolute != 5 || bk7[Young].Default {
		t.Errorf("bk7: %+v", r)
	}
	for _, g := range glass.Builtin() {
		got := ranges(g)
		for _, key := range []string{Conductivity, ConductivityPhonon, SpecificHeat, Expansion, Young, FixedPoints, LiquidExpansion} {
			r, ok := got[key]
			if !ok || r.Absolute < 0 || r.Relative < 0 || r.Absolute+r.Relative == 0 || r.Relative >= 1 || r.Default && r.Note == "" {
				t.Errorf("%s: %s: %+v", g.Name, key, r)
			}
		}
		if _, ok := got[Absorption]; ok != (len(g.Absorption) > 0) {
			t.Errorf("%s: absorption %v", g.Name, ok)
		}
	}
}

// TestRanges_own: a person's glass takes the ranges of what it is like, and its
// own ± narrows them; a bare number keeps a default.
func TestRanges_own(t *testing.T) {
	table, err := glass.Load(strings.NewReader(`[[glass]]
name = "mine"
like = "borosilicate-33"
annealing_point = "562 ± 2 °C"
young_modulus = "63 GPa"
`), "mine.toml")
	if err != nil {
		t.Fatal(err)
	}
	r := ranges(table.Glasses[0])
	if r[FixedPoints].Absolute != 2 || r[FixedPoints].Default || !r[Young].Default || r[Young].Relative != 0.03 || r[Conductivity].Relative != 0.05 {
		t.Errorf("%+v", r)
	}
}

// TestAt: a glass at the end of a range differs from the glass in that property
// alone, which lies where the range says.
func TestAt(t *testing.T) {
	for _, name := range []string{"borosilicate-33", "soda-104", "bk7"} {
		g := find(t, name)
		for _, r := range Ranges(g) {
			for _, end := range []float64{-1, -0.5, 0, 1} {
				c, err := At(g, r.Key, end)
				if err != nil {
					t.Fatal(err)
				}
				for _, key := range glass.Keys() {
					a, known := g.Value(key)
					b, _ := c.Value(key)
					if !known {
						continue
					}
					moves := key == r.Key || r.Key == FixedPoints && (key == "strain_point" || key == "softening_point" || key == "working_point")
					want := a.Number
					if moves {
						want = a.Number*(1+end*r.Relative) + end*r.Absolute
					}
					if math.Abs(b.Number-want) > 1e-9*math.Abs(want) {
						t.Errorf("%s, %s at %g: %s %g, want %g", name, r.Key, end, key, b.Number, want)
					}
				}
				at := unit.Celsius(450).Kelvin()
				if k := c.Conductivity.At(at) / g.Conductivity.At(at); (r.Key == Conductivity) != (math.Abs(k-1) > 1e-9) && end != 0 {
					t.Errorf("%s, %s at %g: conductivity × %g", name, r.Key, end, k)
				}
			}
		}
		c, err := At(g, FixedPoints, 1)
		if err != nil {
			t.Fatal(err)
		}
		was, _ := g.Curves()
		now, err := c.Curves()
		if err != nil {
			t.Fatal(err)
		}
		for i := range was {
			a, _ := was[i].At(13)
			b, err := now[i].At(13)
			if err != nil || math.Abs(float64(b.Sub(a))-ranges(g)[FixedPoints].Absolute) > 0.02 { // a straight line in 1/T shifts a little less
				t.Errorf("%s %s: the curve moved %v, %v", name, was[i].Name, b.Sub(a), err)
			}
		}
	}
	boro := find(t, "borosilicate-33")
	high, err := At(boro, Absorption, 1)
	if err != nil || high.Absorption[0].Number != 7 || boro.Absorption[0].Number != 4 {
		t.Errorf("absorption %v, %v", high.Absorption, err)
	}
	for _, bad := range []func() error{
		func() error { _, err := At(boro, "poisson", 1); return err },
		func() error { _, err := At(boro, Young, math.NaN()); return err },
		func() error { _, err := At(find(t, "float"), Absorption, 1); return err },
	} {
		if bad() == nil {
			t.Error("no error")
		}
	}
}

// TestAt_given: a curve that is given moves with the fixed points.
func TestAt_given(t *testing.T) {
	table, err := glass.Load(strings.NewReader(`[[glass]]
name = "mine"
like = "borosilicate-33"
viscosity = { A = -3.02, B = 6987, T0 = "94.9 °C" }
annealing_point = "560 ± 6 °C"
`), "mine.toml")
	if err != nil {
		t.Fatal(err)
	}
	g := table.Glasses[0]
	c, err := At(g, FixedPoints, 1)
	if err != nil || math.Abs(c.Pin.T0-g.Pin.T0-6) > 1e-9 || c.Pin == g.Pin {
		t.Errorf("T0 %v, was %v, %v", c.Pin, g.Pin, err)
	}
}

// TestKnown_narrowsOneRange: a property counted as measured has hardly a range,
// and the others keep theirs.
func TestKnown_narrowsOneRange(t *testing.T) {
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range Ranges(g) {
		known, err := Known(g, r.Key)
		if err != nil {
			t.Fatal(err)
		}
		after := map[string]Range{}
		for _, s := range Ranges(known) {
			after[s.Key] = s
		}
		for _, was := range Ranges(g) {
			now, most := after[was.Key], was.Absolute+was.Relative
			if was.Key == r.Key {
				most /= 500
			}
			if got := now.Absolute + now.Relative; got > most {
				t.Errorf("%s known: %s has %g, had %g", r.Key, was.Key, got, was.Absolute+was.Relative)
			}
		}
	}
	if _, err := Known(g, "color"); err == nil {
		t.Error("a property without a range is known")
	}
}
