package verify

import (
	"context"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

// TestAsBodies_finiteElements: what a report says of a body of revolution in linear
// creep is that of finite elements of a general-purpose code, not its bound
// (rows of testdata/cases/revolution.toml: 60 °C/h, then 120).
func TestAsBodies_finiteElements(t *testing.T) {
	for _, row := range []struct {
		what          string
		tension, left float64
	}{
		{"disc 150mm x 25mm raised", 1.149, 0.319},
	} {
		r := studyReport(t, row.what, false)
		if r.Refined == (Refined{}) {
			t.Fatalf("%s: not computed as it is", row.what)
		}
		tension, left := r.Tension.Expected.Megapascals(), r.ResidualTension.Expected.Megapascals()
		if math.Abs(tension/row.tension-1) > 0.03 || math.Abs(left/row.left-1) > 0.03 {
			t.Errorf("%s: tension %.3f, left %.3f MPa, finite elements %.3f and %.3f", row.what, tension, left, row.tension, row.left)
		}
	}
	for _, what := range []string{"sphere 50mm", "rod 20mm x 400mm", "slab 100mm x 100mm x 20mm", "disc 150mm x 25mm textbook"} {
		if r := studyReport(t, what, false); r.Refined != (Refined{}) {
			t.Errorf("%s: %+v", what, r.Refined)
		}
	}
}

// TestRaisedBy: where the body as it is exceeds its bound, the bound is raised to
// it, for every program that is judged with it; it is never lowered on the way.
func TestRaisedBy(t *testing.T) {
	g := &Group{}
	g.pairs.surface.Expected, g.pairs.inside.Expected, g.pairs.residual.Expected = 3.5*unit.Megapascal, 3.5*unit.Megapascal, unit.Megapascal
	var l loads
	l.middle.surface = raised(sim.Top{Tension: 2e6, BySpan: []float64{1e6, 2e6}}, 1)
	l.middle.inside = raised(sim.Top{Tension: 1e6, BySpan: []float64{1e6, 0}}, 1)
	l.middle.residual, l.middle.residualSurface = 1e6, 0.5e6
	up := l.raisedBy(boundRatios{1.2, 0.8, 1.1}, g)
	if s := up.middle.surface; math.Abs(s.stress-2.4e6) > 1 || math.Abs(s.bySpan[0]-1.2e6) > 1 {
		t.Errorf("surface %+v", s)
	}
	if up.middle.inside.stress != 1e6 || math.Abs(up.middle.residual-1.1e6) > 1 || l.middle.surface.bySpan[0] != 1e6 {
		t.Errorf("%+v", up.middle)
	}
	if same := l.raisedBy(boundRatios{}, g); same.middle.surface.stress != 2e6 {
		t.Error("a body that nobody computed changes a bound")
	}
}

// TestProfile_isItsBody: a disc drawn by points is the disc.
func TestProfile_isItsBody(t *testing.T) {
	const head = "glass = \"float\"\n[[piece]]\n"
	judged := func(text string) PieceReport {
		l, err := piece.ReadLoad(strings.NewReader(head+text), "load.toml", "", glass.Find)
		if err != nil {
			t.Fatal(err)
		}
		s, err := program.Read(strings.NewReader(studyProgram), "study-program.toml")
		if err != nil {
			t.Fatal(err)
		}
		rep, err := Program(context.Background(), s, l, kiln.DefaultStudio(), kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		return rep.Pieces[0]
	}
	disc := judged(`what = "disc 80mm x 16mm"`)
	drawn := judged(`profile = ["0 0", "40mm 0", "40mm 16mm", "0 16mm"]`)
	if a, b := float64(drawn.ResidualTension.Expected/disc.ResidualTension.Expected), float64(drawn.Tension.Expected/disc.Tension.Expected); math.Abs(a-1) > 0.03 || math.Abs(b-1) > 0.03 {
		t.Errorf("left %.3f of the disc's, tension %.3f", a, b)
	}
}

// TestWithBodies: a report whose bodies are computed afterwards says the same as one of
// the same program that is judged again, also where a body exceeds its bound.
func TestWithBodies(t *testing.T) {
	s, err := program.Read(strings.NewReader(studyProgram), "study-program.toml")
	if err != nil {
		t.Fatal(err)
	}
	raises, keeps := 0, 0
	for _, pieces := range [][]string{
		{"disc 80mm x 16mm", "rod 20mm x 40mm raised", "sphere 30mm"},
		{"disc 40mm x 20mm raised", "tube 40mm wall 10mm x 50mm raised"},
		{"disc 30mm x 30mm"},
	} {
		l := loadOf(t, "float", pieces...)
		st := kiln.DefaultStudio()
		first, err := ByBounds(t.Context(), s, l, st, st.Limits)
		if err != nil {
			t.Fatal(err)
		}
		if !first.Borrows() {
			t.Fatalf("%v: nothing to compute", pieces)
		}
		got, err := first.WithBodies(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		want, err := first.Again(t.Context(), s, st.Limits)
		if err != nil {
			t.Fatal(err)
		}
		if got.Borrows() || got.Within != want.Within {
			t.Errorf("%v: borrows %v, within %v and %v", pieces, got.Borrows(), got.Within, want.Within)
		}
		for i := range got.Pieces {
			a, b := got.Pieces[i], want.Pieces[i]
			if a.ratios.raises() {
				raises++
			} else if a.ratios.known() {
				keeps++
			}
			if a.ratios != b.ratios || a.Tension.Use != b.Tension.Use || a.ResidualTension.Use != b.ResidualTension.Use || a.Opening.Use != b.Opening.Use ||
				!slices.Equal(a.SpanUse, b.SpanUse) || !reflect.DeepEqual(a.Over, b.Over) {
				t.Errorf("%s: %+v, judged again %+v", a.Piece.What, a.ratios, b.ratios)
			}
		}
		if !reflect.DeepEqual(got.Assumptions, want.Assumptions) || !reflect.DeepEqual(got.Notes, want.Notes) {
			t.Errorf("%v: other words", pieces)
		}
	}
	if raises == 0 || keeps == 0 {
		t.Errorf("%d bodies exceed their bounds, %d do not: the loads show nothing", raises, keeps)
	}
}
