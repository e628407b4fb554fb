package axial

import (
	"testing"

	"lehr/anneal/sim"
	"lehr/anneal/sim/study"
	"lehr/glass/casetest"
)

// benchmark reports the cost of one variant. One is the glass of the studies
// with one variant; six terms are four variants, of which two share a viscosity
// curve and so a factor.
func benchmark(b *testing.B, cells int, body Body, sixTerms bool) {
	p := study.Study(casetest.Values{"rate_C_per_h": 60.0, "then_C_per_h": 120.0})
	if sixTerms {
		p = overnight()
	}
	b.ReportAllocs()
	var r Result
	for b.Loop() {
		r = must(b, p, sim.Settings{Cells: cells}, body)
	}
	b.ReportMetric(float64(r.Stats.Steps), "steps")
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1e3/float64(b.N*len(p.Variants)), "ms/variant")
}

func BenchmarkDome12(b *testing.B)      { benchmark(b, 12, Dome(0.076, 0.038, true), false) }
func BenchmarkDome24(b *testing.B)      { benchmark(b, 24, Dome(0.076, 0.038, true), false) }
func BenchmarkDisc12(b *testing.B)      { benchmark(b, 12, Disc(0.075, 0.012, 0, true), false) }
func BenchmarkDisc24(b *testing.B)      { benchmark(b, 24, Disc(0.075, 0.012, 0, true), false) }
func BenchmarkDome12Six(b *testing.B)   { benchmark(b, 12, Dome(0.076, 0.038, true), true) }
func BenchmarkDome24Six(b *testing.B)   { benchmark(b, 24, Dome(0.076, 0.038, true), true) }
func BenchmarkGoblet24Six(b *testing.B) { benchmark(b, 24, everyBody()["goblet"], true) }
