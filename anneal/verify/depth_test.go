package verify

import (
	"context"
	"math"
	"testing"

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
