package plan

import (
	"context"
	"testing"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// TestRevolved_slowsWhereTheBoundIsExceeded: a short rod as it is pulls harder
// than the bound by which its program is found. The program is slowed for it, as
// for any limit: what the body has keeps the limit, and uses it.
func TestRevolved_slowsWhereTheBoundIsExceeded(t *testing.T) {
	limits := kiln.Limits{Tension: 0.7 * unit.Megapascal, TensionGiven: true, MarginGiven: true}
	rep, err := Plan(context.Background(), loadOf(t, "borosilicate-33", "rod 40mm x 60mm raised"), kiln.DefaultStudio(), Options{Limits: limits})
	if err != nil {
		t.Fatal(err)
	}
	r := rep.Pieces[0]
	if r.Refined.Tension <= 1.01 {
		t.Fatalf("the bound is not exceeded: %+v; choose another body", r.Refined)
	}
	if !rep.Within || r.Tension.Use > 1 {
		t.Errorf("uses %.3f of its limit: %v", r.Tension.Use, r.Over)
	}
	// By the bound alone it would have been called within with more than that.
	if r.Tension.Use < 0.93 {
		t.Errorf("uses %.3f of its limit, slowed for no reason", r.Tension.Use)
	}
}

// TestRevolved_boundsTheSearch: a body that has less than its bound is planned by
// the bound and reported as it is.
func TestRevolved_boundsTheSearch(t *testing.T) {
	rep, err := Plan(context.Background(), loadOf(t, "borosilicate-33", "dome 3in x 1.5in"), kiln.DefaultStudio(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r := rep.Pieces[0]; !rep.Within || !(r.Refined.Residual > 0.5 && r.Refined.Residual < 0.95) {
		t.Errorf("%v %+v", rep.Within, r.Refined)
	}
}
