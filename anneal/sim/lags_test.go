package sim

import (
	"math"
	"testing"
)

// TestLags: the curve of a run is at its mark what the run says of it, and between
// its steps decays as Fourier's series of a sphere whose surface follows the kiln:
// by a share of e in a²/π²κ.
func TestLags(t *testing.T) {
	m, v := plain()
	const outer, hot, mark = 0.03, 900.0, 700.0
	p := Problem{Body: Body{Form: Sphere, Outer: outer}, Material: m, Variants: v, Surface: Surface{Follows: true},
		Kiln: Kiln{At: constant(800), Kinks: []float64{2000}}, Start: constant(hot), Mark: mark}
	r := must(t, p, Settings{Cells: 64, Lags: true})
	near(t, "at the mark [K]", r.Lags.At(mark), r.MarkLag, 1e-9, 0)
	kappa := m.Conductivity(800) / (m.Density * m.SpecificHeat(800))
	fold := outer * outer / (math.Pi * math.Pi * kappa)
	for _, at := range []float64{1.5, 2, 2.3, 3.1} {
		near(t, "at some e-folds [K]", r.Lags.At(at*fold), 2*100*math.Exp(-at)*(1-math.Exp(-3*at)), 0.02, 0)
	}
	if got := r.Lags.At(1e9); got != r.Lags[len(r.Lags)-1].Difference {
		t.Errorf("long after the end %g", got)
	}
	larger := Lags{{0, 1e3}}
	if got := r.Lags.Max(larger); got[3].Difference != 1e3 || len(got) != len(r.Lags) {
		t.Errorf("%v", got[:4])
	}
	if got := (Lags{}).At(5); got != 0 {
		t.Errorf("of nothing %g", got)
	}
}

// TestDecayed: the table and the series are as near to e^-a as said.
func TestDecayed(t *testing.T) {
	g := &glassState{}
	terms := newSeries([]Term{{1, 1}, {1, 0.01}, {1, 1000}}, 1)
	var e, f [3]float64
	for xi := 1e-6; xi < 60; xi = xi*1.01 + 1e-4 {
		g.decayed(&terms, xi, e[:], f[:])
		for j, rate := range terms.rate {
			a := xi * rate
			near(t, "e", e[j], math.Exp(-a), 1e-9, 1e-17)
			near(t, "f", f[j], -math.Expm1(-a)/a, 1e-9, 0)
		}
	}
}

// TestExp: the powers of the shift are as near to e^x as said.
func TestExp(t *testing.T) {
	for x := -740.0; x < 709; x += 0.0137 {
		near(t, "e^x", exp(x), math.Exp(x), 1e-11, 1e-320)
	}
	if !math.IsNaN(exp(math.NaN())) || !math.IsInf(exp(math.Inf(1)), 1) || exp(math.Inf(-1)) != 0 || exp(0) != 1 {
		t.Error("at the ends")
	}
}
