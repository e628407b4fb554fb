package axial

import (
	"lehr/anneal/sim"
	"lehr/anneal/sim/simtest"
	"testing"
)

func TestProbe3(t *testing.T) {
	m, v := simtest.Glass()
	v[0].A, v[0].B, v[0].T0 = 30, 0, 0
	p := simtest.Problem(m, v, simtest.Program([2]float64{0, 100}, [2]float64{0.0001, 100}))
	p.Start = func(rho float64) float64 { return 400 + 100*(1-(1-rho)*(1-rho)) }
	p.Start = func(rho float64) float64 { return 400 + 100*rho*rho }
	p.Surface = sim.Surface{Film: 1e-9}
	p.Room = 373.15
	for _, n := range []int{12, 24} {
		r, err := Run(p, sim.Settings{Cells: n, Tolerance: 1000, MaxChange: 1000}, Sphere(2, 0))
		if err != nil {
			t.Fatal(err)
		}
		o := r.Outcomes[0]
		aE := m.Expansion * m.Young / (1 - m.Poisson)
		// closed form for left: T from start 400+100 rho^2 to uniform: sigma_t = -(…)
		for i, s := range o.Field {
			if s.OnSurface {
				t.Logf("surf %6.3f %6.3f  hoop %.4f along %.4f %.4f", s.At.R, s.At.Z, s.Hoop/aE, s.First/aE, s.Second/aE)
				continue
			}
			if i%n < 4 && i/n%4 == 3 {
				rho := s.At.length() // delta T = -100 rho^2; sigma_t = aE*100*( ... )
				st := -100 * (2*(1.0/5) + (1.0/5)*rho*rho - rho*rho)
				sr := -100 * (2.0 / 5) * (1 - rho*rho)
				t.Logf("ring %d j %d  %6.3f %6.3f hoop %.4f (%.4f) first %.4f second %.4f (%.4f)", i/n, i%n, s.At.R, s.At.Z, s.Hoop/aE, st, s.First/aE, s.Second/aE, sr)
			}
		}
	}
}
