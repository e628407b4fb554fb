package formula

import (
	"lehr/glass/unit"
)

// SlabLeft returns the stress that stays at the faces and in the middle of a
// slab that froze while cooling at a steady rate from both faces, without the
// structural share (see [StructuralFactor]): the mirror of the cooling stress.
//
// halfThickness is half the thickness; rate is the cooling rate (negative) in
// the freezing range; kappa is the thermal diffusivity there [m²/s].
//
// Valid: slow, steady cooling through the whole freezing range, no faster
// cooling until frozen; else as [SlabStress]. Tension is positive.
//
// Source: bartenev, theory of instant freezing [memory; the field is minus SlabStress].
//
// Checked: testdata/cases/viscoelastic.toml
func SlabLeft(halfThickness unit.Length, rate unit.Rate, kappa float64, e Elastic) (surface, middle unit.Stress) {
	return -SlabStress(halfThickness, 1, rate, kappa, e), -SlabStress(halfThickness, 0, rate, kappa, e)
}

// CylinderLeft returns the stress along a long cylinder that stays at its
// surface and axis after it froze while cooling at a steady rate, without the
// structural share: the mirror of the cooling stress. At the axis the stress
// around is half of it.
//
// radius is half the diameter; rate and kappa [m²/s] as for [SlabLeft].
//
// Valid: as [SlabLeft] and [CylinderStress].
//
// Source: bartenev, theory of instant freezing [memory; the field is minus CylinderStress].
//
// Checked: testdata/cases/derived.toml
func CylinderLeft(radius unit.Length, rate unit.Rate, kappa float64, e Elastic) (surface, axis unit.Stress) {
	_, surface, _ = CylinderStress(radius, 1, rate, kappa, e)
	_, axis, _ = CylinderStress(radius, 0, rate, kappa, e)
	return -surface, -axis
}

// SphereLeft returns the stress that stays at the surface and in the center of
// a sphere that froze while cooling at a steady rate, without the structural
// share: the mirror of the cooling stress.
//
// radius is half the diameter; rate and kappa [m²/s] as for [SlabLeft].
//
// Valid: as [SlabLeft] and [SphereStress]. The center is pulled from all sides.
//
// Source: bartenev, theory of instant freezing [memory; the field is minus SphereStress].
//
// Checked: testdata/cases/viscoelastic.toml
func SphereLeft(radius unit.Length, rate unit.Rate, kappa float64, e Elastic) (surface, center unit.Stress) {
	surface, _ = SphereStress(radius, 1, rate, kappa, e)
	center, _ = SphereStress(radius, 0, rate, kappa, e)
	return -surface, -center
}

// StructuralShare returns the share of the stress left by slow, steady cooling
// that comes from the structure of the glass freezing later inside than
// outside: 0.40, measured on sheet glass.
//
// Valid: soda-lime glass, linear cooling through the annealing range.
//
// Source: gardon1970, abstract [verified].
//
// Checked: testdata/cases/viscoelastic.toml
func StructuralShare() float64 { return 0.40 }

// StructuralFactor returns by how much the stress left by slow cooling exceeds
// the mirror of the cooling stress, for a glass with the given expansion
// [1/K] below and above the transformation. For soda-lime glass it is the
// measured 1/(1 − 0.40) = 1.667; another glass takes the excess in proportion
// to its own step in expansion:
//
//	f = 1 + (1/0.6 − 1) · ((α_l − α_g)/α_g) / ((25.1 − 9.1)/9.1)
//
// Valid: slow, steady cooling; never below 1. Use the upper bound of
// expansionLiquid where that is uncertain.
//
// Source: gardon1970, abstract [derived: the proportion is ours, the 0.40 verified].
//
// Checked: testdata/cases/derived.toml
func StructuralFactor(expansion, expansionLiquid float64) float64 {
	positive("expansion", expansion)
	const sodaGlass, sodaLiquid = 9.1, 25.1 // 1e-6/K, the glass of the measurement
	excess := 1/(1-StructuralShare()) - 1
	return max(1, 1+excess*((expansionLiquid-expansion)/expansion)/((sodaLiquid-sodaGlass)/sodaGlass))
}
