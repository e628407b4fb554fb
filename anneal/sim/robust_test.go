package sim

import (
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"
)

// anyProblem is a random problem that is well put: sizes 3 to 300 mm, rates 1
// to 2000 °C/h, soft to hard glass, every form, surface and start.
func anyProblem(r *rand.Rand) Problem {
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	spread := func(a, b float64) float64 { return a * math.Pow(b/a, r.Float64()) }
	size := spread(3e-3, 0.3)
	b := Body{Form: Form(r.IntN(3)), Outer: size / 2}
	switch {
	case b.Form == Slab && r.IntN(2) == 0:
		b.Outer, b.OneFace, b.Held = size, true, r.IntN(2) == 0
	case b.Form == Cylinder && r.IntN(2) == 0:
		b.Inner, b.InnerOpen = b.Outer*between(0.02, 0.97), r.IntN(2) == 0
	}
	// fixed points of anything from lead crystal to fused silica
	anneal := spread(700, 1450)
	strain := anneal * between(0.92, 0.97)
	t0 := strain * between(-0.5, 0.8)
	bb := 1.5 / (1/(strain-t0) - 1/(anneal-t0))
	v := Variant{A: 12 - bb/(anneal-t0), B: bb, T0: t0}
	alpha := spread(0.5e-6, 13e-6)
	if r.IntN(3) > 0 {
		v.ExpansionLiquid = alpha * between(0.5, 4)
	}
	w := v
	w.A += between(-0.5, 0.5)
	m := Material{Density: between(2200, 5000), Conductivity: poly(between(0.7, 1.4), between(0, 2e-3), 0),
		SpecificHeat: sharpGinther(between(1.2, 2.3), between(450, 750)), Young: between(50e9, 90e9), Poisson: between(0.15, 0.28), Expansion: alpha}
	if r.IntN(2) == 0 {
		m.Shear = meanOne(sodaTerms)
	}
	if r.IntN(4) == 0 {
		m.Bulk, m.BulkLong = sodaBulk, between(0, 1)
	}
	p := Problem{Body: b, Material: m, Variants: []Variant{v, w}, Room: 293.15}
	start := anneal + between(-400, 200)
	if start < 280 {
		start = 280
	}
	points := [][2]float64{{0, start - zeroCelsius}}
	hours, at := 0.0, start
	for range 1 + r.IntN(6) {
		to := between(290, anneal+100)
		if r.IntN(3) == 0 {
			hours += spread(0.01, 20) // a hold
		} else {
			hours += math.Max(math.Abs(to-at)/spread(1, 2000), 1e-3)
			at = to
		}
		points = append(points, [2]float64{hours, at - zeroCelsius})
	}
	p.Kiln = program(points...)
	if r.IntN(2) == 0 {
		p.Mark = p.Kiln.Kinks[r.IntN(len(p.Kiln.Kinks))]
	}
	switch r.IntN(3) {
	case 0:
		p.Surface = Surface{Follows: true}
	case 1:
		p.Surface = air
	case 2:
		p.Surface = Surface{HeatTransfer: spread(0.5, 500), Emissivity: r.Float64()}
	}
	hot := 0.0
	if r.IntN(2) == 0 {
		hot = between(0, 500)
	}
	p.Start = func(rho float64) float64 { return start + hot*(1-rho*rho) }
	return p
}

func finite(r Result) bool {
	ok := true
	see := func(list ...float64) {
		for _, x := range list {
			ok = ok && !math.IsNaN(x) && !math.IsInf(x, 0)
		}
	}
	see(r.MaxLag, r.MarkLag, r.Stats.HeatIn, r.Stats.HeatStored, r.Stats.LargestChange)
	see(r.Temperature...)
	for _, o := range r.Outcomes {
		see(o.Peak, o.PeakTime, o.PeakRho, o.Unrelaxed, o.FictiveCenter, o.FictiveSurface, o.Residual.MaxTension())
		see(o.PeakBySpan...)
		see(o.Residual.Plane...)
		see(o.Residual.Axial...)
		see(o.Residual.Radial...)
	}
	return ok
}

// TestAnyProblem runs 200 random problems, 3,000 with LEHR_LONG=1, 10,000 with
// LEHR_CAMPAIGN=1: each ends with finite numbers or an error of the package, within a
// bounded number of steps.
func TestAnyProblem(t *testing.T) {
	count := fewer(3000, 200)
	if os.Getenv("LEHR_CAMPAIGN") == "1" {
		count = 10000
	}
	before := runtime.NumGoroutine()
	began := time.Now()
	failed, most, steps := 0, 0, 0
	for i := range count {
		p := anyProblem(rand.New(rand.NewPCG(7, uint64(i))))
		r, err := Run(p, Settings{})
		switch {
		case errors.Is(err, ErrNotConverged):
			failed++
			t.Logf("problem %d: %v", i, err)
		case err != nil:
			t.Errorf("problem %d: %v", i, err)
		case !finite(r):
			t.Errorf("problem %d: not finite", i)
		}
		for _, o := range r.Outcomes {
			if o.Peak < 0 || o.Unrelaxed < 0 || o.Unrelaxed > 1+1e-9 || o.Peak > 1e10 {
				t.Errorf("problem %d: peak %g, unrelaxed %g", i, o.Peak, o.Unrelaxed)
			}
		}
		work := r.Stats.Steps + r.Stats.Rejected
		most, steps = max(most, work), steps+work
	}
	if failed > count/1000 {
		t.Errorf("%d of %d did not converge", failed, count)
	}
	if most > 20000 { // a liquid core hundreds of kelvin hotter than a cold surface
		t.Errorf("%d steps in one problem", most)
	}
	if after := runtime.NumGoroutine(); after > before {
		t.Errorf("%d goroutines before, %d after", before, after)
	}
	t.Logf("%d problems in %v: %d steps each, at most %d; %d gave up", count, time.Since(began).Round(time.Millisecond), steps/count, most, failed)
}

