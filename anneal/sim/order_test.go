package sim

import (
	"fmt"
	"math"
	"testing"
)

// smooth is a problem without a kink, a table edge or a corner in its data, so
// that only the orders of the method show.
func smooth(form Form, follows bool) Problem {
	m, v := plain()
	surface := air
	if follows {
		surface = Surface{Follows: true}
	}
	return Problem{Body: Body{Form: form, Outer: 0.02}, Material: m, Variants: v, Surface: surface,
		Kiln:  Kiln{At: func(s float64) float64 { return 800 - 150*math.Cos(s/700) }, Kinks: []float64{1600}},
		Start: func(rho float64) float64 { return 650 + 20*math.Cos(math.Pi*rho) + 20 }}
}

func worst(a, b []float64) (most float64) {
	stride := (len(b) - 1) / (len(a) - 1)
	for i := range a {
		most = math.Max(most, math.Abs(a[i]-b[i*stride]))
	}
	return most
}

// TestOrderInTime: the heat equation with convection and radiation is met to third
// order; a surface that follows a curved kiln is taken along chords, which is
// second order (and exact for programs of straight lines).
func TestOrderInTime(t *testing.T) {
	for form := Slab; form <= Sphere; form++ {
		for _, follows := range []bool{false, true} {
			p := smooth(form, follows)
			at := func(dt float64) []float64 {
				return runTo(t, p, Settings{Cells: 16, FixedStep: dt}).heat.temp
			}
			exact := at(1)
			coarse, fine := worst(at(80), exact), worst(at(40), exact)
			order, want := math.Log2(coarse/fine), 3.0
			if follows {
				want = 2
			}
			near(t, fmt.Sprintf("%v, follows %v: order in time", form, follows), order, want, 0, 0.25)
		}
	}
}

func TestOrderInSpace(t *testing.T) {
	for form := Slab; form <= Sphere; form++ {
		for _, follows := range []bool{false, true} {
			p := smooth(form, follows)
			at := func(cells int) []float64 {
				return runTo(t, p, Settings{Cells: cells, Tolerance: 1e-4, MaxChange: 20}).heat.temp
			}
			exact := at(128)
			order := math.Log2(worst(at(8), exact) / worst(at(16), exact))
			near(t, fmt.Sprintf("%v, follows %v: order in space", form, follows), order, 2, 0, 0.2)
		}
	}
}

// TestOrderOfRelaxation: left stress and fictive temperature of glass with
// structural relaxation converge at second order in the step.
func TestOrderOfRelaxation(t *testing.T) {
	m, v := duffrene(true)
	for form := Slab; form <= Sphere; form++ {
		p := Problem{Body: Body{Form: form, Outer: 0.01}, Material: m, Variants: v, Surface: Surface{Follows: true},
			Kiln: program([2]float64{0, 620}, [2]float64{3, 320}), Start: uniform(620), Room: 293.15}
		residual := func(dt float64) float64 {
			o := must(t, p, Settings{Cells: 8, FixedStep: dt}).Outcomes[0]
			return o.Residual.Plane[8]
		}
		exact := residual(5)
		order := math.Log2((residual(120) - exact) / (residual(60) - exact))
		near(t, form.String()+": order of left stress", order, 2, 0, 0.3)
	}
}

// TestSphereCenter: a hoop strain taken at mid-radius leaves the center of a
// sphere about 12 % wrong at any resolution. Here steady cooling is met exactly
// (TestSteadyStress) and a start-up, which is no parabola, at second order or
// better.
func TestSphereCenter(t *testing.T) {
	at := func(cells int) float64 {
		f := ramped(t, Body{Form: Sphere, Outer: 0.02}, 0.05, Settings{Cells: cells, FixedStep: 0.25}).fields[0]
		unit := 70e9 * 9e-6 * rampRate * 0.02 * 0.02 / ((1 - 0.22) * 4.6e-7)
		return f.inner.plane / unit * 15
	}
	exact := at(256)
	coarse, fine := math.Abs(at(16)-exact), math.Abs(at(32)-exact)
	if order := math.Log2(coarse / fine); order < 1.8 {
		t.Errorf("order of the center stress %.2f, want 2 or better", order)
	}
	// The strain of the center is a third of all strain: σ there is
	// −Eα/(1−ν) · 2/3 (T_center − T_mean), whatever the profile.
	r := ramped(t, Body{Form: Sphere, Outer: 0.02}, 0.05, Settings{Cells: 64, Tolerance: 1e-3})
	want := -70e9 * 9e-6 / (1 - 0.22) * (2.0 / 3) * (r.heat.temp[0] - r.heat.average())
	near(t, "center stress", r.fields[0].inner.plane, want, 1e-3, 0)
}

// TestUniformEigenstrain: a uniform change of temperature, and a uniform change
// of fictive temperature, strain a free body evenly and leave no stress.
func TestUniformEigenstrain(t *testing.T) {
	bodies := []Body{{Form: Slab, Outer: 0.01}, {Form: Slab, Outer: 0.01, OneFace: true, Held: true}, {Form: Slab, Outer: 0.01, OneFace: true}, {Form: Sphere, Outer: 0.01},
		{Form: Cylinder, Outer: 0.01}, {Form: Cylinder, Outer: 0.01, Inner: 0.003}}
	for _, b := range bodies {
		for _, bulk := range []bool{false, true} {
			for _, hot := range []float64{0, 1} {
				m, v := duffrene(true)
				if !bulk {
					m.Bulk = nil
				}
				p := Problem{Body: b, Material: m.fill(), Variants: v, Surface: Surface{Follows: true},
					Kiln: Kiln{At: constant(800), Kinks: []float64{10}}, Start: constant(800)}
				r, err := newRun(&p, Settings{}.fill().fit(&p), nil)
				if err != nil {
					t.Fatal(err)
				}
				h, g := r.heat, r.states[0]
				// 100 K of temperature and 40 K of fictive temperature in a step
				for i := range h.mean {
					h.mean[i], h.was[i] = 700+150*hot, 800
				}
				g.step(h.was, h.mean, 10*hot+1e-6)
				for i := range g.tfNew {
					g.tfNew[i] = g.tf[i] - 40
				}
				g.section.update(g)
				r.fields[0].advance(h, g.tf, g.tfNew)
				for i := range r.fields[0].plane {
					f := r.fields[0]
					for _, s := range []float64{f.plane[i], f.axial[i], f.radial[i]} {
						if math.Abs(s) > 1e-3 { // against E α ΔT of 1e8 Pa
							t.Fatalf("%+v, bulk %v: %.3g Pa at %d of no stress", b, bulk, s, i)
						}
					}
				}
			}
		}
	}
}
