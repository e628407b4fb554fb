package sim

import (
	"fmt"
	"math"
	"reflect"
	"runtime"
	"testing"
)

// everyBody is one of each kind, 20 mm where the cold meets it.
func everyBody() map[string]Body {
	return map[string]Body{
		"slab":          {Form: Slab, Outer: 0.01},
		"slab one face": {Form: Slab, Outer: 0.02, OneFace: true},
		"slab held":     {Form: Slab, Outer: 0.02, OneFace: true, Held: true},
		"cylinder":      {Form: Cylinder, Outer: 0.01},
		"tube":          {Form: Cylinder, Outer: 0.01, Inner: 0.004},
		"hollow sphere": {Form: Sphere, Outer: 0.01, Inner: 0.006},
		"open tube":     {Form: Cylinder, Outer: 0.01, Inner: 0.004, InnerOpen: true},
		"sphere":        {Form: Sphere, Outer: 0.01},
	}
}

// annealed is a body with a hot core, soaked and cooled unevenly.
func annealed(b Body) Problem {
	m, v := duffrene(true)
	return Problem{Body: b, Material: m, Variants: v, Surface: air,
		Kiln:  program([2]float64{0, 500}, [2]float64{0.1, 540}, [2]float64{0.4, 540}, [2]float64{1, 420}, [2]float64{1.5, 60}),
		Start: func(rho float64) float64 { return 790 + 60*(1-rho*rho) }, Room: 293.15}
}

// TestResultants: no force and no moment acts on a free body, at any time and
// in what is left. The solid sphere's, ∫ σ_θ r dr over its mid-plane, is met to the
// order of the method; all others to rounding.
func TestResultants(t *testing.T) {
	for name, b := range everyBody() {
		r := runTo(t, annealed(b), Settings{Cells: 32})
		f, h := r.fields[0], r.heat
		check := func(when string) {
			var force, moment, scale, arm float64
			for i := range f.plane {
				s, w := f.axial[i], h.volume[i] // ∫ σ_z r^m dr
				switch {
				case b.Form == Sphere && b.Inner > 0:
					s, w = f.plane[i], (h.face[i+1]*h.face[i+1]-h.face[i]*h.face[i])/2
				case b.Form == Sphere:
					// ∫ σ_θ r dr by the shells of the method
					s = f.plane[i]
					lo, hi := 0.0, h.face[h.n+1]*h.face[h.n+1]
					if i > 0 {
						lo = (f.s.square[i-1] + f.s.square[i]) / 2
					}
					if i < h.n {
						hi = (f.s.square[i] + f.s.square[i+1]) / 2
					}
					w = (hi - lo) / 2
				}
				force += w * s
				scale += w * math.Abs(s)
				moment += w * s * h.mid[i]
				arm += w * math.Abs(s) * h.mid[i]
			}
			limit := 1e-9
			if b.Form == Sphere && b.Inner == 0 {
				limit = 2e-3
			}
			if !(math.Abs(force) <= limit*scale) || scale == 0 {
				t.Errorf("%s, %s: force %.3g of %.3g", name, when, force, scale)
			}
			if b.OneFace && !b.Held && !(math.Abs(moment) <= 1e-9*arm) {
				t.Errorf("%s, %s: moment %.3g of %.3g", name, when, moment, arm)
			}
			if b.Form == Cylinder { // ∫ σ_θ dr over the wall
				hoop, all := 0.0, 0.0
				for i, s := range f.plane {
					w := h.face[i+1] - h.face[i]
					hoop += w * s
					all += w * math.Abs(s)
				}
				if !(math.Abs(hoop) <= 1e-9*all) {
					t.Errorf("%s, %s: hoop force %.3g of %.3g", name, when, hoop, all)
				}
			}
		}
		check("hot")
		r.finish()
		check("cold")
	}
}

// TestHeatBalance: what passes the surface is what the glass holds.
func TestHeatBalance(t *testing.T) {
	for name, b := range everyBody() {
		s := must(t, annealed(b), Settings{Tolerance: 0.01, MaxChange: 1}).Stats
		near(t, name+": heat in against heat stored", s.HeatIn, s.HeatStored, 2e-3, 0)
		if s.HeatStored >= 0 {
			t.Errorf("%s: glass that cools gains %g", name, s.HeatStored)
		}
		// the default settings do not lose much either
		s = must(t, annealed(b), Settings{}).Stats
		near(t, name+": by default", s.HeatIn, s.HeatStored, 2e-2, 0)
	}
}