// TestBadProblems: what cannot be simulated is refused, and named.
func TestBadProblems(t *testing.T) {
	nan := math.NaN()
	for want, spoil := range map[string]func(p *Problem, s *Settings){
		"form":                    func(p *Problem, _ *Settings) { p.Body.Form = 7 },
		"size":                    func(p *Problem, _ *Settings) { p.Body.Outer = nan },
		"size 0":                  func(p *Problem, _ *Settings) { p.Body.Outer = 0 },
		"bore radius":             func(p *Problem, _ *Settings) { p.Body.Form, p.Body.Inner = Cylinder, 1 },
		"a slab has no bore":      func(p *Problem, _ *Settings) { p.Body.Form, p.Body.Inner = Slab, 0.001 },
		"one face":                func(p *Problem, _ *Settings) { p.Body.OneFace = true },
		"open bore":               func(p *Problem, _ *Settings) { p.Body.InnerOpen = true },
		"density":                 func(p *Problem, _ *Settings) { p.Material.Density = -1 },
		"missing":                 func(p *Problem, _ *Settings) { p.Material.Conductivity = nil },
		"conductivity":            func(p *Problem, _ *Settings) { p.Material.Conductivity = constant(nan) },
		"specific heat":           func(p *Problem, _ *Settings) { p.Material.SpecificHeat = constant(-1) },
		"Young":                   func(p *Problem, _ *Settings) { p.Material.Young = math.Inf(1) },
		"Poisson":                 func(p *Problem, _ *Settings) { p.Material.Poisson = 0.5 },
		"expansion":               func(p *Problem, _ *Settings) { p.Material.Expansion = 9 },
		"expansion of the liquid": func(p *Problem, _ *Settings) { p.Variants[0].ExpansionLiquid = 9 },
		"viscosity":               func(p *Problem, _ *Settings) { p.Variants = nil },
		"viscosity curve":         func(p *Problem, _ *Settings) { p.Variants[0].B = -1 },
		"A, B, T0":                func(p *Problem, _ *Settings) { p.Variants[0].T0 = nan },
		"program":                 func(p *Problem, _ *Settings) { p.Kiln.Kinks = nil },
		"comes after":             func(p *Problem, _ *Settings) { p.Kiln.Kinks = []float64{5, 5} },
		"length":                  func(p *Problem, _ *Settings) { p.Kiln.Kinks = []float64{0} },
		"temperature":             func(p *Problem, _ *Settings) { p.Kiln.At = constant(nan) },
		"starting temperature":    func(p *Problem, _ *Settings) { p.Start = constant(-3) },
		"no starting":             func(p *Problem, _ *Settings) { p.Start = nil },
		"beyond any glass":        func(p *Problem, _ *Settings) { p.Start = constant(9000) },
		"neither follows":         func(p *Problem, _ *Settings) { p.Surface = Surface{} },
		"emissivity":              func(p *Problem, _ *Settings) { p.Surface.Emissivity = 2 },
		"heat transfer":           func(p *Problem, _ *Settings) { p.Surface.HeatTransfer = nan },
		"relaxation term":         func(p *Problem, _ *Settings) { p.Material.Shear = []Term{{1, 0}} },
		"weights sum":             func(p *Problem, _ *Settings) { p.Material.Structural = []Term{{0.5, 1}} },
		"long-time bulk":          func(p *Problem, _ *Settings) { p.Material.Bulk, p.Material.BulkLong = sodaBulk, 2 },
		"nonlinearity":            func(p *Problem, _ *Settings) { p.Material.Nonlinearity = -1 },
		"structural modulus":      func(p *Problem, _ *Settings) { p.Material.StructuralModulus = nan },
		"fictive temperature":     func(p *Problem, _ *Settings) { p.StartFictive = nan },
		"end of soak":             func(p *Problem, _ *Settings) { p.Mark = 1e9 },
		"room":                    func(p *Problem, _ *Settings) { p.Room = nan },
		"cells":                   func(_ *Problem, s *Settings) { s.Cells = 1 },
		"tolerance":               func(_ *Problem, s *Settings) { s.Tolerance = nan },
		"step":                    func(_ *Problem, s *Settings) { s.FixedStep = nan },
		"steps":                   func(_ *Problem, s *Settings) { s.MaxSteps = -1 },
	} {
		p, s := overnight(Sphere, 0.02, soda, 0), Settings{}
		spoil(&p, &s)
		_, err := Run(p, s)
		if !errors.Is(err, ErrProblem) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v", want, err)
		}
	}
	_, err := Run(overnight(Sphere, 0.02, soda, 0), Settings{MaxSteps: 5})
	if !errors.Is(err, ErrNotConverged) || !strings.Contains(err.Error(), "limit 5") {
		t.Errorf("five steps: got %v", err)
	}
}
