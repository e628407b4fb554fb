package verify

import (
	"context"
	"math"
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/glass"
	"lehr/glass/unit"
)

// TestResidualByDepth_balances: the stress left over the thickness of a slab that
// nothing holds adds up to no force, and the middle pulls half as much as the
// surface is pressed, as the parabola of slow cooling (Timoshenko and Goodier,
// thermal stress in a plate).
func TestResidualByDepth_balances(t *testing.T) {
	p, err := piece.Parse("slab 20mm textbook")
	if err != nil {
		t.Fatal(err)
	}
	if p.Glass, err = glass.Find("borosilicate-33"); err != nil {
		t.Fatal(err)
	}
	s := program.Schedule{From: unit.Celsius(560), Segments: []program.Segment{
		{Purpose: program.PurposeSoak, To: unit.Celsius(560), Hold: 3600e9},
		{Rate: unit.KelvinPerHour(-60), To: unit.Celsius(20)},
	}}
	rep, err := Program(context.Background(), s, &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.DefaultStudio(), kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	by := rep.Pieces[0].ResidualByDepth
	force, most := 0.0, 0.0
	for i := 1; i < len(by); i++ {
		force += (by[i].Depth - by[i-1].Depth) * float64(by[i].Stress+by[i-1].Stress) / 2
		most = math.Max(most, math.Abs(float64(by[i].Stress)))
	}
	peak, at := 0.0, rep.Pieces[0].PeakByDepth
	for _, d := range at {
		peak = math.Max(peak, float64(d.Stress))
	}
	if len(at) != len(by) || math.Abs(peak/float64(rep.Pieces[0].Peak)-1) > 1e-9 {
		t.Errorf("%d depths at the greatest tension, up to %g Pa; it is %s", len(at), peak, rep.Pieces[0].Peak)
	}
	first, last := by[0], by[len(by)-1]
	if first.Depth != 0 || math.Abs(last.Depth-1) > 1e-9 || math.Abs(force) > 0.02*most {
		t.Errorf("from %g to %g deep, force %g of %g Pa", first.Depth, last.Depth, force, most)
	}
	if ratio := float64(-last.Stress / first.Stress); ratio < 0.45 || ratio > 0.55 {
		t.Errorf("surface %s, middle %s", first.Stress, last.Stress)
	}
}

// TestByDepth_isOfItsBody: the profiles of a body as it is rise to the tension that the
// report says of it, not to its bound, and a closed form is compared with that.
func TestByDepth_isOfItsBody(t *testing.T) {
	s := program.Schedule{From: unit.Celsius(560), Segments: []program.Segment{
		{Purpose: program.PurposeSoak, To: unit.Celsius(560), Hold: 1800e9},
		{Rate: unit.KelvinPerHour(-35), To: unit.Celsius(470)},
		{Rate: unit.KelvinPerHour(-110), To: unit.Celsius(20)},
	}}
	st := kiln.DefaultStudio()
	rep, err := Program(t.Context(), s, loadOf(t, "borosilicate-33", "pendant 40mm x 12mm", "lens 100mm x 20mm", "dome 60mm x 30mm"), st, st.Limits)
	if err != nil {
		t.Fatal(err)
	}
	most := func(at []AtDepth) (most float64) {
		for _, d := range at {
			most = math.Max(most, d.Stress.Megapascals())
		}
		return most
	}
	noted := 0
	for i, r := range rep.Pieces {
		if left, peak := r.Residual.Megapascals(), r.Peak.Megapascals(); r.Refined.Residual >= 1 || math.Abs(most(r.ResidualByDepth)/left-1) > 1e-9 || math.Abs(most(r.PeakByDepth)/peak-1) > 1e-9 {
			t.Errorf("%s: %.4f of its bound; left %.4f, by depth %.4f; at most %.4f, by depth %.4f", r.Piece.What, r.Refined.Residual, left, most(r.ResidualByDepth), peak, most(r.PeakByDepth))
		}
		for _, f := range rep.Notes {
			if f.Kind == finding.ClosedFormDiffers && f.Piece == i {
				if noted++; f.Stress != r.Residual || f.Most != r.ClosedResidual {
					t.Errorf("%s: left %s, and %s beside the closed form", r.Piece.What, r.Residual, f.Stress)
				}
			}
		}
	}
	if noted == 0 {
		t.Error("no closed form differs, so that this shows nothing")
	}
}
