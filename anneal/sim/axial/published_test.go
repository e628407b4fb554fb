package axial

import (
	"testing"
	"time"

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

func TestTry(t *testing.T) {
	for _, c := range casetest.Load(t, "revolution") {
		p := simtest.Study(c.Inputs)
		for _, n := range []int{12, 24} {
			t0 := time.Now()
			r, err := Run(p, sim.Settings{Cells: n}, body(c.Inputs))
			if err != nil {
				t.Error(c.ID, err)
				continue
			}
			o := r.Outcomes[0]
			lag := 0.0
			if c.Expected["lag_K"] != nil {
				lag = r.MaxLag / c.Expected.Float("lag_K")
			}
			t.Logf("%-40s %d: surface %.3f left %.3f lag %.3f  any %.3f at %.1f %.1f | left at %.1f %.1f  %v %d", c.ID, n, o.Surface/1e6/c.Expected.Float("tension_MPa"), o.Left/1e6/c.Expected.Float("left_MPa"), lag,
				o.Peak/1e6/c.Expected.Float("tension_MPa"), o.SurfaceAt.R*1e3, o.SurfaceAt.Z*1e3, o.LeftAt.R*1e3, o.LeftAt.Z*1e3, time.Since(t0).Round(time.Millisecond), r.Stats.Steps)
		}
	}
}
