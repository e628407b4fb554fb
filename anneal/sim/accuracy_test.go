package sim

import (
	"fmt"
	"math"
	"testing"
)

// errorsOf compares a run with a converged one: greatest error of the peak
// tension, of the left stress at the surface and of the greatest left tension,
// each relative to the greatest of its kind and to no less than 0.1 MPa.
func errorsOf(got, want Result) (peak, surface, tension float64) {
	const least = 0.1e6
	for i, o := range got.Outcomes {
		w := want.Outcomes[i]
		n, m := len(o.Left.Plane)-1, len(w.Left.Plane)-1
		left := math.Max(math.Abs(w.Left.Plane[m]), least)
		peak = math.Max(peak, math.Abs(o.Peak-w.Peak)/math.Max(w.Peak, least))
		surface = math.Max(surface, math.Abs(o.Left.Plane[n]-w.Left.Plane[m])/left)
		tension = math.Max(tension, math.Abs(o.Left.MaxTension()-w.Left.MaxTension())/left)
	}
	return peak, surface, tension
}

// TestDefaultsAreAccurate: with the default settings the error of peak and left
// stress stays below half a per cent over forms, sizes and glasses, for a
// night's program; below 2.5 % where the piece starts with a core 100 K
// hotter than its surface, whose first seconds are the hardest to follow.
func TestDefaultsAreAccurate(t *testing.T) {
	converged := Settings{Cells: 48, Tolerance: 0.01, MaxChange: 1}
	most := map[bool]float64{}
	for form := Slab; form <= Sphere; form++ {
		for _, size := range []float64{0.02, 0.05, 0.15} {
			for gi, glass := range []func() (Material, []Variant){boro, soda} {
				for _, hot := range []bool{false, true} {
					p := overnight(form, size, glass, -15*float64(gi))
					limit := 0.005
					if hot {
						limit = 0.025
						p.Start = func(rho float64) float64 { return 790 + 100*(1-rho*rho)*(1-rho*rho) }
						p.Kiln = program([2]float64{0, 515}, [2]float64{0.05, 545}, [2]float64{1, 545}, [2]float64{2.2, 425}, [2]float64{3, 330}, [2]float64{4.5, 50})
						p.Mark = 0
					}
					peak, surface, tension := errorsOf(must(t, p, Settings{}), must(t, p, converged))
					worst := math.Max(peak, math.Max(surface, tension))
					most[hot] = math.Max(most[hot], worst)
					if !(worst < limit) {
						t.Errorf("%v %g m, glass %d, hot %v: peak off %.2f %%, surface %.2f %%, tension %.2f %%", form, size, gi, hot, 100*peak, 100*surface, 100*tension)
					}
				}
			}
		}
	}
	t.Logf("worst error %.2f %%, with a hot core %.2f %%", 100*most[false], 100*most[true])
}

// TestBenchmarkIsAccurate holds the benchmark's own case against a run that is
// converged in every respect, and its work to within a fifth.
func TestBenchmarkIsAccurate(t *testing.T) {
	p := overnight(Sphere, 0.076, boro, 0)
	got := must(t, p, Settings{})
	peak, surface, tension := errorsOf(got, must(t, p, Settings{Cells: 128, Tolerance: 0.005, MaxChange: 0.2}))
	t.Logf("peak off %.3f %%, surface %.3f %%, tension %.3f %%, %d steps", 100*peak, 100*surface, 100*tension, got.Stats.Steps)
	if worst := math.Max(peak, math.Max(surface, tension)); worst > 0.005 {
		t.Errorf("off by %.2f %%", 100*worst)
	}
	near(t, "steps", float64(got.Stats.Steps), 128, 0.2, 0)
}

// TestCurvedKiln: a kiln left to cool by itself is no straight line.
func TestCurvedKiln(t *testing.T) {
	for form := Slab; form <= Sphere; form++ {
		for _, surface := range []Surface{air, {Follows: true}} {
			p := overnight(form, 0.06, soda, -15)
			p.Surface = surface
			p.Start = uniform(530)
			p.Mark = 0
			p.Kiln = Kiln{Kinks: []float64{3600, 40000}, At: func(s float64) float64 {
				return 293.15 + 510*math.Exp(-max(0, s-3600)/9000)
			}}
			peak, surf, tension := errorsOf(must(t, p, Settings{}), must(t, p, Settings{Cells: 64, Tolerance: 0.005, MaxChange: 1}))
			if worst := max(peak, surf, tension); !(worst < 0.005) {
				t.Errorf("%v, follows %v: peak off %.2f %%, surface %.2f %%, tension %.2f %%", form, surface.Follows, 100*peak, 100*surf, 100*tension)
			}
		}
	}
}

// TestResultAgreesWithItself: the parts of a report fit together.
func TestResultAgreesWithItself(t *testing.T) {
	for form := Slab; form <= Sphere; form++ {
		r := must(t, overnight(form, 0.05, soda, -15), Settings{})
		for _, o := range r.Outcomes {
			span := math.Inf(-1)
			for _, s := range o.PeakBySpan {
				span = math.Max(span, s)
			}
			near(t, fmt.Sprintf("%v %s: peak", form, o.Variant.Name), o.Peak, span, 0, 0)
			if !(o.PeakRho >= 0 && o.PeakRho <= 1) || !(o.PeakTime >= 0 && o.PeakTime <= 12*3600) {
				t.Errorf("%v: peak at %g, %g s", form, o.PeakRho, o.PeakTime)
			}
			if !(o.Unrelaxed >= 0 && o.Unrelaxed < 1e-3) {
				t.Errorf("%v: three hours of soak leave %g", form, o.Unrelaxed)
			}
		}
	}
}

// TestPlacesBySpan: while cold glass is heated its middle is stretched most;
// while it cools its surface is, and the middle is pressed.
func TestPlacesBySpan(t *testing.T) {
	for form := Slab; form <= Sphere; form++ {
		p := overnight(form, 0.05, soda, 0)
		p.Start, p.Mark = uniform(20), 0
		p.Kiln = program([2]float64{0, 20}, [2]float64{1, 300}, [2]float64{6, 300}, [2]float64{7, 20})
		o := must(t, p, Settings{}).Outcomes[0]
		near(t, form.String()+", heating", o.CenterBySpan[0], o.PeakBySpan[0], 1e-2, 0)
		near(t, form.String()+", cooling", o.CenterBySpan[2], 0, 0, 1e3)
		near(t, form.String()+", heated surface", o.SurfaceBySpan[0], 0, 0, 1e3)
		near(t, form.String()+", cooled surface", o.SurfaceBySpan[2], o.PeakBySpan[2], 1e-2, 0)
	}
}
