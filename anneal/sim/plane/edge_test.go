package plane

import (
	"math"
	"testing"

	"lehr/anneal/sim"
	"lehr/anneal/sim/study"
	"lehr/glass/casetest"
)

// TestEdge_balance: half of a disc stands in balance, so that the tension across a
// diameter sums to no force (statics); the membrane shows nothing along it.
func TestEdge_balance(t *testing.T) {
	p := study.Study(casetest.Values{"rate_C_per_h": 30.0, "then_C_per_h": 60.0})
	o := Outline{Diameter: 0.075, Thickness: 0.025, OnShelf: true}
	out := run(t, p, sim.Settings{Cells: 40}, o)
	sum, all := 0.0, 0.0
	for _, h := range out.Hoop {
		sum, all = sum+h, all+math.Abs(h)
	}
	if !(math.Abs(sum) < 0.02*all) || !(out.Hoop[0] > 0) {
		t.Errorf("sums to %.3f of its tensions", sum/all)
	}
}

// TestEdge_range: nothing is told of a lens, and of a piece nearly as thick as wide;
// a wide one loses nothing at its edge, and its rim adds nothing to its middle.
func TestEdge_range(t *testing.T) {
	for _, o := range []Outline{
		{Diameter: 0.05, Thickness: 0.012, Profile: Lens}, {Diameter: 0.05, Thickness: 0.03}, {Long: 0.2, Wide: 0.03, Thickness: 0.02},
	} {
		if share, ok := o.Edge(0.2); ok {
			t.Errorf("%+v: %g", o, share)
		}
	}
	wide := Outline{Long: 100, Wide: 100, Thickness: 0.3}
	if share, ok := wide.Edge(100); !ok || math.Abs(share-1) > 0.01 || wide.Unseen() != 1 {
		t.Errorf("a wide slab shows %g of itself, and carries %g times that", share, wide.Unseen())
	}
}
