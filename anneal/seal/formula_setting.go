package seal

import (
	"fmt"
	"math"

	"lehr/glass"
	"lehr/glass/unit"
)

// misfitTime returns how many times longer than η/G the pressure between a
// stone and the glass around it takes to relax.
//
// core is taken as rigid but for its own elasticity: it does not flow. ratio is
// core radius over outer radius, below 1.
//
//	c = 1 + [cv/(3 K_m (1−cv)) + 1/(3 K_i)]·4 G_m (1−cv), cv = ratio³
//
// Valid: one Maxwell term in the glass, none in the stone. A round core of the
// same kind of glass holds only pressure, so it counts likewise.
//
// Source: maxwell-misfit, relaxation of a shell round a core [derived in formula_setting_test.go].
//
// Checked: testdata/cases/inclusions.toml
func misfitTime(core, around Elastic, ratio float64) float64 {
	fraction("ratio", ratio)
	positive("core Young's modulus", float64(core.Young))
	positive("glass Young's modulus", float64(around.Young))
	cv := ratio * ratio * ratio
	bulk := func(e Elastic) float64 { return float64(e.Young) / (3 * (1 - 2*e.Poisson)) }
	shear := float64(around.Young) / (2 * (1 + around.Poisson))
	return 1 + 4*shear*(cv/(3*bulk(around))+(1-cv)/(3*bulk(core)))
}

// skinTime returns how many times longer than η/G the stress in a thin skin,
// stripe or flat layer takes to relax.
//
//	c = 3 (1−ν)/(1+ν)
//
// Valid: one Maxwell term, elastic in bulk, equal stress in both directions.
//
// Source: maxwell-misfit, relaxation of a biaxial stress [derived in formula_setting_test.go].
//
// Checked: testdata/cases/inclusions.toml
func skinTime(poisson float64) float64 { return 3 * (1 - poisson) / (1 + poisson) }

// settingTemperature returns the temperature below which the misfit counts, for
// glass that cools at one steady rate throughout. Above it, what the misfit does
// relaxes at once; below it, all of it stays.
//
// curve is the viscosity of the softer partner, which sets last; shear its shear
// modulus; c is that of [misfitTime] or [skinTime]; rate may have either sign.
//
//	c (η/G) (−d ln η/dT) β = e^γ, γ = 0.5772 (Euler)
//
// Valid: one Maxwell term; some 1 K below what the integration of [settingIn] gives.
// Errors: when the curve has no such temperature.
//
// Source: maxwell-misfit, ∫exp(−e^x) with ln η linear in T [derived in formula_setting_test.go].
//
// Checked: testdata/cases/inclusions.toml
func settingTemperature(curve glass.Curve, shear unit.Stress, c float64, rate unit.Rate) (unit.Temp, error) {
	positive("shear modulus", float64(shear))
	positive("relaxation factor", c)
	positive("rate", math.Abs(float64(rate)))
	const euler = 0.57721566490153286
	// ln of the left side over the right falls as glass gets hotter.
	over := func(kelvin float64) float64 {
		d := kelvin - curve.T0
		lnEta := math.Ln10 * (curve.A + curve.B/d)
		return math.Log(c/float64(shear)*math.Abs(float64(rate))*math.Ln10*curve.B/(d*d)) + lnEta - euler
	}
	low, high := math.Max(curve.T0, 0)+1, curve.T0+curve.B/math.Max(6-curve.A, 0.1)
	if !(curve.B > 0) || !(over(low) > 0) || !(over(high) < 0) {
		return unit.Temp{}, fmt.Errorf("viscosity curve %s: no setting temperature at %s", curve.Name, rate.Text(unit.Metric))
	}
	for range 80 {
		if mid := (low + high) / 2; over(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return unit.Kelvin(high), nil
}
