package formula

import (
	"lehr/glass/unit"
)

// SlabCoolingLimit returns the cooling rate (negative) at which the faces of a
// slab, both cooling, reach the stress limit.
//
// halfThickness is half the thickness; kappa is the thermal diffusivity [m²/s];
// limit is a tension. A slab open on one face takes its full thickness here.
//
//	q = −3 κ σ (1−ν) / (E α L²)
//
// Valid: as [SlabStress].
//
// Source: kingery1955, constant-rate case [memory; inverse of SlabStress].
//
// Checked: testdata/cases/kingery1955.toml
func SlabCoolingLimit(halfThickness unit.Length, limit unit.Stress, kappa float64, e Elastic) unit.Rate {
	return -rateFor(halfThickness, limit, kappa, e, 3)
}

// SlabHeatingLimit returns the heating rate at which the middle of a slab, both
// faces heating, reaches the limit: when heated, a piece is in tension inside.
//
// halfThickness, limit and kappa [m²/s] as for [SlabCoolingLimit].
//
//	q = 6 κ σ (1−ν) / (E α L²)
//
// Valid: as [SlabStress]; stress already locked in adds to this.
//
// Source: kingery1955, constant-rate case [memory; inverse of SlabStress].
//
// Checked: testdata/cases/derived.toml
func SlabHeatingLimit(halfThickness unit.Length, limit unit.Stress, kappa float64, e Elastic) unit.Rate {
	return rateFor(halfThickness, limit, kappa, e, 6)
}

// CylinderCoolingLimit returns the cooling rate (negative) at which the surface
// of a long cylinder reaches the stress limit.
//
// radius is half the diameter; kappa is the thermal diffusivity [m²/s].
//
//	q = −8 κ σ (1−ν) / (E α R²)
//
// Valid: as [CylinderStress].
//
// Source: timoshenko1970, ch. 13 [memory; inverse of CylinderStress].
//
// Checked: testdata/cases/derived.toml
func CylinderCoolingLimit(radius unit.Length, limit unit.Stress, kappa float64, e Elastic) unit.Rate {
	return -rateFor(radius, limit, kappa, e, 8)
}

// CylinderHeatingLimit returns the heating rate at which the axis of a long
// cylinder reaches the stress limit, along its length.
//
// radius is half the diameter; kappa is the thermal diffusivity [m²/s].
//
//	q = 8 κ σ (1−ν) / (E α R²)
//
// Valid: as [CylinderStress]; stress already locked in adds to this.
//
// Source: timoshenko1970, ch. 13 [memory; inverse of CylinderStress].
//
// Checked: testdata/cases/derived.toml
func CylinderHeatingLimit(radius unit.Length, limit unit.Stress, kappa float64, e Elastic) unit.Rate {
	return rateFor(radius, limit, kappa, e, 8)
}

// SphereCoolingLimit returns the cooling rate (negative) at which the surface
// of a sphere reaches the stress limit.
//
// radius is half the diameter; kappa is the thermal diffusivity [m²/s].
//
//	q = −15 κ σ (1−ν) / (E α R²)
//
// Valid: as [SphereStress].
//
// Source: timoshenko1970, ch. 13 [memory; inverse of SphereStress].
//
// Checked: testdata/cases/thermal-stress.toml
func SphereCoolingLimit(radius unit.Length, limit unit.Stress, kappa float64, e Elastic) unit.Rate {
	return -rateFor(radius, limit, kappa, e, 15)
}

// SphereHeatingLimit returns the heating rate at which the center of a sphere
// reaches the stress limit, in tension from all sides.
//
// radius is half the diameter; kappa is the thermal diffusivity [m²/s].
//
//	q = 15 κ σ (1−ν) / (E α R²)
//
// Valid: as [SphereStress]; stress already locked in adds to this.
//
// Source: timoshenko1970, ch. 13 [memory; inverse of SphereStress].
//
// Checked: testdata/cases/derived.toml
func SphereHeatingLimit(radius unit.Length, limit unit.Stress, kappa float64, e Elastic) unit.Rate {
	return rateFor(radius, limit, kappa, e, 15)
}

// SuddenDropLimit returns the sudden drop of the whole surface that brings it
// to the stress limit while the inside has not cooled at all.
//
//	ΔT = σ (1−ν) / (E α)
//
// Valid: elastic glass, the surface cooled in no time; a real surface lags, so
// the stress is less.
//
// Source: kingery1955, resistance to thermal shock R [memory; re-derived in slab_test.go].
//
// Checked: testdata/cases/kingery1955.toml
func SuddenDropLimit(limit unit.Stress, e Elastic) unit.Delta {
	positive("limit", float64(limit))
	return unit.Delta(float64(limit) / float64(e.PerKelvin()))
}

// rateFor returns n κ σ (1−ν)/(Eα l²) [K/s].
func rateFor(l unit.Length, limit unit.Stress, kappa float64, e Elastic, n float64) unit.Rate {
	positive("limit", float64(limit))
	return unit.Rate(n * float64(limit) / steady(l, 1, kappa, e))
}
