package plan

import (
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestPlan_holdingBelowSoak: pieces that wait below their soak are heated to it at
// a rate that keeps the limits, as slowly as that takes.
func TestPlan_holdingBelowSoak(t *testing.T) {
	for i, celsius := range []float64{480, 500, 520} {
		for j, what := range []string{"sphere 2in", "sphere 2.5in", "sphere 4in"} {
			if i != j && !long() { // each size from one temperature
				continue
			}
			st := kiln.DefaultStudio()
			st.Kiln.Holding = unit.Celsius(celsius)
			rep := mustPlan(t, &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{pieceOf(t, what, "borosilicate-33")}}, st, hoursOnly)
			if v := rep.Verdict(); v != verify.WithinLimits {
				t.Errorf("%s from %g °C: %s, heats at %s", what, celsius, v, rep.Schedule.Segments[0].Rate)
			}
		}
	}
}
