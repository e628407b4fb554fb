package axial

import (
	"lehr/anneal/sim"
	"lehr/anneal/sim/simtest"
	"lehr/glass/casetest"
	"testing"
)

func TestProbe(t *testing.T) {
	in := casetest.Values{"rate_C_per_h": 60.0, "then_C_per_h": 120.0, "follows": true}
	p := simtest.Study(in)
	p.Kiln.Kinks = p.Kiln.Kinks[:3] // stop at 60 °C
	for _, n := range []int{12, 24} {
		r, err := Run(p, sim.Settings{Cells: n}, Sphere(0.0508, 0))
		if err != nil {
			t.Fatal(err)
		}
		o := r.Outcomes[0]
		t.Log(o.Surface/1e6, o.SurfaceAt, o.Left/1e6)
		for _, s := range o.Field {
			if s.OnSurface {
				t.Logf("%6.2f %6.2f  hoop %.4f along %.4f %.4f", s.At.R*1e3, s.At.Z*1e3, s.Hoop/1e6, s.First/1e6, s.Second/1e6)
			}
		}
	}
	p.Body = sim.Body{Form: sim.Sphere, Outer: 0.0254}
	pk := 0.0
	rr, _ := sim.Run(p, sim.Settings{Cells: 48, Record: func(s sim.Sample) { pk = max(pk, s.SurfaceStress) }})
	t.Log("sim surface peak", pk/1e6, "left surface", rr.Outcomes[0].Left.Plane[48]/1e6, rr.Outcomes[0].Left.Plane[0]/1e6)
}
