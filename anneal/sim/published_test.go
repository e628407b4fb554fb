package sim

import (
	"testing"

	"lehr/glass/casetest"
)

// TestTemperLevel: tempered float carries 80 to 150 MPa at the surface (a
// thesis on tempered glass, 2019, abstract [verified]).
func TestTemperLevel(t *testing.T) {
	for _, p := range []Problem{temper(0.00305, 738, 221.5, 55000, 25e-6), temper(0.002, 650, 450, 76200, 32e-6)} {
		s := residual(t, p)
		if x := s["surface_MPa"].(float64); x > -80 || x < -150 {
			t.Errorf("plate of %g mm: surface at %.1f MPa, want -80 to -150", 2000*p.Body.Outer, x)
		}
		// compressed faces balance the middle: about two to one
		near(t, "surface over center", -s["surface_MPa"].(float64)/s["center_MPa"].(float64), 2.2, 0.15, 0)
	}
}

// TestPublished runs the cases of testdata/cases that name this package.
//
// The structural shares are the only published end-to-end results of a
// viscoelastic solver that were found. The margin obtained: 0.37 against 0.40
// in slow annealing; 0.30 against 0.24 in tempering, where the paper's own
// glass data are not known and the stress without structure is sensitive to
// them. Both lie within the tolerance of the cases, 0.06 and 0.08, which is
// what another solver with the same data needed; no tighter claim is made.
func TestPublished(t *testing.T) { casetest.Run(t, "sim", Cases()) }
