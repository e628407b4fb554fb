package formula

import (
	"math"
	"testing"
	"time"

	"lehr/glass/unit"
)

// A simply supported beam under its own weight: curvature rate is moment over
// 3 η I; the middle sinks by the integral of curvature times lever.
func TestSag_rederived(t *testing.T) {
	const L, h, ρ, η, width = 0.05, 0.006, 2500.0, 1e12, 0.02
	sink := func(weight, inertia float64) float64 {
		return integral(func(x float64) float64 { return weight * x * (L - x) / 2 / (3 * η * inertia) * x }, 0, L/2)
	}
	hour := time.Hour
	slab := sink(ρ*gravity*width*h, width*h*h*h/12) * 3600
	close(t, "slab", float64(SlabSag(h, L, ρ, η, hour)), slab, 1e-12)
	rod := sink(ρ*gravity*math.Pi*h*h/4, math.Pi*math.Pow(h, 4)/64) * 3600
	close(t, "rod", float64(RodSag(h, L, ρ, η, hour)), rod, 1e-12)
}

// Hertz: F = 16/3 G √r s^1.5 for a rigid sphere on an incompressible body; G = η/t.
func TestMark_rederived(t *testing.T) {
	s := float64(MarkDepth(0.03, 0.2*unit.Millimeter, 1e12, 4*time.Hour))
	close(t, "force", 16./3*1e12/14400*math.Sqrt(0.2e-3)*math.Pow(s, 1.5), 0.03, 1e-12)
}
