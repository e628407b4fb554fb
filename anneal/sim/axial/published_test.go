package axial

import (
	"testing"

	"lehr/anneal/sim"
	"lehr/anneal/sim/simtest"
	"lehr/glass/casetest"
)

func body(in casetest.Values) Body {
	mm := func(name string) float64 { return in.Float(name) / 1e3 }
	shelf := in.Has("shelf")
	switch in.Text("shape") {
	case "disc":
		rim := 0.0
		if in.Has("rim_radius_of_thickness") {
			rim = in.Float("rim_radius_of_thickness") * mm("thickness_mm")
		}
		return Disc(mm("diameter_mm"), mm("thickness_mm"), rim, shelf)
	case "lens":
		return Lens(mm("diameter_mm"), mm("thickness_mm"))
	case "rod":
		return Rod(mm("diameter_mm"), mm("length_mm"))
	case "tube":
		return Tube(mm("diameter_mm"), mm("wall_mm"), mm("length_mm"), !in.Has("bore_closed"))
	case "dome":
		return Dome(mm("diameter_mm"), mm("diameter_mm")/2, shelf)
	case "flat sphere":
		return FlatSphere(mm("diameter_mm"), in.Float("cut_of_radius"), shelf)
	}
	return Sphere(mm("diameter_mm"), in.Float("cap_deg"))
}

func must(t testing.TB, p sim.Problem, s sim.Settings, b Body) Result {
	t.Helper()
	r, err := Run(p, s, b)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// row computes a case, with the cells each way.
func row(t testing.TB, in casetest.Values, cells int) casetest.Values {
	r := must(t, simtest.Study(in), sim.Settings{Cells: cells}, body(in))
	o := r.Outcomes[0]
	return casetest.Values{"tension_MPa": o.Surface / 1e6, "left_MPa": o.Left / 1e6, "lag_K": r.MaxLag}
}

// TestPublished: 24 cells each way come within 1.5 % of every row of the
// finite-element studies, and half of the last digit that is printed. What does
// not is known, with its reason.
func TestPublished(t *testing.T) {
	casetest.Run(t, "axial", map[string]casetest.Compute{
		"Row": func(t testing.TB, in casetest.Values) casetest.Values { return row(t, in, 24) },
	})
}

// TestCoarse: 12 cells each way come within 4 % of the same rows, and within 5 %
// of what is left over a closed hemisphere.
func TestCoarse(t *testing.T) {
	rows := 0
	for _, c := range casetest.Load(t, "revolution") {
		if c.Known != "" && c.ID != "d50x6" && c.ID != "sphere-with-flat" {
			continue
		}
		rows++
		c.Known = ""
		c.Tolerance.Rel += 0.025
		if c.Inputs.Has("cap_deg") && c.Inputs.Float("cap_deg") == 90 {
			c.Tolerance.Rel += 0.01
		}
		got := row(t, c.Inputs, 12)
		delete(c.Expected, "lag_K")
		if wrong := c.Judge(got); wrong != "" {
			t.Error(wrong)
		}
	}
	if rows < 30 {
		t.Errorf("%d rows were compared", rows)
	}
}
