package formula

import (
	"math"

	"lehr/glass/unit"
)

// SlabNeutral is where a slab that cools from both faces carries no stress, as
// a share of the way from its middle to a face: 1/√3.
const SlabNeutral = 0.5773502691896258

// SlabLag returns how far the middle of a slab trails its faces while both
// change at a steady rate, once the start-up transient has died away: middle
// minus face, positive while cooling.
//
// halfThickness is half the thickness when both faces cool; kappa is the
// thermal diffusivity [m²/s].
//
//	ΔT = −q L² / (2 κ)
//
// Valid: flat slab, edges ignored, constant κ, t > L²/κ.
//
// Source: carslaw1959, sec. 3.4 [memory; re-derived in slab_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func SlabLag(halfThickness unit.Length, rate unit.Rate, kappa float64) unit.Delta {
	return lag(halfThickness, rate, kappa, 2)
}

// SlabMeanLag returns how far the average of a slab trails its faces while both
// change at a steady rate: mean minus face, positive while cooling.
//
// halfThickness and kappa [m²/s] as for [SlabLag].
//
//	ΔT = −q L² / (3 κ)
//
// Valid: as [SlabLag].
//
// Source: carslaw1959, sec. 3.4 [memory; re-derived in slab_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func SlabMeanLag(halfThickness unit.Length, rate unit.Rate, kappa float64) unit.Delta {
	return lag(halfThickness, rate, kappa, 3)
}

// SlabOneFaceLag returns how far the covered face of a slab trails the open
// one when only one face changes at a steady rate: covered minus open face,
// positive while cooling. It is four times the lag of the same slab cooled
// from both faces.
//
// thickness is the full thickness; kappa is the thermal diffusivity [m²/s].
//
//	ΔT = −q d² / (2 κ)
//
// Valid: no heat through the covered face; else as [SlabLag], t > d²/κ.
//
// Source: carslaw1959, sec. 3.4 [memory; re-derived in slab_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func SlabOneFaceLag(thickness unit.Length, rate unit.Rate, kappa float64) unit.Delta {
	return lag(thickness, rate, kappa, 2)
}

// SlabStress returns the elastic stress in the plane of a slab whose faces both
// change at a steady rate. Tension is positive: while cooling the faces are in
// tension and the middle in half as much compression.
//
// halfThickness is half the thickness; place runs from 0 (middle) to 1 (face);
// kappa is the thermal diffusivity [m²/s].
//
//	σ = −Eα/(1−ν) · q L²/κ · (3 x² − 1)/6
//
// Valid: elastic glass, flat slab, more than one thickness from its edges,
// constant properties, t > L²/κ. At the rim of a disc the stress is higher.
//
// Source: timoshenko1970, ch. 13 [memory; re-derived in slab_test.go].
//
// Checked: testdata/cases/thermal-stress.toml
func SlabStress(halfThickness unit.Length, place float64, rate unit.Rate, kappa float64, e Elastic) unit.Stress {
	fraction("place", place)
	return unit.Stress(-steady(halfThickness, rate, kappa, e) * (3*place*place - 1) / 6)
}

// SlabOneFaceFreeStress returns the elastic stress in the plane of a slab that
// changes at a steady rate on one face only and bends freely.
//
// thickness is the full thickness; place runs from 0 (covered face) to 1 (open
// face); kappa is the thermal diffusivity [m²/s].
//
//	σ = −Eα/(1−ν) · q d²/(2κ) · (x² − x + 1/6)
//
// Valid: as [SlabStress], no heat through the covered face, with neither
// resultant nor moment. Both faces carry the tension of the same slab cooled
// from both faces. A slab that is kept from bending has the stress of
// [SlabStress] for its full thickness, up to four times this at the open face; a
// disc on a shelf lies between the two.
//
// Source: timoshenko1970, ch. 13 [derived in slab_test.go].
//
// Checked: testdata/cases/derived.toml
func SlabOneFaceFreeStress(thickness unit.Length, place float64, rate unit.Rate, kappa float64, e Elastic) unit.Stress {
	fraction("place", place)
	return unit.Stress(-steady(thickness, rate, kappa, e) * (place*place - place + 1./6) / 2)
}

// lag returns −q l²/(nκ).
func lag(l unit.Length, rate unit.Rate, kappa, n float64) unit.Delta {
	positive("size", float64(l))
	positive("kappa", kappa)
	return unit.Delta(-float64(rate) * math.Pow(float64(l), 2) / (n * kappa))
}

// steady returns the unit of the steady-rate stresses, Eα/(1−ν) · q l²/κ [Pa].
func steady(l unit.Length, rate unit.Rate, kappa float64, e Elastic) float64 {
	return -float64(e.PerKelvin()) * float64(lag(l, rate, kappa, 1))
}