// TestStiffAndFluid: glass too stiff to flow keeps nothing once it is even
// again and is stressed as an elastic body on the way; glass that flows freely
// is never stressed.
func TestStiffAndFluid(t *testing.T) {
	for name, b := range everyBody() {
		p := annealed(b)
		p.Start = constant(500 + zeroCelsius)
		p.Variants = []Variant{{A: 40, B: 1}}
		o := must(t, p, Settings{}).Outcomes[0]
		for i := range o.Residual.Plane {
			if math.Abs(o.Residual.Plane[i])+math.Abs(o.Residual.Axial[i])+math.Abs(o.Residual.Radial[i]) > 1e-6*o.Peak {
				t.Fatalf("%s, stiff: %g Pa left of %g", name, o.Residual.Plane[i], o.Peak)
			}
		}
		if o.Unrelaxed != 1 || o.Peak < 1e5 {
			t.Errorf("%s, stiff: unrelaxed %g, peak %g", name, o.Unrelaxed, o.Peak)
		}
		p.Variants[0] = Variant{A: 6, B: 1e-9}
		if fluid := must(t, p, Settings{}).Outcomes[0]; fluid.Peak > 1e-4*o.Peak {
			t.Errorf("%s, fluid: peak %g, elastic %g", name, fluid.Peak, o.Peak)
		}
	}
}

// TestHeatingMirrorsCooling: with constant properties and no relaxation,
// heating is cooling with its sign changed, and stress is linear in the rate
// and in the expansion.
func TestHeatingMirrorsCooling(t *testing.T) {
	m, v := plain()
	for name, b := range everyBody() {
		at := func(change, expansion float64) *field {
			q := m
			q.Expansion = expansion
			return runTo(t, Problem{Body: b, Material: q, Variants: v, Surface: Surface{HeatTransfer: 90},
				Kiln: program([2]float64{0, 400}, [2]float64{0.2, 400 + change}), Start: uniform(400)}, Settings{FixedStep: 20}).fields[0]
		}
		base := at(-60, 9e-6)
		for what, c := range map[string]struct{ change, expansion, times float64 }{
			"heating": {60, 9e-6, -1}, "half the rate": {-30, 9e-6, 0.5}, "a third of the expansion": {-60, 3e-6, 1.0 / 3}} {
			f := at(c.change, c.expansion)
			for i := range f.plane {
				near(t, fmt.Sprintf("%s, %s", name, what), f.plane[i], c.times*base.plane[i], 1e-6, 1)
			}
		}
	}
}

// TestDeterministic: two runs give the same bits, and no goroutine stays.
func TestDeterministic(t *testing.T) {
	before := runtime.NumGoroutine()
	for name, b := range everyBody() {
		first, second := must(t, annealed(b), Settings{}), must(t, annealed(b), Settings{})
		if !reflect.DeepEqual(first, second) {
			t.Errorf("%s: two runs differ", name)
		}
	}
	if after := runtime.NumGoroutine(); after > before {
		t.Errorf("%d goroutines before, %d after", before, after)
	}
}

// TestVariantsDoNotDisturb: a variant gives the same alone as in a set, but for
// the steps that the set takes.
func TestVariantsDoNotDisturb(t *testing.T) {
	p := overnight(Sphere, 0.05, soda, -15)
	all := must(t, p, Settings{FixedStep: 120})
	for i, v := range p.Variants {
		q := p
		q.Variants = []Variant{v}
		if alone := must(t, q, Settings{FixedStep: 120}).Outcomes[0]; !reflect.DeepEqual(alone, all.Outcomes[i]) {
			t.Errorf("%s: alone %g, in the set %g", v.Name, alone.Peak, all.Outcomes[i].Peak)
		}
	}
}

// TestStartFictive: glass put in cold carries the fictive temperature it was
// made with. Rapidly cooled glass (high) shrinks in the soak; glass that starts
// hotter than it is in equilibrium.
func TestStartFictive(t *testing.T) {
	m, v := duffrene(true)
	p := Problem{Body: Body{Form: Sphere, Outer: 0.01}, Material: m, Variants: v, Surface: Surface{Follows: true},
		Kiln: program([2]float64{0, 20}, [2]float64{0.1, 21}), Start: uniform(20)}
	near(t, "default", must(t, p, Settings{}).Outcomes[0].FictiveCenter-zeroCelsius, 509.3, 0, 0.5)
	p.StartFictive = 850
	near(t, "given", must(t, p, Settings{}).Outcomes[0].FictiveCenter, 850, 0, 1e-6)
	p.Start = constant(900)
	p.Kiln = Kiln{At: constant(900), Kinks: []float64{1}}
	near(t, "hotter", must(t, p, Settings{}).Outcomes[0].FictiveCenter, 900, 0, 1e-6)
}

// TestBulkLong: bulk that relaxes to the whole of itself is elastic, and one
// that relaxes matters (scipy_test.go says by how much).
func TestBulkLong(t *testing.T) {
	tension := func(set []Term, long float64) float64 {
		m, v := duffrene(true)
		m.Bulk, m.BulkLong = set, long
		p := annealed(Body{Form: Sphere, Outer: 0.01})
		p.Material, p.Variants = m, v
		return must(t, p, Settings{}).Outcomes[0].Residual.MaxTension()
	}
	elastic := tension(nil, 0)
	near(t, "bulk that keeps all", tension(sodaBulk, 1), elastic, 1e-3, 0)
	if some := tension(sodaBulk, 0.18); math.Abs(some/elastic-1) < 0.05 {
		t.Errorf("tension left %g with relaxing bulk, %g with elastic", some, elastic)
	}
}
