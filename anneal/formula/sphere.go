package formula

import (
	"lehr/glass/unit"
)

// SphereHoopNeutral is where a sphere that cools at a steady rate carries no
// hoop stress, as a share of its radius: 1/√2.
const SphereHoopNeutral = 0.7071067811865476

// SphereLag returns how far the center of a sphere trails its surface while the
// surface changes at a steady rate: center minus surface, positive while
// cooling.
//
// radius is half the diameter; kappa is the thermal diffusivity [m²/s].
//
//	ΔT = −q R² / (6 κ)
//
// Valid: surface everywhere at one temperature, constant κ, t > R²/(2κ).
//
// Source: carslaw1959, sec. 9.3 [memory; re-derived in round_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func SphereLag(radius unit.Length, rate unit.Rate, kappa float64) unit.Delta {
	return lag(radius, rate, kappa, 6)
}

// SphereMeanLag returns how far the average of a sphere trails its surface
// while the surface changes at a steady rate: mean minus surface.
//
// radius and kappa [m²/s] as for [SphereLag].
//
//	ΔT = −q R² / (15 κ)
//
// Valid: as [SphereLag].
//
// Source: carslaw1959, sec. 9.3 [memory; re-derived in round_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func SphereMeanLag(radius unit.Length, rate unit.Rate, kappa float64) unit.Delta {
	return lag(radius, rate, kappa, 15)
}

// SphereStress returns the elastic hoop and radial stress in a sphere whose
// surface changes at a steady rate. Tension is positive: while cooling the
// surface is in tension and the center squeezed from all sides by as much.
//
// radius is half the diameter; place runs from 0 (center) to 1 (surface); kappa
// is the thermal diffusivity [m²/s].
//
//	hoop   = −Eα/(1−ν) · q R²/κ · (2ρ² − 1)/15
//	radial = −Eα/(1−ν) · q R²/κ · (ρ² − 1)/15
//
// Valid: elastic glass, even cooling all round, constant properties, t > R²/(2κ).
//
// Source: timoshenko1970, ch. 13 [memory; re-derived in round_test.go].
//
// Checked: testdata/cases/thermal-stress.toml
func SphereStress(radius unit.Length, place float64, rate unit.Rate, kappa float64, e Elastic) (hoop, radial unit.Stress) {
	fraction("place", place)
	s, p := -steady(radius, rate, kappa, e), place*place
	return unit.Stress(s * (2*p - 1) / 15), unit.Stress(s * (p - 1) / 15)
}

// Basis says in which respect two bodies are to be alike.
type Basis int

// The three honest ways to count a sphere as a slab.
const (
	EqualSurfaceStress   Basis = iota // the same tension at the surface while cooling
	EqualLag                          // the same difference between middle and surface
	EqualResidualTension              // the same tension left in the middle
)

// SphereAsSlab returns the full thickness of the slab, cooled from both faces
// at the same rate, that a sphere counts as.
//
// diameter is the whole diameter.
//
//	equal surface stress  D/√5     = 0.4472 D
//	equal lag             D/√3     = 0.5774 D
//	equal left tension    D·√(2/5) = 0.6325 D
//
// Valid: steady rate, constant properties. Counting the whole diameter instead
// overstates the lag 3 times and the surface stress 5 times.
//
// Source: timoshenko1970, ch. 13 [derived in round_test.go].
//
// Checked: testdata/cases/thermal-stress.toml
func SphereAsSlab(diameter unit.Length, basis Basis) unit.Length {
	return diameter * unit.Length(map[Basis]float64{
		EqualSurfaceStress:   0.4472135954999579, // 1/√5
		EqualLag:             0.5773502691896258, // 1/√3
		EqualResidualTension: 0.6324555320336759, // √(2/5)
	}[basis])
}

// CylinderAsSlab returns the full thickness of the slab, cooled from both faces
// at the same rate, that has the same surface stress as a long cylinder.
//
// diameter is the whole diameter.
//
//	d = D·√(3/8) = 0.6124 D
//
// Valid: steady rate, constant properties, more than a diameter from the ends.
//
// Source: timoshenko1970, ch. 13 [derived in round_test.go].
//
// Checked: testdata/cases/derived.toml
func CylinderAsSlab(diameter unit.Length) unit.Length {
	return diameter * 0.6123724356957945
}
