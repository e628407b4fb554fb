package glass

import (
	"math"
	"strings"
	"testing"

	"lehr/glass/casetest"
	"lehr/glass/unit"
)

// TestCurve_slopeByDifference: H/R is d(ln η)/d(1/T), whatever the formula.
func TestCurve_slopeByDifference(t *testing.T) {
	for _, g := range Builtin() {
		curves, err := g.Curves()
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range curves {
			at, h := g.Anneal.Temp().Add(1), unit.Delta(0.05)
			hot, err1 := c.Log10(at.Add(h))
			cold, err2 := c.Log10(at.Add(-h))
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			want := (cold - hot) * math.Ln10 / (1/at.Add(-h).Kelvin() - 1/at.Add(h).Kelvin())
			if got := c.activationTemp(at); math.Abs(got-want) > 1e-5*want {
				t.Errorf("%s %s: H/R %.1f K, by difference %.1f K", g.Name, c.Name, got, want)
			}
		}
	}
}

// TestCurve_straight: below the annealing point the second curve goes on
// without a step, with one H/R, and its isokoms are its inverse.
func TestCurve_straight(t *testing.T) {
	for _, g := range Builtin() {
		curves, err := g.Curves()
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range curves {
			if straight := !c.Straight.IsZero(); straight != (c.Name == annealSoftenWork) {
				t.Errorf("%s %s: straight %v", g.Name, c.Name, straight)
			}
			if c.Straight.IsZero() {
				continue
			}
			above, _ := c.Log10(c.Straight.Add(1e-6))
			below, _ := c.Log10(c.Straight.Add(-1e-6))
			if math.Abs(above-12) > 1e-6 || math.Abs(below-12) > 1e-6 {
				t.Errorf("%s: 10^%g and 10^%g at the annealing point", g.Name, above, below)
			}
			for _, d := range []unit.Delta{-30, -15, -1} {
				at := c.Straight.Add(d)
				l, err := c.Log10(at)
				if err != nil {
					t.Fatal(err)
				}
				want := 12 + c.activationTemp(c.Straight)/math.Ln10*(1/at.Kelvin()-1/c.Straight.Kelvin())
				back, err := c.At(l)
				if err != nil || math.Abs(float64(back.Sub(at))) > 1e-9 || math.Abs(l-want) > 1e-12 || c.activationTemp(at) != c.activationTemp(c.Straight) {
					t.Errorf("%s: 10^%g at %v, want 10^%g; back to %v, %v", g.Name, l, at, want, back, err)
				}
				if continued := c.A + c.B/(at.Kelvin()-c.T0); l >= continued {
					t.Errorf("%s: 10^%g at %v, not below the 10^%g of the curve continued", g.Name, l, at, continued)
				}
			}
		}
	}
}

// TestSharpGinther_isTheDerivative: the true specific heat is the derivative
// of t times the mean from 0 °C to t.
func TestSharpGinther_isTheDerivative(t *testing.T) {
	const a, b, c, h = 2.1, 0.00146, 725.0, 0.01
	heat := func(t float64) float64 { return t * (a*t + c) / (1 + b*t) }
	f := sharpGinther(a, b, c)
	for x := 0.0; x <= 1000; x += 50 {
		want := (heat(x+h) - heat(x-h)) / (2 * h)
		if got := f(unit.Celsius(x).Kelvin()); math.Abs(got-want) > 1e-6*want {
			t.Errorf("at %g °C: %.8g, derivative %.8g", x, got, want)
		}
	}
}

// TestOxideFactors: the coefficients of the table follow from compositions by
// weight and the oxide factors of Sharp & Ginther [memory], here for
// borosilicate 3.3 and float.
func TestOxideFactors(t *testing.T) {
	const joule = 4186.8 // J/(kg K) in one cal/(g °C)
	factors := map[string][2]float64{"SiO2": {.000468, .1657}, "Al2O3": {.000453, .1765}, "CaO": {.000410, .1709}, "MgO": {.000514, .2142},
		"Na2O": {.000829, .2229}, "K2O": {.000335, .2019}, "B2O3": {.000635, .1980}}
	for name, weights := range map[string]map[string]float64{
		"borosilicate-33": {"SiO2": 80.6, "B2O3": 13.0, "Na2O": 4.0, "Al2O3": 2.3},
		"float":           {"SiO2": 72.6, "Na2O": 13.9, "CaO": 8.4, "MgO": 3.9, "Al2O3": 1.1, "K2O": 0.6},
	} {
		var a, c, sum float64
		for oxide, w := range weights {
			a, c, sum = a+w*factors[oxide][0], c+w*factors[oxide][1], sum+w
		}
		f, g := sharpGinther(a/sum*joule, 0.00146, c/sum*joule), mustFind(t, name)
		for _, x := range []float64{25, 300, 500} {
			k := unit.Celsius(x).Kelvin()
			if got, want := g.SpecificHeat.At(k), f(k); math.Abs(got-want) > 0.004*want {
				t.Errorf("%s at %g °C: table %.1f, from oxides %.1f J/kg/K", name, x, got, want)
			}
		}
	}
}

// TestStatuses: a value of the table is never better than its words say.
func TestStatuses(t *testing.T) {
	for _, g := range Builtin() {
		for _, key := range keys() {
			v, ok := g.Value(key)
			all := g.Alternatives[key]
			if ok {
				all = append([]Value{v}, all...)
			}
			for _, v := range all {
				if v.Status == Given || v.Status == "" {
					t.Errorf("%s: %s %s has no status", g.Name, key, v.Text)
				}
				for _, word := range []string{"http", "www", ".com", "blog", "forum"} {
					if strings.Contains(v.Note+v.Over, word) {
						t.Errorf("%s: %s names %q", g.Name, key, word)
					}
				}
			}
		}
	}
}

func TestPublished(t *testing.T) { casetest.Run(t, "glass", Cases()) }
