package seal

import (
	"math"
	"testing"
)

// A point that swells under a flat surface lifts it 4(1−ν) times as much as the
// same point lifts that plane in an endless body. From the lift along the
// surface, u_r and u_z, follows the strain there and, with no stress across it,
// the hoop stress: 2(1+ν) P (a/d)³ right over the point.
func TestNearSurface_fromTheLift(t *testing.T) {
	const e, nu, p, a, d = 63.5e9, 0.2, 70e6, 0.005, 0.02
	// In an endless body a hole of radius a under the pressure P moves outward
	// by u = P a³ (1+ν)/(2 E r²), so along the surface u_x = … x/r³.
	ux := func(x float64) float64 {
		r := math.Hypot(x, d)
		return 4 * (1 - nu) * p * a * a * a * (1 + nu) / (2 * e) * x / (r * r * r)
	}
	const h = 1e-7
	strain := ux(h) / h // the same in both directions over the point
	surface, far := nearSurface(p, nu, a/d)
	close(t, "surface over the stone", float64(surface), e*strain/(1-nu), 1e-6)
	close(t, "over that in an endless body", float64(surface/far), 4*(1+nu), 1e-12)
	if s, _ := nearSurface(p, nu, math.Pow(4*(1+nu), -1.0/3)); math.Abs(float64(s)-p/2) > 1 {
		t.Errorf("equal to the hoop at the stone: %v", s)
	}
	over := nearSurfaceDepth(p, 7e6, nu)
	back, _ := nearSurface(p, nu, 1/over)
	close(t, "there and back", float64(back), 7e6, 1e-12)
	if got := nearSurfaceDepth(1e6, 7e6, nu); got != 1 {
		t.Errorf("a weak stone may touch the surface: %g", got)
	}
}

// A thin stripe is the limit of the sandwich and of the layered sphere.
func TestThinStripe_isTheLimit(t *testing.T) {
	stripe := Elastic{63.5e9, 0.2, 3.5e-6}
	_, inOuter := sandwichStress(boro, stripe, 1e-9, 490)
	got := thinStripe(stripe, boro.Expansion, 490)
	close(t, "sandwich", float64(inOuter), float64(got), 1e-6)
	s := LayeredSphere([]Shell{{1 - 1e-7, boro}, {1, stripe}}, 490)
	close(t, "sphere", float64(s[1].OuterHoop), float64(got), 1e-5)
	close(t, "along a thread", float64(narrowStripe(stripe, boro.Expansion, 490)), 63.5e9*0.2e-6*490, 1e-12)
}
