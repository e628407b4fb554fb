package spread

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestCombine_parts: what counts most comes first, and what it costs is what
// the worst case falls by without it.
func TestCombine_parts(t *testing.T) {
	shares := []Share{{Name: "viscosity", Adverse: 0.04}, {Name: "annealing point", Adverse: 0.09}, {Name: "conductivity", Adverse: 0.08},
		{Name: "Poisson's ratio", Adverse: -0.01}, {Name: "liquid expansion", Adverse: 0.18}}
	alternatives := []Alternative{{"structure", []Answer{{"slow", 1}, {"fast", 1.09}}}, {"light", []Answer{{"clear", 0.8}, {"opaque", 1.26}}}}
	c, err := Combine(shares, alternatives)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := c.Text(), "light: opaque +26 %, structure: fast +9 %, liquid expansion +18 %, annealing point +9 %, conductivity +8 %, viscosity +4 %"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	less, err := Combine(shares[:4], alternatives)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := c.Parts[2].Costs, c.Factor-less.Factor; math.Abs(got-want) > 1e-12 {
		t.Errorf("liquid expansion costs %g, its absence saves %g", got, want)
	}
	// What moves together is added first.
	together, err := Combine([]Share{{"expansion", 0.03, "melt"}, {"modulus", 0.04, "melt"}, {"conductivity", 0.24, ""}}, nil)
	if err != nil || math.Abs(together.Spread-0.25) > 1e-12 {
		t.Errorf("spread %g, %v, want 0.07 and 0.24 to make 0.25", together.Spread, err)
	}
	for _, bad := range []func() error{
		func() error { _, err := Combine([]Share{{Name: "x", Adverse: math.NaN()}}, nil); return err },
		func() error { _, err := Combine(nil, []Alternative{{"light", []Answer{{"clear", 0}}}}); return err },
	} {
		if err := bad(); err == nil || !strings.Contains(err.Error(), "must be positive") && !strings.Contains(err.Error(), "is no number") {
			t.Errorf("error %v", err)
		}
	}
}

// TestCombine_laws: a further share never lowers the worst case, which lies
// between the greatest share alone and the sum.
func TestCombine_laws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var shares []Share
		greatest := 0.0
		for i, d := range rapid.SliceOfN(rapid.Float64Range(-0.1, 0.6), 0, 8).Draw(t, "shares") {
			s := Share{Name: string(rune('a' + i)), Adverse: d}
			if i%3 == 2 {
				s.Together = "melt"
			}
			shares = append(shares, s)
			greatest = max(greatest, d)
		}
		c, err := Combine(shares, nil)
		if err != nil {
			t.Fatal(err)
		}
		if c.Factor < 1+greatest-1e-12 || c.Factor > c.Sum+1e-12 || c.Sum > c.Product+1e-12 {
			t.Fatalf("%+v of %v", c, shares)
		}
		more, _ := Combine(append(shares, Share{Name: "more", Adverse: 0.05}), nil)
		if more.Factor <= c.Factor {
			t.Fatalf("%g with one more, %g without", more.Factor, c.Factor)
		}
	})
}
