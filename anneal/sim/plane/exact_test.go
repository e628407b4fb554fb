package plane

import (
	"errors"
	"math"
	"strings"
	"testing"

	"lehr/anneal/sim"
	"lehr/anneal/sim/study"
)

func near(t testing.TB, what string, got, want, rel, abs float64) {
	t.Helper()
	if !(math.Abs(got-want) <= abs+rel*math.Abs(want)) {
		t.Errorf("%s: got %.6g, want %.6g", what, got, want)
	}
}

// elastic is a glass that never relaxes, cooled from far below its range.
func elastic() sim.Problem {
	m, v := study.Glass()
	v[0].A, v[0].B, v[0].T0 = 30, 0, 0
	return study.Problem(m, v, study.Program([2]float64{0, 400}, [2]float64{2, 100}))
}

// watched keeps the last state before room temperature.
type watched struct {
	*disc
	temp, edges  []float64
	radial, hoop []float64
	edge         []float64
}

func (w *watched) Look(v sim.Look) (float64, float64) {
	if !v.AtRoom {
		w.temp = append(w.temp[:0], v.Temp...)
		w.edges = make([]float64, len(v.Stress.Mean))
		w.disc.Points(v.Temp, v.Kiln, w.edges)
		w.radial, w.hoop, w.edge = nil, nil, nil
		for i, p := range v.Stress.Mean {
			r, h := p+v.Stress.Deviator[2*i], p+v.Stress.Deviator[2*i+1]
			if i < w.n {
				w.radial, w.hoop = append(w.radial, r), append(w.hoop, h)
			} else if i < w.n+2 {
				w.edge = append(w.edge, h)
				if math.Abs(r) > 1e-9*math.Abs(h) {
					panic("an edge is stressed across")
				}
			}
		}
	}
	return w.disc.Look(v)
}

func watch(t testing.TB, p sim.Problem, s sim.Settings, o Outline) *watched {
	t.Helper()
	p.Body = o.Slab()
	w := &watched{disc: newDisc(o, s.Cells, p)}
	if _, err := sim.RunShape(p, s, w); err != nil {
		t.Fatal(err)
	}
	return w
}

// TestElasticDisc: the membrane of a disc is the thin disc of Timoshenko and
// Goodier, Theory of Elasticity, sec. 135 [memory; ∫ over its own temperature],
// and its edge a thread that is strained as the rim is:
//
//	σ_r = αE (A(R)/R² − A(r)/r²),  σ_θ = αE (A(R)/R² + A(r)/r² − T),  A(r) = ∫ T r dr
//	σ_edge = αE (2 A(R)/R² − T_e)   all T from the start
func TestElasticDisc(t *testing.T) {
	for _, shelf := range []bool{false, true} {
		p := elastic()
		o := Outline{Diameter: 0.1, Thickness: 0.01, OnShelf: shelf}
		w := watch(t, p, sim.Settings{Cells: 64, Tolerance: 0.01}, o)
		aE := p.Material.Expansion * p.Material.Young
		below, area, all := 0.0, o.Diameter*o.Diameter/4, 0.0
		for i, x := range w.temp {
			all += (x - p.Kiln.At(0)) * w.mid[i] * w.dr
		}
		greatest := math.Abs(w.hoop[w.n-1])
		for i, x := range w.temp {
			x -= p.Kiln.At(0)
			r, lo := w.mid[i], float64(i)*w.dr
			upTo := below + x*(r*r-lo*lo)/2
			near(t, "radial", w.radial[i], aE*(all/area-upTo/(r*r)), 0, 0.003*greatest)
			near(t, "hoop", w.hoop[i], aE*(all/area+upTo/(r*r)-x), 0, 0.003*greatest)
			below += x * r * w.dr
		}
		bend := 0.0
		if shelf {
			_, slope := w.slope(w.temp, p.Kiln.At(7200))
			bend = -p.Material.Expansion * slope * o.Thickness / 2
			if !(bend < 0) { // the colder face draws together
				t.Errorf("bending stretches the cold face by %g", bend)
			}
		}
		for i, sign := range []float64{1, -1}[:len(w.edge)] {
			want := aE*(2*all/area-(w.edges[w.n+i]-p.Kiln.At(0))) + sign*bend*p.Material.Young
			near(t, "edge", w.edge[i], want, 2e-3, 0)
		}
	}
}

