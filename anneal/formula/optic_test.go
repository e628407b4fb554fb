package formula

import (
	"math"
	"testing"

	"lehr/glass/unit"
)

// The retardation of a sphere: the stress across the ray, summed along it from
// the hoop and radial stress of sphereResidual's field.
func TestSphereRetardation_rederived(t *testing.T) {
	const R, q, C = 0.03, -0.02, 4e-12
	surface, _ := sphereResidual(R, q, sodaKappa, soda)
	for _, b := range []float64{0, 0.005, 0.015, 0.0245, 0.029} {
		half := math.Sqrt(R*R - b*b)
		want := C * integral(func(s float64) float64 {
			r := math.Hypot(b, s)
			hoop, radial := SphereStress(R, min(1, r/R), q, sodaKappa, soda)
			// Across the ray in the plane of ray and center: σr cos² + σθ sin².
			cos := b / r
			across := float64(radial)*cos*cos + float64(hoop)*(1-cos*cos)
			return -(float64(hoop) - across)
		}, -half, half)
		close(t, "retardation", float64(SphereRetardation(R, unit.Length(b), surface, C)), want, 1e-9)
	}
}

// The greatest retardation is seen at R √(2/3) and is 4/(3√3) C S R.
func TestSphereRetardation_greatest(t *testing.T) {
	const R, C = 0.03, 4e-12
	surface := unit.Megapascal
	best, at := 0.0, 0.0
	for i := range 30001 {
		b := R * float64(i) / 30000
		if r := float64(SphereRetardation(R, unit.Length(b), surface, C)); r > best {
			best, at = r, b
		}
	}
	close(t, "place", at/R, math.Sqrt(2./3), 1e-4)
	close(t, "greatest", best/(C*1e6*R), 4/(3*math.Sqrt(3)), 1e-8)
	close(t, "as printed", best/(C*1e6*R), 0.7698, 1e-4)
}

// An edge view of the whole slab sums to nothing, as its stress does.
func TestSlabRetardation_sumsToZero(t *testing.T) {
	sum := integral(func(x float64) float64 {
		return float64(SlabRetardation(x, -unit.Megapascal, 0.05, 2.6e-12) / Nanometer)
	}, 0, 1)
	if math.Abs(sum) > 1e-9 {
		t.Errorf("sum %g nm", sum)
	}
}

func TestTemperFromRotation_beyondTheTable(t *testing.T) {
	if n := TemperFromRotation(73); n != 0 {
		t.Errorf("73°: number %d, want 0", n)
	}
	if n := TemperFromRotation(7.4); n != 2 {
		t.Errorf("7.4°: number %d, want 2", n)
	}
}
