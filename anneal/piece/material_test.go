package piece

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"lehr/glass"
	"lehr/glass/unit"
)

// TestSoakRange_hot compares the hot end, where a compact piece begins to sag
// and mark in hours, with the table that was worked out apart from this code:
// 10^11.5 Pa·s on the softer curve [derived].
func TestSoakRange_hot(t *testing.T) {
	rows := []struct {
		name string
		want float64 // [°C]
	}{
		{"borosilicate-33", 576},
		{"float", 558},
		{"soda-104", 521},
		{"fusible-96", 522},
		{"fusible-90", 534},
		{"furnace-96", 513},
		{"lead-crystal", 457},
		{"fused-silica", 1218},
		{"neutral-50", 578},
		{"aluminosilicate", 725},
		{"bk7", 567},
	}
	if len(rows) != len(glass.Builtin()) {
		t.Errorf("%d rows for %d glasses", len(rows), len(glass.Builtin()))
	}
	for _, c := range rows {
		g, err := glass.Find(c.name)
		if err != nil {
			t.Error(err)
			continue
		}
		low, high, err := SoakRange(g)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if !scalar.EqualWithinAbs(high.Celsius(), c.want, 2) {
			t.Errorf("%s: soaks up to %.1f °C, the table has %g", c.name, high.Celsius(), c.want)
		}
		if !low.Less(high) {
			t.Errorf("%s: soak range from %s to %s", c.name, low, high)
		}
		// The cold end is the strain point on the stiffer curve: never below
		// the strain point given, and below the annealing point, at which
		// stress relaxes in minutes.
		if low.Sub(g.Strain.Temp()) < -0.5 || !low.Less(g.Anneal.Temp()) {
			t.Errorf("%s: soaks from %.1f °C, strain point %.1f, annealing point %.1f", c.name, low.Celsius(), g.Strain.Temp().Celsius(), g.Anneal.Temp().Celsius())
		}
		if a := g.Anneal.Temp(); high.Less(a) {
			t.Errorf("%s: the annealing point %.1f °C lies above the soak range", c.name, a.Celsius())
		}
	}
}

// TestMaterial_variants: a glass is simulated for every viscosity curve with
// each end of what is known of its liquid expansion.
func TestMaterial_variants(t *testing.T) {
	for _, g := range glass.Builtin() {
		curves, err := g.Curves()
		if err != nil {
			t.Fatal(err)
		}
		m, vs, err := Material(g)
		if err != nil {
			t.Errorf("%s: %v", g.Name, err)
			continue
		}
		if len(vs) != len(curves) {
			t.Errorf("%s: %d variants of %d curves", g.Name, len(vs), len(curves))
		}
		seen := map[string]bool{}
		for _, r := range vs {
			v, fast := r.Middle, r.FastStructure
			if seen[v.Name] || v.ExpansionLiquid != g.ExpansionLiquid.Number || !strings.HasPrefix(v.Name, "viscosity ") || !(fast.StructuralModulus > m.StructuralModulus) {
				t.Errorf("%s: variant %+v", g.Name, r)
			}
			seen[v.Name] = true
			// The curve of the variant is the curve of the glass: 10^12 Pa·s is
			// within 10 K of the annealing point.
			at := v.T0 + v.B/(12-v.A)
			if math.Abs(at-g.Anneal.Temp().Kelvin()) > 12 {
				t.Errorf("%s: %s has 10^12 Pa·s at %.1f °C, annealing point %s", g.Name, v.Name, at-273.15, g.Anneal.Temp())
			}
		}
		sum, mean := 0.0, 0.0
		for _, term := range m.Shear {
			sum += term.Weight
			mean += term.Weight * term.Time
		}
		if len(m.Shear) > 0 && (!scalar.EqualWithinAbs(sum, 1, 2e-3) || !scalar.EqualWithinAbs(mean, 1, 5e-3)) {
			t.Errorf("%s: shear weights sum to %.4f, mean time %.4f; both must be 1", g.Name, sum, mean)
		}
		if s := Surface(g); !s.Follows && (s.Emissivity < 0.5 || s.Emissivity > 1 || s.HeatTransfer <= 0) {
			t.Errorf("%s: surface %+v", g.Name, s)
		}
	}
}

// TestMaterial_missing names what a glass lacks and what that prevents.
func TestMaterial_missing(t *testing.T) {
	boro, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		take func(g *glass.Glass)
		want string
	}{
		{func(g *glass.Glass) { g.Density = glass.Value{} }, `glass "borosilicate-33": no density, so heat flow cannot be computed`},
		{func(g *glass.Glass) { g.Young = glass.Value{} }, "no young_modulus, so stress cannot be checked"},
		{func(g *glass.Glass) { g.Poisson = glass.Value{} }, "no poisson, so stress cannot be checked"},
		{func(g *glass.Glass) { g.Expansion = glass.Value{} }, "no expansion, so stress cannot be checked"},
	} {
		g := *boro
		c.take(&g)
		_, _, err := Material(&g)
		var missing *MissingError
		if !errors.As(err, &missing) || !strings.Contains(err.Error(), c.want) || missing.Hint() == "" {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
}

// TestSoakRange_viscosity: both ends have the viscosity that the report states.
func TestSoakRange_viscosity(t *testing.T) {
	for _, g := range glass.Builtin() {
		low, high, err := SoakRange(g)
		if err != nil {
			t.Fatal(err)
		}
		curves, err := g.Curves()
		if err != nil {
			t.Fatal(err)
		}
		stiff, soft := math.Inf(-1), math.Inf(1)
		for _, c := range curves {
			for _, at := range []unit.Temp{low, high} {
				l, err := c.Log10(at)
				if err != nil {
					t.Fatalf("%s: %v", g.Name, err)
				}
				if at == low {
					stiff = math.Max(stiff, l)
				} else {
					soft = math.Min(soft, l)
				}
			}
		}
		if !scalar.EqualWithinAbs(stiff, 13.5, 1e-6) || !scalar.EqualWithinAbs(soft, 11.5, 1e-6) {
			t.Errorf("%s: 10^%.3f Pa·s at the cold end, 10^%.3f at the hot end", g.Name, stiff, soft)
		}
	}
}