// TestFollows: heat transfer without end puts the kiln's own temperature at the edge,
// and is the same as a surface that follows.
func TestFollows(t *testing.T) {
	p := elastic()
	o := Outline{Diameter: 0.1, Thickness: 0.01}
	p.Surface = sim.Surface{Follows: true}
	exact := watch(t, p, sim.Settings{Cells: 32}, o)
	p.Surface = sim.Surface{HeatTransfer: 1e7}
	quick := watch(t, p, sim.Settings{Cells: 32}, o)
	near(t, "edge follows", exact.edges[32], p.Kiln.At(7200), 0, 1e-9)
	near(t, "edge behind heat transfer without end", quick.edges[32], p.Kiln.At(7200), 0, 0.01)
	near(t, "center", quick.temp[0], exact.temp[0], 0, 0.05)
	near(t, "tension", quick.edge[0], exact.edge[0], 5e-3, 0)
}

// TestSteadyCooling: in steady cooling with linear heat transfer the plane far from
// the rim trails by what a slab's face needs, rate ρ c d/2H beyond the
// parabola's third: T − T_k = (ρ c rate) (L/H + L²/3k).
func TestSteadyCooling(t *testing.T) {
	p := elastic()
	p.Surface = sim.Surface{HeatTransfer: 60}
	o := Outline{Diameter: 0.5, Thickness: 0.01}
	w := watch(t, p, sim.Settings{Cells: 64, Tolerance: 0.01}, o)
	m := p.Material
	heat := m.Density * 1000 * 150 / 3600 * 0.005 // [W/m²]
	near(t, "lag", w.temp[0]-p.Kiln.At(7200), heat*(1/60.0+0.005/(3*1.2)), 2e-3, 0)
}

// TestOrderInSpace: halving the cells quarters the error.
func TestOrderInSpace(t *testing.T) {
	for _, o := range []Outline{{Diameter: 0.075, Thickness: 0.012}, {Diameter: 0.075, Thickness: 0.012, OnShelf: true}} {
		edge := func(n int) float64 {
			p := elastic()
			return watch(t, p, sim.Settings{Cells: n, FixedStep: 30}, o).edge[0]
		}
		a, b, c := edge(8), edge(16), edge(32)
		if order := math.Log2((a - b) / (b - c)); math.Abs(order-2) > 0.3 {
			t.Errorf("order %.2f", order)
		}
	}
}

// TestResultants: no force acts on the plane across a diameter.
func TestResultants(t *testing.T) {
	m, v := study.SixTerms()
	p := study.Problem(m, v, study.Program([2]float64{0, 560}, [2]float64{0.3, 560}, [2]float64{1, 400}, [2]float64{1.5, 60}))
	for _, o := range []Outline{{Diameter: 0.1, Thickness: 0.01}, {Diameter: 0.06, Thickness: 0.02, Profile: Lens}, {Diameter: 0.1, Thickness: 0.01, OnShelf: true}} {
		r, err := Run(p, sim.Settings{}, o)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range r.Outcomes {
			force, all := 0.0, 0.0
			for j, hoop := range f.Hoop {
				thick, _ := o.at(f.Radius[j])
				force += hoop * thick
				all += math.Abs(hoop) * thick
			}
			if !(math.Abs(force) < 1e-9*all) || !(f.Residual > 0) {
				t.Errorf("%v, variant %d: force %g of %g", o, i, force, all)
			}
		}
	}
}

// TestFluidAndStiff: runny glass carries no stress, and glass that never relaxes
// has none once it is even again.
func TestFluidAndStiff(t *testing.T) {
	o := Outline{Diameter: 0.1, Thickness: 0.01, OnShelf: true}
	p := elastic()
	p.Room = 293.15
	near(t, "stiff, left", run(t, p, sim.Settings{}, o).Residual, 0, 0, 1)
	p.Variants[0].A = 5
	f := run(t, p, sim.Settings{}, o)
	if f.Edge > 100 {
		t.Errorf("runny glass carries %g Pa", f.Edge)
	}
}

