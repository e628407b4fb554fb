package formula

import (
	"lehr/glass/unit"
)

// Where a long cylinder that cools at a steady rate carries no stress, as a
// share of its radius.
const (
	CylinderHoopNeutral  = 0.5773502691896258 // 1/√3
	CylinderAxialNeutral = 0.7071067811865476 // 1/√2
)

// CylinderLag returns how far the axis of a long cylinder trails its surface
// while the surface changes at a steady rate: axis minus surface, positive
// while cooling.
//
// radius is half the diameter; kappa is the thermal diffusivity [m²/s].
//
//	ΔT = −q R² / (4 κ)
//
// Valid: more than a diameter from the ends, constant κ, t > R²/(2κ).
//
// Source: carslaw1959, sec. 7.6 [memory; re-derived in round_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func CylinderLag(radius unit.Length, rate unit.Rate, kappa float64) unit.Delta {
	return lag(radius, rate, kappa, 4)
}

// CylinderMeanLag returns how far the average of a long cylinder trails its
// surface while the surface changes at a steady rate: mean minus surface.
//
// radius and kappa [m²/s] as for [CylinderLag].
//
//	ΔT = −q R² / (8 κ)
//
// Valid: as [CylinderLag].
//
// Source: carslaw1959, sec. 7.6 [memory; re-derived in round_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func CylinderMeanLag(radius unit.Length, rate unit.Rate, kappa float64) unit.Delta {
	return lag(radius, rate, kappa, 8)
}

// CylinderStress returns the elastic stress around, along and across a long
// cylinder whose surface changes at a steady rate. Tension is positive: while
// cooling the surface is in tension.
//
// radius is half the diameter; place runs from 0 (axis) to 1 (surface); kappa
// is the thermal diffusivity [m²/s].
//
//	hoop   = −Eα/(1−ν) · q R²/κ · (3ρ² − 1)/16
//	axial  = −Eα/(1−ν) · q R²/κ · (2ρ² − 1)/8
//	radial = −Eα/(1−ν) · q R²/κ · (ρ² − 1)/16
//
// Valid: elastic glass, more than a diameter from the ends, ends free to move,
// constant properties, t > R²/(2κ).
//
// Source: timoshenko1970, ch. 13 [memory; re-derived in round_test.go].
//
// Checked: testdata/cases/thermal-stress.toml
func CylinderStress(radius unit.Length, place float64, rate unit.Rate, kappa float64, e Elastic) (hoop, axial, radial unit.Stress) {
	fraction("place", place)
	s, p := -steady(radius, rate, kappa, e), place*place
	return unit.Stress(s * (3*p - 1) / 16), unit.Stress(s * (2*p - 1) / 8), unit.Stress(s * (p - 1) / 16)
}
