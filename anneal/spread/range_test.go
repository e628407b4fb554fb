package spread

import (
	"math"
	"strings"
	"testing"

	"lehr/glass"
)

func find(t testing.TB, name string) *glass.Glass {
	g, err := glass.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func ranges(g *glass.Glass) map[Unknown]Range {
	out := map[Unknown]Range{}
	for _, r := range Ranges(g) {
		out[r.Key] = r
	}
	return out
}

// TestRanges: the table's own ranges, and a default with its status where it
// has none.
func TestRanges(t *testing.T) {
	boro := ranges(find(t, "borosilicate-33"))
	for key, want := range map[Unknown]float64{Conductivity: 0.05, PhononPart: 0.08, SpecificHeat: 0.05, Expansion: 0.03,
		Young: 0.016, FixedPoints: 8, LiquidExpansion: 0.43} {
		if r := boro[key]; math.Abs(r.Absolute+r.Relative-want) > 0.005*(1+want) || (r.Absolute > 0) != (key == FixedPoints) || r.Default || r.Status == "" {
			t.Errorf("%s: %g K, %g, default %v, %s; want %g", key, r.Absolute, r.Relative, r.Default, r.Status, want)
		}
	}
	bk7 := ranges(find(t, "bk7"))
	if r := bk7[FixedPoints]; r.Absolute != 5 || bk7[Young].Default {
		t.Errorf("bk7: %+v", r)
	}
	for _, g := range glass.Builtin() {
		got := ranges(g)
		for _, key := range []Unknown{Conductivity, PhononPart, SpecificHeat, Expansion, Young, FixedPoints, LiquidExpansion} {
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
		after := map[Unknown]Range{}
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
