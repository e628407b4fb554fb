package shortest

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/anneal/kiln"
	"lehr/anneal/plan"

	"lehr/glass/unit"
)

// TestBestRate compares the closed optimum of one ramp with a scan of rates, each
// timed by the kiln itself: kilns of either law of fall, weights that let the kiln
// follow all the way, part of it or not at all.
func TestBestRate(t *testing.T) {
	l := load(t, "borosilicate-33", "sphere 2in")
	rapid.Check(t, func(t *rapid.T) {
		st := kiln.DefaultStudio()
		st.Kiln.Fall.TimeConstant = time.Duration(rapid.IntRange(20, 600).Draw(t, "minutes")) * time.Minute
		st.Kiln.Fall.Power = rapid.SampledFrom([]float64{0, 1, 1.25, 1.9}).Draw(t, "power")
		st.Controller.Minutes, st.Controller.Slowest = true, unit.KelvinPerHour(0.01) // no whole degrees
		sv, err := newSolver(t.Context(), l, st, Options{Options: plan.Options{}})
		if err != nil {
			t.Fatal(err)
		}
		g := grid{node: []float64{
			unit.Celsius(rapid.Float64Range(300, 600).Draw(t, "from")).Kelvin(),
			unit.Celsius(rapid.Float64Range(60, 290).Draw(t, "to")).Kelvin(), st.Opening.Kelvin()}}
		for _, k := range g.node {
			g.natural = append(g.natural, sv.natural(unit.Kelvin(k)))
			g.alone = append(g.alone, st.Kiln.Fall.Time(unit.Kelvin(k), st.Opening, -inf))
		}
		w := math.Pow(10, rapid.Float64Range(3, 10).Draw(t, "weight"))
		cost := func(r float64) float64 {
			return st.Kiln.Ramp(unit.Kelvin(g.node[0]), unit.Kelvin(g.node[1]), unit.Rate(-r)) + w*r
		}
		rate, got := sv.bestRate(&g, 0, 1, w, math.Inf(1))
		if want := cost(rate); math.Abs(got/want-1) > 1e-9 {
			t.Fatalf("the ramp costs %g, by the kiln %g", got, want)
		}
		top := math.Min(g.natural[0], sv.fastest)
		for x := 0.0; x <= 1; x += 1.0 / 256 {
			r := sv.slowest * math.Pow(top/sv.slowest, x)
			if c := cost(r); c < got*(1-1e-6) {
				t.Fatalf("rate %g costs %g, but %g costs %g", rate*3600, got, r*3600, c)
			}
		}
	})
}
