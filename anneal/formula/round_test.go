package formula

import (
	"math"
	"testing"

	"lehr/glass/unit"
)

// Cylinder and sphere: the stress follows from the temperature by equilibrium
// and compatibility (Timoshenko & Goodier): with I(r) the integral of T rᵐ from
// the middle,
//
//	cylinder σr = K (I(R)/R² − I(r)/r²), σθ = K (I(R)/R² + I(r)/r² − T), σz = K (2 I(R)/R² − T)
//	sphere   σr = 2K (I(R)/R³ − I(r)/r³), σθ = K (2 I(R)/R³ + I(r)/r³ − T)
func TestRound_rederived(t *testing.T) {
	const R, q = 0.025, -0.01
	K := float64(soda.PerKelvin())
	cyl := func(r float64) float64 { return q * r * r / (4 * sodaKappa) }
	sph := func(r float64) float64 { return q * r * r / (6 * sodaKappa) }
	in := func(f func(float64) float64, m, r float64) float64 {
		return integral(func(s float64) float64 { return f(s) * math.Pow(s, m) }, 0, r)
	}
	close(t, "cylinder lag", float64(CylinderLag(R, q, sodaKappa)), -cyl(R), 1e-12)
	close(t, "cylinder mean", float64(CylinderMeanLag(R, q, sodaKappa)), 2*in(cyl, 1, R)/(R*R)-cyl(R), 1e-12)
	close(t, "sphere lag", float64(SphereLag(R, q, sodaKappa)), -sph(R), 1e-12)
	close(t, "sphere mean", float64(SphereMeanLag(R, q, sodaKappa)), 3*in(sph, 2, R)/(R*R*R)-sph(R), 1e-12)
	for _, x := range []float64{0.1, 0.5, 0.9, 1} {
		r := x * R
		hoop, axial, radial := CylinderStress(R, x, q, sodaKappa, soda)
		all, part := in(cyl, 1, R)/(R*R), in(cyl, 1, r)/(r*r)
		close(t, "cylinder hoop", float64(hoop), K*(all+part-cyl(r)), 1e-9)
		close(t, "cylinder axial", float64(axial), K*(2*all-cyl(r)), 1e-9)
		close(t, "cylinder radial", float64(radial)+1, K*(all-part)+1, 1e-6)
		hoop, radial = SphereStress(R, x, q, sodaKappa, soda)
		all, part = in(sph, 2, R)/(R*R*R), in(sph, 2, r)/(r*r*r)
		close(t, "sphere hoop", float64(hoop), K*(2*all+part-sph(r)), 1e-9)
		close(t, "sphere radial", float64(radial)+1, 2*K*(all-part)+1, 1e-6)
	}
}

// A sphere and the slab it counts as agree in what the basis says.
func TestSphereAsSlab_agrees(t *testing.T) {
	const D, q = unit.Length(0.05), unit.Rate(-0.01)
	half := func(b Basis) unit.Length { return SphereAsSlab(D, b) / 2 }
	surface, _ := SphereStress(D/2, 1, q, sodaKappa, soda)
	close(t, "surface", float64(SlabStress(half(EqualSurfaceStress), 1, q, sodaKappa, soda)), float64(surface), 1e-12)
	close(t, "lag", float64(SlabLag(half(EqualLag), q, sodaKappa)), float64(SphereLag(D/2, q, sodaKappa)), 1e-12)
	_, center := sphereResidual(D/2, q, sodaKappa, soda)
	_, middle := slabResidual(half(EqualResidualTension), q, sodaKappa, soda)
	close(t, "left", float64(middle), float64(center), 1e-12)
	hoop, _, _ := CylinderStress(D/2, 1, q, sodaKappa, soda)
	close(t, "cylinder", float64(SlabStress(CylinderAsSlab(D)/2, 1, q, sodaKappa, soda)), float64(hoop), 1e-12)
	left, axis := cylinderResidual(D/2, q, sodaKappa, soda)
	close(t, "cylinder left", float64(left), -float64(hoop), 1e-12)
	close(t, "cylinder axis", float64(axis), float64(hoop), 1e-12)
}
