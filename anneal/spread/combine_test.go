package spread

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestCombine_parts: what counts most comes first, and what it costs is what
// the worst case falls by without it.
func TestCombine_parts(t *testing.T) {
	shares := []Share{{Of: Viscosity, Adverse: 0.04}, {Of: FixedPoints, Adverse: 0.09}, {Of: Conductivity, Adverse: 0.08},
		{Of: "poisson", Adverse: -0.01}, {Of: LiquidExpansion, Adverse: 0.18}}
	alternatives := []Alternative{{Structure, []Answer{{"slow", 1}, {"fast", 1.09}}}, {Light, []Answer{{"clear", 0.8}, {"opaque", 1.26}}}}
	c, err := Combine(shares, alternatives)
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, p := range c.Parts {
		got += fmt.Sprintf("%s %s %+.2f\n", p.Of, p.Answer, p.Share)
	}
	if want := "light opaque +0.26\nstructure fast +0.09\nexpansion_liquid  +0.18\nannealing_point  +0.09\nconductivity  +0.08\nviscosity  +0.04\n"; got != want {
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
	together, err := Combine([]Share{{Expansion, 0.03, "melt"}, {Young, 0.04, "melt"}, {Conductivity, 0.24, ""}}, nil)
	if err != nil || math.Abs(together.Spread-0.25) > 1e-12 {
		t.Errorf("spread %g, %v, want 0.07 and 0.24 to make 0.25", together.Spread, err)
	}
	for _, bad := range []func() error{
		func() error { _, err := Combine([]Share{{Of: "x", Adverse: math.NaN()}}, nil); return err },
		func() error { _, err := Combine(nil, []Alternative{{Light, []Answer{{"clear", 0}}}}); return err },
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
			s := Share{Of: Unknown(rune('a' + i)), Adverse: d}
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
		more, _ := Combine(append(shares, Share{Of: "more", Adverse: 0.05}), nil)
		if more.Factor <= c.Factor {
			t.Fatalf("%g with one more, %g without", more.Factor, c.Factor)
		}
	})
}
