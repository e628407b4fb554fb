package verify

import (
	"math"
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/glass/unit"
)

// TestStillHot holds the temperature inside at the opening against the closed form
// of a steady ramp: a sphere that follows its surface trails it by β R²/(6 κ) in
// the middle, half that on the mean of its depths, and the surface trails the
// kiln by what the surface takes.
func TestStillHot(t *testing.T) {
	const program = "from = \"560 °C\"\n[[segment]]\nhold = \"1 h\"\n[[segment]]\nrate = \"60 °C/h\"\nto = \"43 °C\"\n"
	rep, err := verifyText(t, program, "borosilicate-33", "sphere 150mm", piece.HotKiln, studioOf(t, "[kiln]\ncooling_time_constant = \"30 min\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	f, ok := rep.Notes.Find(finding.StillHot)
	if !ok {
		t.Fatalf("no word of it: %v", rep.Notes)
	}
	h, err := rep.History(0)
	if err != nil {
		t.Fatal(err)
	}
	end := h[len(h)-2] // the last one is the room
	if math.Abs(float64(f.Limit.Sub(end.Center))) > 0.5 || math.Abs(float64(f.Temp.Sub(unit.Celsius(43)))) > 0.01 {
		t.Errorf("%v inside when the kiln reads %v; the history ends at %v", f.Limit, f.Temp, end.Center)
	}
	g := rep.Pieces[0].Piece.Glass
	kappa := g.Conductivity.At(unit.Celsius(70).Kelvin()) / (g.Density.Number * g.SpecificHeat.At(unit.Celsius(70).Kelvin()))
	inside := 60.0 / 3600 * 0.075 * 0.075 / (6 * kappa)
	if got := float64(f.Limit.Sub(f.Temp) - f.Delta); math.Abs(got/inside-1) > 0.15 {
		t.Errorf("the middle is %.1f K over the surface; the closed form says %.1f", got, inside)
	}
	// What is thin is as cool as the kiln.
	rep, err = verifyText(t, program, "borosilicate-33", "sphere 10mm", piece.HotKiln, studioOf(t, "[kiln]\ncooling_time_constant = \"30 min\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	if f, ok := rep.Notes.Find(finding.StillHot); ok && f.Limit.Sub(f.Temp) > 20 {
		t.Errorf("a sphere of 10 mm: %+v", f)
	}
}
