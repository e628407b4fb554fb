package sim

import (
	"runtime"
	"testing"
)

// What a run costs. The case is a 76 mm borosilicate sphere in a 12-hour
// program, its worst case of four (two viscosity curves, two expansions of the
// liquid) in one Run with the default settings: 125 steps of 17 nodes.
//
//	heat         4 stages a step, each one rate and one tridiagonal solve: about
//	             125 × 4 × 17 × 20 = 0.2 million operations, once for all four
//	relaxation   2 curves × 125 × 17 nodes, of which half move: 20 thousand
//	             exponentials of terms (12 a node; those shorter than a fortieth
//	             or longer than ten times the step need none) and 8 thousand of
//	             the shift, 0.7 million operations
//	stress       2 factors and 4 solves a step, 6 terms read and written for each
//	             node that moves: 0.5 million operations
//
// Profile (go test -bench Sphere76 -cpuprofile): relaxation 55 %, of which the
// exponential is a third; stress 25 %; heat 12 %; the rest step control and the
// look for the peak. What was of use: third-order heat, so that the change of
// temperature and not the error sets the step (170 to 125 steps); the spherical
// shells of section.go (24 to 16 nodes at a third of the error); series for
// small exponents (64 to 20 thousand exponentials); one factor for all fields
// of a curve, and none while all is frozen.

func benchmark(b *testing.B, p Problem) {
	b.ReportAllocs()
	var r Result
	for b.Loop() {
		r = must(b, p, Settings{})
	}
	b.ReportMetric(float64(r.Stats.Steps), "steps")
	b.ReportMetric(float64(r.Stats.Exponentials), "exps")
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*len(p.Variants)), "µs/variant")
}

func BenchmarkSphere76(b *testing.B) { benchmark(b, overnight(Sphere, 0.076, boro, 0)) }
func BenchmarkSphereSodaLime(b *testing.B) {
	benchmark(b, overnight(Sphere, 0.05, soda, -15))
}
func BenchmarkCylinder(b *testing.B) { benchmark(b, overnight(Cylinder, 0.05, boro, 0)) }
func BenchmarkSlab(b *testing.B)     { benchmark(b, overnight(Slab, 0.025, boro, 0)) }

func BenchmarkOneVariant(b *testing.B) {
	p := overnight(Sphere, 0.076, boro, 0)
	p.Variants = p.Variants[:1]
	benchmark(b, p)
}

// BenchmarkFourDays is the same with eight times the hours: the cost is that of
// the changes, not of the hours.
func BenchmarkFourDays(b *testing.B) {
	p := overnight(Sphere, 0.076, boro, 0)
	short := p.Kiln
	p.Kiln = Kiln{At: func(s float64) float64 { return short.At(s / 8) }}
	for _, k := range short.Kinks {
		p.Kiln.Kinks = append(p.Kiln.Kinks, 8*k)
	}
	p.Mark *= 8
	benchmark(b, p)
}

// TestAllocation: a run of four variants allocates less than 200 kB, whatever
// its steps.
func TestAllocation(t *testing.T) {
	p := overnight(Sphere, 0.076, boro, 0)
	bytes := func(s Settings) uint64 {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		must(t, p, s)
		runtime.ReadMemStats(&after)
		return after.TotalAlloc - before.TotalAlloc
	}
	bytes(Settings{})
	few, many := bytes(Settings{}), bytes(Settings{MaxChange: 0.5})
	if few > 200_000 || many > few+few/4 {
		t.Errorf("%d bytes allocated, %d with more steps", few, many)
	}
}
