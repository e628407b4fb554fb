package formula

import (
	"math"
	"time"

	"lehr/glass/unit"
)

// seriesTerms bounds every series of this file. With a Fourier number of at
// least shortTime the last term is below 1e-40.
const (
	seriesTerms = 100
	shortTime   = 1e-3
)

// SlabStep returns how much of a sudden change of both faces has not yet
// reached the middle of a slab, and the slab on average: (T − T_face)/(T₀ − T_face).
//
// fo is the Fourier number κ t/L², L half the thickness.
//
//	middle = 4/π  Σ (−1)ⁿ/(2n+1)  exp(−(2n+1)² π² fo/4)
//	mean   = 8/π² Σ   1/(2n+1)²   exp(−(2n+1)² π² fo/4)
//
// Valid: fo ≥ 0; below 0.001 by the half-space solution, within 1e-7.
//
// Source: carslaw1959, sec. 3.4 [memory; re-derived in transient_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func SlabStep(fo float64) (middle, mean float64) {
	notNegative("fo", fo)
	if fo < shortTime {
		return 1, 1 - 2*math.Sqrt(fo/math.Pi)
	}
	for n, sign := 0, 1.0; n < seriesTerms; n, sign = n+1, -sign {
		k := float64(2*n + 1)
		e := math.Exp(-k * k * math.Pi * math.Pi * fo / 4)
		middle += sign * 4 / math.Pi / k * e
		mean += 8 / (math.Pi * math.Pi) / (k * k) * e
	}
	return middle, mean
}

// CylinderStep returns how much of a sudden change of the surface has not yet
// reached the axis of a long cylinder, and the cylinder on average.
//
// fo is the Fourier number κ t/R²; zₙ are the zeros of the Bessel function J₀.
//
//	axis = 2 Σ exp(−zₙ² fo)/(zₙ J₁(zₙ))
//	mean = 4 Σ exp(−zₙ² fo)/zₙ²
//
// Valid: fo ≥ 0; below 0.001 by the short-time expansion, within 1e-6.
//
// Source: carslaw1959, sec. 7.6 [memory; re-derived in transient_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func CylinderStep(fo float64) (axis, mean float64) {
	notNegative("fo", fo)
	if fo < shortTime {
		return 1, 1 - 4*math.Sqrt(fo/math.Pi) + fo
	}
	for n := range seriesTerms {
		z := besselZero(n + 1)
		e := math.Exp(-z * z * fo)
		axis += 2 / (z * math.J1(z)) * e
		mean += 4 / (z * z) * e
	}
	return axis, mean
}

// SphereStep returns how much of a sudden change of the surface has not yet
// reached the center of a sphere, and the sphere on average.
//
// fo is the Fourier number κ t/R².
//
//	center = 2    Σ (−1)ⁿ⁺¹ exp(−n² π² fo)
//	mean   = 6/π² Σ 1/n²    exp(−n² π² fo)
//
// Valid: fo ≥ 0; below 0.001 by the short-time expansion, within 1e-9.
//
// Source: carslaw1959, sec. 9.3 [memory; re-derived in transient_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func SphereStep(fo float64) (center, mean float64) {
	notNegative("fo", fo)
	if fo < shortTime {
		return 1, 1 - 6*math.Sqrt(fo/math.Pi) + 3*fo
	}
	for n, sign := 1, 1.0; n <= seriesTerms; n, sign = n+1, -sign {
		k := float64(n)
		e := math.Exp(-k * k * math.Pi * math.Pi * fo)
		center += sign * 2 * e
		mean += 6 / (math.Pi * math.Pi) / (k * k) * e
	}
	return center, mean
}

// SlabStartUp returns which part of the steady lag of the middle, and of the
// steady stress at the faces, a slab has reached after a ramp of both faces
// has run for a while.
//
// fo is the Fourier number κ t/L², L half the thickness, t the time since the
// ramp began.
//
//	lag    = 1 − 32/π³ Σ (−1)ⁿ/(2n+1)³ exp(−(2n+1)² π² fo/4)
//	stress = 1 − 96/π⁴ Σ   1/(2n+1)⁴   exp(−(2n+1)² π² fo/4)
//
// Valid: fo ≥ 0, uniform temperature when the ramp begins.
//
// Source: carslaw1959, sec. 3.4 [memory; re-derived in transient_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func SlabStartUp(fo float64) (lag, stress float64) {
	notNegative("fo", fo)
	lag, stress = 1, 1
	for n, sign := 0, 1.0; n < seriesTerms; n, sign = n+1, -sign {
		k := float64(2*n + 1)
		e := math.Exp(-k * k * math.Pi * math.Pi * fo / 4)
		lag -= sign * 32 / math.Pow(math.Pi*k, 3) * e
		stress -= 96 / math.Pow(math.Pi*k, 4) * e
	}
	return clip(lag), clip(stress)
}

