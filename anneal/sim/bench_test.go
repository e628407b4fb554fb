package sim

import "testing"

func BenchmarkSphere76(b *testing.B) {
	p := overnight(Sphere, 0.076, boro, 0)
	b.ReportAllocs()
	var r Result
	for b.Loop() {
		r = must(b, p, Settings{})
	}
	b.ReportMetric(float64(r.Stats.Steps), "steps")
	b.ReportMetric(float64(r.Stats.Rejected), "rejected")
	b.ReportMetric(float64(r.Stats.Exponentials), "exps")
}
