package verify

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/polariscope"
	"lehr/glass/unit"
)

// TestRetardation_whereItIsRead: what a report says of a piece is what the closed
// form has for the parabola with its tension left, at the place that the piece is
// read at. By hand, of a rod on its axis ⅔ C S R; of a sphere 4/(3√3) C S R. What is
// left is no parabola to the letter, hence the tolerances. Of a flat piece it is C S L
// times the share that light through the edge of one like it shows in finite
// elements, with S of its slab alone: what a piece of unknown width is said to have,
// less the factor for its rim.
func TestRetardation_whereItIsRead(t *testing.T) {
	s, err := readSchedule("from = \"512 °C\"\n[[segment]]\nhold = \"1 h\"\n[[segment]]\nrate = \"30 °C/h\"\nto = \"436 °C\"\n[[segment]]\nrate = \"60 °C/h\"\nto = \"43 °C\"\n")
	if err != nil {
		t.Fatal(err)
	}
	st := kiln.DefaultStudio()
	st.Kiln.Measured = true
	for _, c := range []struct {
		what string
		view polariscope.View
		arm  unit.Length
		tol  float64
		slab string // of a flat piece
	}{
		{"disc 75mm x 25mm", polariscope.View{Shape: polariscope.Slab, Size: 0.025, Path: 0.075, Share: 0.634}, 0.075 * 0.634, 0.05, "slab 25mm"},
		{"slab 60mm x 40mm x 20mm", polariscope.View{Shape: polariscope.Slab, Size: 0.02, Path: 0.06, Share: 0.634}, 0.06 * 0.634, 0.05, "slab 20mm"},
		{"pendant 40mm x 8mm", polariscope.View{Shape: polariscope.Slab, Size: 0.008, Path: 0.04, Share: 0.609}, 0.04 * 0.609, 0.05, "slab 8mm"},
		{"rod 25mm", polariscope.View{Shape: polariscope.Rod, Size: 0.025}, 0.0125 * 2 / 3, 0.03, ""},
		{"sphere 30mm", polariscope.View{Shape: polariscope.Sphere, Size: 0.03, Place: polariscope.Brightest}, unit.Length(0.015 * 4 / (3 * math.Sqrt(3))), 0.03, ""},
	} {
		l := loadOf(t, "soda-104", c.what)
		rep, err := Program(context.Background(), s, l, st, kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		p := rep.Pieces[0]
		optic := p.Piece.Glass.StressOptic.Number
		left := p.Residual
		if c.slab != "" {
			alone, err := Program(context.Background(), s, loadOf(t, "soda-104", c.slab), st, kiln.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			left = alone.Pieces[0].Residual / unit.Stress(alone.Pieces[0].Body.ResidualFactor)
			// In average glass the same holds.
			if a, b := p.ResidualTension, alone.Pieces[0].ResidualTension; !scalar.EqualWithinRel(float64(a.Expected/a.Worst), float64(b.Expected/b.Worst), 0.03) {
				t.Errorf("%s: average over worst %.3f, of its slab %.3f", c.what, a.Expected/a.Worst, b.Expected/b.Worst)
			}
		}
		byHand := optic * float64(left) * float64(c.arm)
		if !scalar.EqualWithinRel(float64(p.Retardation), byHand, c.tol) {
			t.Errorf("%s: %.1f nm, by hand %.1f nm", c.what, float64(p.Retardation)*1e9, byHand*1e9)
		}
		told, err := c.view.Shows(left, optic)
		if err != nil || !scalar.EqualWithinRel(float64(told), byHand, 1e-3) {
			t.Errorf("%s: a person is told %.1f nm, by hand %.1f nm, %v", c.what, float64(told)*1e9, byHand*1e9, err)
		}
	}
	// Of these nobody is told where to look.
	for _, what := range []string{"dome 75mm x 40mm", "slab 20mm", "lens 50mm x 12mm", "disc 30mm x 25mm", "slab 200mm x 30mm x 20mm"} {
		rep, err := Program(context.Background(), s, loadOf(t, "soda-104", what), st, kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		if p := rep.Pieces[0]; p.Piece.Shown() != piece.NotShown || p.Retardation != 0 {
			t.Errorf("%s: %q shows %s", what, p.Piece.Shown(), p.Retardation)
		}
	}
}
