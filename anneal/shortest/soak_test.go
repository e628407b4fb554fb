package shortest

import (
	"math"
	"testing"

	"lehr/anneal/plan"
	"lehr/anneal/verify"
)

// ladderIn is the ladder of a random load.
func ladderIn(t *testing.T, n int) (*solver, grid) {
	t.Helper()
	sv := solverOf(t, n)
	rule, err := plan.Plan(t.Context(), sv.load, sv.st, sv.o.Options)
	if err != nil {
		t.Fatal(err)
	}
	if err := sv.begin(rule.Schedule); err != nil {
		t.Fatal(err)
	}
	base := sv.ruleDraft()
	if err := sv.heat(&base); err != nil {
		t.Fatal(err)
	}
	g, err := sv.ladderOf(base)
	if err != nil {
		t.Fatal(err)
	}
	return sv, g
}

// TestLadder_heats: to no soak of the ladder the kiln climbs for longer than by one ramp
// that half a per cent of the limit of tension is left of: a soak was heated to at 72 K/h
// that 101 K/h heat to.
func TestLadder_heats(t *testing.T) {
	sv, g := ladderIn(t, 144)
	asked := 0
	for a := range g.soaks {
		if a%3 != 0 && !long() {
			continue
		}
		d := draft{from: sv.frame.From.Kelvin(), soak: g.node[a], hold: heatHold}
		tension := func(rate float64) float64 {
			d.heats = []ramp{{d.soak, rate}}
			all, err := sv.measureAll(d.exact(), verify.Full)
			if err != nil {
				t.Fatal(err)
			}
			most := 0.0
			for _, m := range all {
				most = math.Max(most, m.Tension())
			}
			return most
		}
		low, high := 0.2*sv.heating, sv.heating
		for range 8 {
			if mid := 0.5 * (low + high); tension(mid) > 0.995 {
				high = mid
			} else {
				low = mid
			}
		}
		tension(low)
		if got, want := g.climb[a], sv.climb(d); got > 1.02*want+worthIt {
			t.Errorf("%.0f K: the kiln climbs for %.0f s, by one ramp for %.0f s", d.soak, got, want)
		}
		asked++
	}
	if asked < 3 {
		t.Errorf("%d soaks were asked about", asked)
	}
}
