package axial

import (
	"lehr/anneal/sim"
	"lehr/anneal/sim/simtest"
	"lehr/glass/casetest"
	"testing"
)

func TestProbe2(t *testing.T) {
	in := casetest.Values{"rate_C_per_h": 60.0, "then_C_per_h": 120.0}
	p := simtest.Study(in)
	p.Kiln.Kinks = p.Kiln.Kinks[:3] // stop at 60 °C
	for _, n := range []int{12, 24} {
		r, err := Run(p, sim.Settings{Cells: n}, Sphere(0.0508, 0))
		if err != nil {
			t.Fatal(err)
		}
		for j := 0; j <= n/2; j++ {
			t.Logf("%d T %.4f  %.4f %.4f   %.4f", j, r.Temperature[1+(n-1)*(n+1)+j]-273.15, r.Temperature[1+(n-2)*(n+1)+j]-273.15, r.Temperature[1+(n/2)*(n+1)+j]-273.15, r.Temperature[1+j]-273.15)
		}
	}
}
