package axial

import (
	"lehr/anneal/sim"
	"lehr/anneal/sim/study"
	"lehr/glass/cases"
)

func body(in cases.Values) Body {
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
		return Lens(mm("diameter_mm"), mm("thickness_mm"), shelf)
	case "rod":
		return Rod(mm("diameter_mm"), mm("length_mm"))
	case "tube":
		return Tube(mm("diameter_mm"), mm("wall_mm"), mm("length_mm"), !in.Has("bore_closed"))
	case "dome":
		return Dome(mm("diameter_mm"), mm("diameter_mm")/2, shelf)
	case "flat sphere":
		return flatSphere(mm("diameter_mm"), in.Float("cut_of_radius"), shelf)
	}
	return sphere(mm("diameter_mm"), in.Float("cap_deg"))
}

func must(t cases.T, p sim.Problem, s sim.Settings, b Body) Result {
	t.Helper()
	r, err := Run(p, s, b)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// row computes a case, with the cells each way.
func row(t cases.T, in cases.Values, cells int) cases.Values {
	r := must(t, study.Study(in), sim.Settings{Cells: cells}, body(in))
	o := r.Outcomes[0]
	return cases.Values{"tension_MPa": o.Surface / 1e6, "left_MPa": o.Residual / 1e6, "lag_K": r.MaxLag}
}

// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"Row": func(t cases.T, in cases.Values) cases.Values { return row(t, in, 24) },
	}
}
