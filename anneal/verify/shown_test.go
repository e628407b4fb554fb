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
// read at. By hand, of a flat piece in its middle plane: C S L; of a rod on its
// axis ⅔ C S R; of a sphere 4/(3√3) C S R. What is left is no parabola to the
// letter, hence the tolerances; the faces of a flat piece show twice as much.
func TestRetardation_whereItIsRead(t *testing.T) {
	s, err := readSchedule("from = \"512 °C\"\n[[segment]]\nhold = \"1 h\"\n[[segment]]\nrate = \"30 °C/h\"\nto = \"436 °C\"\n[[segment]]\nrate = \"60 °C/h\"\nto = \"43 °C\"\n")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what string
		view polariscope.View
		arm  unit.Length
		tol  float64
	}{
		{"disc 75mm x 25mm", polariscope.View{Shape: polariscope.Slab, Size: 0.025, Path: 0.075}, 0.075, 1e-3},
		{"slab 60mm x 40mm x 20mm", polariscope.View{Shape: polariscope.Slab, Size: 0.02, Path: 0.06}, 0.06, 1e-3},
		{"pendant 40mm x 10mm", polariscope.View{Shape: polariscope.Slab, Size: 0.01, Path: 0.04}, 0.04, 1e-3},
		{"rod 25mm", polariscope.View{Shape: polariscope.Rod, Size: 0.025}, 0.0125 * 2 / 3, 0.03},
		{"sphere 30mm", polariscope.View{Shape: polariscope.Sphere, Size: 0.03, Place: polariscope.Brightest}, unit.Length(0.015 * 4 / (3 * math.Sqrt(3))), 0.03},
	} {
		l := loadOf(t, "soda-104", c.what)
		rep, err := Program(context.Background(), s, l, kiln.DefaultStudio(), kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		p := rep.Pieces[0]
		optic := p.Piece.Glass.StressOptic.Number
		byHand := optic * float64(p.Residual) * float64(c.arm)
		if !scalar.EqualWithinRel(float64(p.Retardation), byHand, c.tol) {
			t.Errorf("%s: %.1f nm, by hand %.1f nm", c.what, float64(p.Retardation)*1e9, byHand*1e9)
		}
		told, err := c.view.Shows(p.Residual, optic)
		if err != nil || !scalar.EqualWithinRel(float64(told), byHand, 1e-3) {
			t.Errorf("%s: a person is told %.1f nm, by hand %.1f nm, %v", c.what, float64(told)*1e9, byHand*1e9, err)
		}
	}
	// Of these nobody is told where to look.
	for _, what := range []string{"dome 75mm x 40mm", "slab 20mm"} {
		rep, err := Program(context.Background(), s, loadOf(t, "soda-104", what), kiln.DefaultStudio(), kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		if p := rep.Pieces[0]; p.Piece.Shown() != piece.NotShown || p.Retardation != 0 {
			t.Errorf("%s: %q shows %s", what, p.Piece.Shown(), p.Retardation)
		}
	}
}
