package seal

import (
	"math"
	"testing"

	"lehr/glass/unit"
)

// The closed integral against one done by Gauss's rule, and the lone stone as
// its limit.
func TestSphereRetardation(t *testing.T) {
	const c = 4e-12
	mm := unit.Millimeter
	shells := []Shell{{20 * mm, boro}, {21 * mm, Elastic{63.5e9, 0.2, 3.5e-6}}, {31.75 * mm, boro}}
	s := newBall(shells)
	s.shrinkAll(490)
	s.solve()
	for _, b := range []float64{5e-3, 19.9e-3, 20.5e-3, 29e-3} {
		sum, from := 0.0, 0.0
		for i, outer := range s.outer {
			to := math.Sqrt(math.Max(0, outer*outer-b*b))
			sum += integral(func(x float64) float64 {
				r := math.Hypot(b, x)
				radial, hoop := s.at(i, r)
				return float64(hoop-radial) * b * b / (r * r)
			}, from, to)
			from = to
		}
		close(t, "retardation", float64(sphereRetardation(shells, 490, unit.Length(b), c)), 2*c*sum, 1e-9)
	}
	big := []Shell{{1 * mm, opal}, {1000 * mm, boro}}
	p := SelsingPressure(opal, boro, 490)
	close(t, "beside a lone stone", float64(sphereRetardation(big, 490, 1*mm, c)), float64(stoneRetardation(p, 1*mm, c)), 1e-5)
}