// CylinderStartUp returns which part of the steady lag of the axis, and of the
// steady stress at the surface, a long cylinder has reached after a ramp of its
// surface has run for a while.
//
// fo is the Fourier number κ t/R²; zₙ are the zeros of the Bessel function J₀.
//
//	lag    = 1 −  8 Σ exp(−zₙ² fo)/(zₙ³ J₁(zₙ))
//	stress = 1 − 32 Σ exp(−zₙ² fo)/zₙ⁴
//
// Valid: fo ≥ 0, uniform temperature when the ramp begins.
//
// Source: carslaw1959, sec. 7.6 [memory; re-derived in transient_test.go].
//
// Checked: testdata/cases/derived.toml
func CylinderStartUp(fo float64) (lag, stress float64) {
	notNegative("fo", fo)
	lag, stress = 1, 1
	for n := range seriesTerms {
		z := besselZero(n + 1)
		e := math.Exp(-z * z * fo)
		lag -= 8 / (z * z * z * math.J1(z)) * e
		stress -= 32 / math.Pow(z, 4) * e
	}
	return clip(lag), clip(stress)
}

// SphereStartUp returns which part of the steady lag of the center, and of the
// steady stress at the surface, a sphere has reached after a ramp of its
// surface has run for a while.
//
// fo is the Fourier number κ t/R², t the time since the ramp began.
//
//	lag    = 1 − 12/π² Σ (−1)ⁿ⁺¹/n² exp(−n² π² fo)
//	stress = 1 − 90/π⁴ Σ    1/n⁴    exp(−n² π² fo)
//
// Valid: fo ≥ 0, uniform temperature when the ramp begins.
//
// Source: carslaw1959, sec. 9.3 [memory; re-derived in transient_test.go].
//
// Checked: testdata/cases/carslaw1959.toml
func SphereStartUp(fo float64) (lag, stress float64) {
	notNegative("fo", fo)
	lag, stress = 1, 1
	for n, sign := 1, 1.0; n <= seriesTerms; n, sign = n+1, -sign {
		k := float64(n)
		e := math.Exp(-k * k * math.Pi * math.Pi * fo)
		lag -= sign * 12 / (math.Pi * math.Pi * k * k) * e
		stress -= 90 / math.Pow(math.Pi*k, 4) * e
	}
	return clip(lag), clip(stress)
}

// SlabSlowestMode returns the time in which a slab, left alone between faces of
// one temperature, loses all but 1/e of its last unevenness.
//
// halfThickness is half the thickness, or the full thickness if one face passes
// no heat; kappa is the thermal diffusivity [m²/s].
//
//	t = 4 L²/(π² κ)
//
// Valid: after the quicker modes have died away, κ t/L² > 0.1.
//
// Source: carslaw1959, sec. 3.4 [memory; first term of SlabStep].
//
// Checked: testdata/cases/carslaw1959.toml
func SlabSlowestMode(halfThickness unit.Length, kappa float64) time.Duration {
	return modeTime(halfThickness, kappa, math.Pi*math.Pi/4)
}

// CylinderSlowestMode returns the time in which a long cylinder, its surface
// held at one temperature, loses all but 1/e of its last unevenness.
//
// radius is half the diameter; kappa is the thermal diffusivity [m²/s].
//
//	t = R²/(z₁² κ), z₁² = 5.7832
//
// Valid: after the quicker modes have died away, κ t/R² > 0.05.
//
// Source: carslaw1959, sec. 7.6 [memory; first term of CylinderStep].
//
// Checked: testdata/cases/carslaw1959.toml
func CylinderSlowestMode(radius unit.Length, kappa float64) time.Duration {
	z := besselZero(1)
	return modeTime(radius, kappa, z*z)
}

// SphereSlowestMode returns the time in which a sphere, its surface held at one
// temperature, loses all but 1/e of its last unevenness.
//
// radius is half the diameter; kappa is the thermal diffusivity [m²/s].
//
//	t = R²/(π² κ)
//
// Valid: after the quicker modes have died away, κ t/R² > 0.05.
//
// Source: carslaw1959, sec. 9.3 [memory; first term of SphereStep].
//
// Checked: testdata/cases/carslaw1959.toml
func SphereSlowestMode(radius unit.Length, kappa float64) time.Duration {
	return modeTime(radius, kappa, math.Pi*math.Pi)
}

func modeTime(l unit.Length, kappa, n float64) time.Duration {
	positive("size", float64(l))
	positive("kappa", kappa)
	return unit.Seconds(float64(l) * float64(l) / (n * kappa))
}

// besselZero returns the n-th zero of J₀, n from 1: McMahon's expansion, then
// four Newton steps.
func besselZero(n int) float64 {
	a := (float64(n) - 0.25) * math.Pi
	z := a + 1/(8*a)
	for range 4 {
		z += math.J0(z) / math.J1(z)
	}
	return z
}

func notNegative(name string, x float64) {
	if !(x >= 0) || math.IsInf(x, 1) {
		panic("anneal: " + name + " must be finite and not negative")
	}
}

// clip removes what rounding leaves outside 0..1.
func clip(x float64) float64 { return min(1, max(0, x)) }
