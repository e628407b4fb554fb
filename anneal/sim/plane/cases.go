package plane

import (
	"slices"

	"lehr/anneal/sim"
	"lehr/anneal/sim/study"
	"lehr/glass/cases"
)

var fine = sim.Settings{Cells: 48, Tolerance: 0.005, MaxChange: 0.5}

func outline(in cases.Values) Outline {
	o := Outline{Diameter: in.Float("diameter_mm") / 1e3, Thickness: in.Float("thickness_mm") / 1e3, OnShelf: in.Has("shelf")}
	if in.Text("shape") == "lens" {
		o.Profile = Lens
	}
	if in.Has("rim_radius_of_thickness") {
		o.RimRadius = in.Float("rim_radius_of_thickness") * o.Thickness
	}
	return o
}

func run(t cases.T, p sim.Problem, s sim.Settings, o Outline) Outcome {
	t.Helper()
	r, err := Run(p, s, o)
	if err != nil {
		t.Fatal(err)
	}
	return r.Outcomes[0]
}

func simulated(t cases.T, p sim.Problem, s sim.Settings, b sim.Body) sim.Outcome {
	t.Helper()
	p.Body = b
	r, err := sim.Run(p, s)
	if err != nil {
		t.Fatal(err)
	}
	return r.Outcomes[0]
}

// Cases answers the cases of testdata/cases that name this package.
func Cases() map[string]cases.Compute {
	return map[string]cases.Compute{
		"Recipe": func(t cases.T, in cases.Values) cases.Values { return recipe(t, in, fine) },
		"Heated": func(t cases.T, in cases.Values) cases.Values {
			m, v := study.Glass()
			hours := 480 / in.Float("heating_C_per_h")
			p := study.Problem(m, v, study.Program([2]float64{0, 20}, [2]float64{hours, 500}))
			o := Outline{Diameter: in.Float("diameter_mm") / 1e3, Thickness: in.Float("thickness_mm") / 1e3}
			slab := simulated(t, p, fine, o.Slab())
			b := o.Combine(slab, run(t, p, fine, o))
			if b.TensionPlace != Inside || b.BySpan[0] != b.Tension {
				t.Errorf("heated: %+v", b)
			}
			return cases.Values{"times_slab": b.Tension / discFactor / slab.Peak}
		},
	}
}

func recipe(t cases.T, in cases.Values, s sim.Settings) cases.Values {
	p, o := study.Study(in), outline(in)
	d := newDisc(o, s.Cells, p)
	p.Body = o.Slab()
	edges := &bothEdges{disc: d}
	if _, err := sim.RunShape(p, s, edges); err != nil {
		t.Fatal(err)
	}
	slab := simulated(t, p, s, o.Slab())
	return cases.Values{"edge_MPa": edges.most[0] / 1e6, "base_MPa": edges.most[1] / 1e6,
		"membrane_MPa": d.out[0].Residual / 1e6, "slab_MPa": middle(slab) / 1e6}
}

// bothEdges keeps the greatest tension of each edge apart.
type bothEdges struct {
	*disc
	most [2]float64
}

func (b *bothEdges) Look(v sim.Look) (float64, float64) {
	for i := b.n; i < min(len(v.Stress.Mean), b.n+2) && !v.AtRoom; i++ {
		b.most[i-b.n] = max(b.most[i-b.n], v.Stress.Mean[i]+v.Stress.Deviator[2*i+1])
	}
	return b.disc.Look(v)
}

// bound computes a piece of the finite-element studies as its user would.
func bound(t cases.T, in cases.Values) (Bound, bool) {
	p := study.Study(in)
	mm := func(name string) float64 { return in.Float(name) / 1e3 }
	switch in.Text("shape") {
	case "disc", "lens":
		b, _, err := Bounds(p, sim.Settings{}, outline(in))
		if err != nil {
			t.Fatal(err)
		}
		return b[0], true
	case "rod":
		return Rod(simulated(t, p, sim.Settings{}, sim.Body{Form: sim.Cylinder, Outer: mm("diameter_mm") / 2}), in.Float("length_mm")/in.Float("diameter_mm")), true
	case "tube":
		wall, open := mm("wall_mm"), !in.Has("bore_closed")
		return TubeEnds(simulated(t, p, sim.Settings{}, TubeWall(wall, open)), (mm("diameter_mm")-wall)/2, wall, open), true
	case "dome":
		rule := Dome(mm("diameter_mm"), mm("diameter_mm")/2, in.Has("shelf"))
		return rule.Of(simulated(t, p, sim.Settings{}, rule.Body)), true
	}
	return Bound{}, false
}

// Bounding answers a row of the finite-element studies of bodies of revolution
// by the bounds of this package; [HasBound] says whether it has one.
func Bounding(t cases.T, in cases.Values) cases.Values {
	b, known := bound(t, in)
	if !known {
		t.Fatalf("no bound for a %s", in.Text("shape"))
	}
	return cases.Values{"tension_MPa": b.Tension / 1e6, "left_MPa": b.Residual / 1e6}
}

// HasBound reports whether the row is of a shape that the package bounds.
func HasBound(in cases.Values) bool {
	return slices.Contains([]string{"disc", "lens", "rod", "tube", "dome"}, in.Text("shape"))
}
