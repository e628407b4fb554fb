package seal

import (
	"math"

	"lehr/glass/unit"
)

// nearSurface returns the tension in the surface over a stone that lies near
// it, at the point nearest to the stone, and what a body without a surface
// would carry at that distance.
//
// pressure is that of [SelsingPressure]; over is the radius of the stone over
// the depth of its center, below 1.
//
//	σ = 2 (1+ν) P (a/d)³ at the surface, P/2 (a/d)³ far from one
//
// From a/d = (4(1+ν))^(−1/3) on, 0.59 for ν = 0.2, the surface carries more than
// the glass at the stone.
//
// Valid: flat surface, within about 10 % up to a/d = 0.5, a lower bound beyond.
//
// Source: mindlin1950, point of dilatation in a half space [memory; re-derived in formula_near_test.go].
//
// Checked: testdata/cases/inclusions.toml
func nearSurface(pressure unit.Stress, poisson, over float64) (surface, far unit.Stress) {
	fraction("radius over depth", over)
	c := unit.Stress(over * over * over)
	return unit.Stress(2*(1+poisson)) * pressure * c, pressure / 2 * c
}

// nearSurfaceDepth returns the least depth of the center of a stone of radius a,
// in units of a, at which the surface over it carries no more than a limit.
//
//	d/a = (2 (1+ν) P/σ)^(1/3), at least 1
//
// Valid: as [nearSurface]; pressure and limit positive.
//
// Source: mindlin1950, point of dilatation in a half space [memory; inverse of nearSurface].
//
// Checked: testdata/cases/inclusions.toml
func nearSurfaceDepth(pressure, limit unit.Stress, poisson float64) float64 {
	positive("pressure", float64(pressure))
	positive("limit", float64(limit))
	return math.Max(1, math.Cbrt(2*(1+poisson)*float64(pressure/limit)))
}

// thinStripe returns the stress in a thin stripe or skin on a thick body, along
// it and, away from its edges, across. Tension is positive: the stripe of the
// higher expansion is in tension.
//
// drop is the fall from the setting temperature, positive.
//
//	σ = E (α_stripe − α_body) ΔT/(1−ν)
//
// A stripe narrower than it is thick relaxes across itself; along it then stays
// [narrowStripe].
//
// Valid: stripe much thinner than the body, body of the same stiffness or any
// thicker one.
//
// Source: timoshenko1970, bimetal strips [memory; re-derived in formula_near_test.go].
//
// Checked: testdata/cases/inclusions.toml
func thinStripe(stripe Elastic, body float64, drop unit.Delta) unit.Stress {
	return narrowStripe(stripe, body, drop) / unit.Stress(1-stripe.Poisson)
}

// narrowStripe returns the stress along a stripe or thread that is narrower
// than it is thick, and free to shrink across.
//
// body is the expansion of what it lies on [1/K]; drop is the fall from the
// setting temperature, positive.
//
//	σ = E (α_stripe − α_body) ΔT
//
// Valid: as [thinStripe].
//
// Source: timoshenko1970, bimetal strips [memory; Hooke's law for a bar].
//
// Checked: testdata/cases/inclusions.toml
func narrowStripe(stripe Elastic, body float64, drop unit.Delta) unit.Stress {
	positive("Young's modulus", float64(stripe.Young))
	return stripe.Young * unit.Stress((stripe.Expansion-body)*float64(drop))
}

// edgeFactor returns by how much the edge of a flat stone raises the hoop
// tension of the round one.
//
// half is half its thickness, edge the radius to which its edge is rounded.
//
//	1 + 2 √(t/ρ)
//
// Valid: edge radius at most half the thickness; the notch rule for a thin slot.
//
// Source: inglis1913, elliptical hole [memory].
//
// Checked: testdata/cases/seals.toml
func edgeFactor(half, edge unit.Length) float64 {
	positive("half thickness", float64(half))
	positive("edge radius", float64(edge))
	return 1 + 2*math.Sqrt(float64(half/edge))
}