// TestVariantsDoNotDisturb: a variant's answer does not depend on the others
// beyond the steps they ask for.
func TestVariantsDoNotDisturb(t *testing.T) {
	m, v := study.SixTerms()
	p := study.Problem(m, v, study.Program([2]float64{0, 560}, [2]float64{0.3, 560}, [2]float64{1, 400}, [2]float64{1.5, 60}))
	o := Outline{Diameter: 0.1, Thickness: 0.01}
	all, err := Run(p, sim.Settings{}, o)
	if err != nil {
		t.Fatal(err)
	}
	for i := range v {
		p.Variants = v[i : i+1]
		alone := run(t, p, sim.Settings{}, o)
		near(t, "edge", all.Outcomes[i].Edge, alone.Edge, 0.01, 0)
		near(t, "left", all.Outcomes[i].Residual, alone.Residual, 0.02, 0)
	}
}

func TestBadOutlines(t *testing.T) {
	for want, o := range map[string]Outline{
		"thickness 0 m must be positive":  {Diameter: 0.1},
		"either a diameter or two sides":  {Diameter: 0.1, Long: 0.1, Thickness: 0.01},
		"needs a diameter, or two sides":  {Thickness: 0.01, Long: 0.1},
		"diameter -1 m must be positive":  {Diameter: -1, Thickness: 0.01},
		"profile 7 unknown":               {Diameter: 1, Thickness: 0.01, Profile: 7},
		"a lens needs a diameter":         {Long: 1, Wide: 1, Thickness: 0.01, Profile: Lens},
		"wider than thick":                {Diameter: 0.01, Thickness: 0.02, Profile: Lens},
		"rim radius 1 m must lie between": {Diameter: 1, Thickness: 0.01, RimRadius: 1},
	} {
		_, _, err := Bounds(elastic(), sim.Settings{}, o)
		if err == nil || !errors.Is(err, sim.ErrProblem) || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %q", o, err, want)
		}
	}
	if _, err := Run(elastic(), sim.Settings{}, Outline{Long: 1, Wide: 1, Thickness: 0.01}); !errors.Is(err, sim.ErrProblem) {
		t.Error(err)
	}
	p := elastic()
	p.Material.Density = 0
	if _, _, err := Bounds(p, sim.Settings{}, Outline{Diameter: 0.1, Thickness: 0.01}); !errors.Is(err, sim.ErrProblem) {
		t.Error(err)
	}
}

// TestAllocation and the steps: a disc allocates little, whatever its steps.
func TestAllocation(t *testing.T) {
	m, v := study.SixTerms()
	p := study.Problem(m, v, study.Program([2]float64{0, 560}, [2]float64{2, 560}, [2]float64{5, 400}, [2]float64{8, 60}))
	o := Outline{Diameter: 0.1, Thickness: 0.01}
	if n := testing.AllocsPerRun(3, func() { run(t, p, sim.Settings{}, o) }); n > 300 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkDisc(b *testing.B) { benchmark(b, Outline{Diameter: 0.1, Thickness: 0.01}) }
func BenchmarkShelf(b *testing.B) {
	benchmark(b, Outline{Diameter: 0.1, Thickness: 0.01, OnShelf: true})
}
func BenchmarkLens(b *testing.B) {
	benchmark(b, Outline{Diameter: 0.05, Thickness: 0.02, Profile: Lens})
}

// benchmark reports the cost of one variant, of four that share the
// temperatures.
func benchmark(b *testing.B, o Outline) {
	m, v := study.SixTerms()
	p := study.Problem(m, v, study.Program([2]float64{0, 560}, [2]float64{2, 560}, [2]float64{5, 400}, [2]float64{8, 60}))
	b.ReportAllocs()
	var r Result
	for b.Loop() {
		var err error
		if r, err = Run(p, sim.Settings{}, o); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(r.Stats.Steps), "steps")
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(v)), "µs/variant")
}
