package plane

import (
	"fmt"
	"strings"
	"testing"

	"lehr/anneal/sim"
	"lehr/anneal/sim/study"
	"lehr/glass/casetest"
)

// TestDefaultsAreAccurate: 16 cells and the default steps stay within 2 % of
// the same columns.
func TestDefaultsAreAccurate(t *testing.T) {
	for _, c := range casetest.Load(t, "flat-pieces") {
		if c.Func != "plane.Recipe" {
			continue
		}
		c.Tolerance.Rel = 0.02
		if wrong := c.Judge(recipe(t, c.Inputs, sim.Settings{Cells: 16})); wrong != "" {
			t.Error(wrong)
		}
	}
}

// TestBounds: every row of the finite-element studies is bounded by 0.97 and
// more, and not more than 1.5 times over. What exceeds that is named.
func TestBounds(t *testing.T) {
	loose := map[string]float64{
		"tube-100-x-4-x-160":         1.56, // left
		"lens-50-x-20-thick-follows": 1.67, // tension: it thins toward a rim that follows the kiln
	}
	rows := 0
	for _, c := range casetest.Load(t, "revolution") {
		b, known := bound(t, c.Inputs)
		if !known {
			continue
		}
		rows++
		tension, residual := b.Tension/1e6/c.Expected.Float("tension_MPa"), b.Residual/1e6/c.Expected.Float("left_MPa")
		t.Logf("%-45s tension %.3f of FE at %v, left %.3f", c.ID, tension, b.TensionPlace, residual)
		most := max(loose[c.ID], 1.5)
		if !(tension >= 0.97 && tension <= most) || !(residual >= 0.97 && residual <= most) {
			t.Errorf("%s: tension %.3f times the finite elements, left %.3f times", c.ID, tension, residual)
		}
	}
	if rows < 20 {
		t.Errorf("%d rows were compared", rows)
	}
}

// TestPlace: a disc is worst at its rim's edge, and tension there comes late.
func TestPlace(t *testing.T) {
	for _, c := range casetest.Load(t, "revolution") {
		if c.Inputs.Text("shape") != "disc" || c.Inputs.Has("follows") || c.Inputs.Has("rim_radius_of_thickness") {
			continue
		}
		b, _ := bound(t, c.Inputs)
		want := "the rim's edge"
		if c.ID == "disc_film_base" {
			want = "the rim's edge on the shelf"
		}
		if got := b.TensionPlace.String(); got != want || !strings.HasPrefix(b.ResidualPlace.String(), "the center") {
			t.Errorf("%s: %s, left at %s", c.ID, got, b.ResidualPlace)
		}
	}
}

// TestSides: a rectangular slab is no better than the disc of its shorter side.
func TestSides(t *testing.T) {
	in := casetest.Values{"rate_C_per_h": 120.0, "then_C_per_h": 240.0}
	p := study.Study(in)
	for _, side := range [][2]float64{{0.05, 0.05}, {0.4, 0.075}, {0.075, 0.4}} {
		o := Outline{Long: side[0], Wide: side[1], Thickness: 0.012}
		b, _, err := Bounds(p, sim.Settings{}, o)
		if err != nil {
			t.Fatal(err)
		}
		disc, _, err := Bounds(p, sim.Settings{}, Outline{Diameter: min(side[0], side[1]), Thickness: 0.012})
		if err != nil {
			t.Fatal(err)
		}
		if !(b[0].Tension > disc[0].Tension && b[0].Residual > disc[0].Residual) {
			t.Errorf("%v: %+v\ndisc %+v", side, b[0], disc[0])
		}
		if fmt.Sprint(b[0].Basis) != "compared with finite elements" {
			t.Errorf("%v: %v", side, b[0].Basis)
		}
	}
}

// TestPublished holds the plane against the columns of the recipe, converged,
// and the heated disc against finite elements.
func TestPublished(t *testing.T) { casetest.Run(t, "plane", Cases()) }
