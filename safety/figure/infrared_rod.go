package figure

import (
	"math"

	"lehr/glass/unit"
)

// rodIrradiance returns an upper bound of the infrared irradiance [W/m²] from
// 0.78 to 3.0 µm at an eye near a glowing rod or tube of one temperature,
// however the rod is turned.
//
// length is that of the hot part. fromMiddle is measured from the middle of it.
//
//	E ≤ σ T⁴ F_band min(Σ r²/(d − |cᵢ|)², (ρ/d)²)
//
// The rod lies within a chain of n balls on its axis, at cᵢ, of radius
// r² = R² + (L/2n)², n the whole number next above L/2R, and within one ball of
// radius ρ² = R² + (L/2)². What is seen of the rod is within what is seen of
// the balls, and a ball gives (r/d)² at most, see [sphereIrradiance]. Of two
// balls at ±c the sum is largest when the rod points at the eye, which the
// first term assumes. From far away it is at most 2.2 times what the side of a
// long rod gives, and at its own length away up to 3 times; nearer, more.
//
// Valid: as [sphereIrradiance], length up to 2 m, the eye outside the balls of
// the chain, whichever way the rod points.
//
// Source: view factor of a sphere, summed [derived; compared with the integral
// over the rod in figures_test.go].
//
// Checked: TestRodIrradiance_integral
func rodIrradiance(t unit.Temp, diameter, length, fromMiddle unit.Length) (float64, error) {
	if err := refuse(
		above("diameter of the rod", float64(diameter), "m", 1),
		above("length of the rod", float64(length), "m", 2),
		above("eye distance", float64(fromMiddle), "m", 100)); err != nil {
		return 0, err
	}
	view, err := rodView(diameter, length, fromMiddle)
	if err != nil {
		return 0, err
	}
	one, err := sphereIrradiance(t, 1, 1) // view 1/4
	return 4 * one * view, err
}

// rodView returns the bound of the view factor.
func rodView(diameter, length, fromMiddle unit.Length) (float64, error) {
	R, L, d := float64(diameter)/2, float64(length), float64(fromMiddle)
	n := math.Max(1, math.Ceil(L/(2*R)))
	half := L / (2 * n)
	r := math.Hypot(R, half)
	if least := L/2 - half + r; d <= least {
		return 0, &InputError{"eye distance", meters(fromMiddle), "must be more than %s, where the end of the rod may be", []amount{{least, "m"}}}
	}
	sum := 0.0
	for i := range int(n) {
		c := math.Abs(-L/2 + half*(2*float64(i)+1))
		sum += r * r / ((d - c) * (d - c))
	}
	if whole := math.Hypot(R, L/2); d > whole {
		sum = math.Min(sum, whole*whole/(d*d))
	}
	return math.Min(sum, 1), nil
}

// rodLimitDistance returns how far from the middle of the rod the bound falls
// to the long limit.
func rodLimitDistance(t unit.Temp, diameter, length unit.Length) (unit.Length, error) {
	one, err := sphereIrradiance(t, 1, 1)
	if err != nil {
		return 0, err
	}
	near, far := 0.0, 100.0
	for range 60 {
		d := (near + far) / 2
		view, err := rodView(diameter, length, unit.Length(d))
		if err != nil || 4*one*view > longLimit {
			near = d
		} else {
			far = d
		}
	}
	return unit.Length(far), nil
}

// EyeAtRod returns the figures for a hot rod or tube, seen from a distance that
// is measured from the middle of its hot length.
//
// Errors: as [rodIrradiance], and *[InputError] for a lens below 0 or above 1.
func EyeAtRod(glass unit.Temp, diameter, length, fromMiddle unit.Length, lens Lens) (EyeReport, error) {
	e, err := rodIrradiance(glass, diameter, length, fromMiddle)
	if err != nil {
		return EyeReport{}, err
	}
	r, err := eyeReport(glass, e, lens, AsRod)
	if err != nil {
		return EyeReport{}, err
	}
	r.LimitDistance, err = rodLimitDistance(glass, diameter, length)
	return r, err
}
