package figure

import (
	"math"
	"time"

	"lehr/glass/unit"
	"lehr/safety/quantity"
)

// longLimit is the infrared irradiance at the eye [W/m²], 780 to 3000 nm, for
// looking longer than 1000 s.
//
// Source: icnirp2013 [corroborated].
const longLimit = 100.0

// sphereIrradiance returns an upper bound of the infrared irradiance [W/m²] from
// 0.78 to 3.0 µm at an eye that faces a glowing ball of one temperature.
//
// fromCenter is measured from the middle of the ball, not from its surface.
//
//	E = σ T⁴ [F(3.0 µm·T) − F(0.78 µm·T)] (R/d)²
//
// (R/d)² is exact for a uniform ball that radiates by Lambert's law, at any
// distance. The ball counts as a black body: no glass gives more, clear glass
// gives less. The flame, sodium flare and the kiln are not counted.
//
// Valid: 100 °C to 2000 °C, eye outside the ball, ball up to 1 m.
//
// Source: Planck's law and the view factor of a sphere [derived; the integral
// is in figures_test.go]; band of the limit: icnirp2013 [corroborated].
//
// Checked: testdata/cases/safety-infrared.toml
func sphereIrradiance(t unit.Temp, diameter, fromCenter unit.Length) (float64, error) {
	err := refuse(
		between("glass temperature", t.Celsius(), "°C", 100, 2000),
		above("size of the piece", float64(diameter), "m", 1),
		above("eye distance", float64(fromCenter), "m", 100))
	if err != nil {
		return 0, err
	}
	if fromCenter <= diameter/2 {
		return 0, &InputError{"eye distance", meters(fromCenter), "must be more than half the piece, %s", []amount{meters(diameter / 2)}}
	}
	m, err := bandExitance(t)
	if err != nil {
		return 0, err
	}
	view := float64(diameter / 2 / fromCenter)
	return m * view * view, nil
}

// openingIrradiance returns an upper bound of the infrared irradiance [W/m²]
// at an eye straight in front of an open kiln.
//
// opening is the area of the door or lid opening; distance runs from its plane.
//
//	E = σ T⁴ F_band a²/(a² + d²),  π a² = opening
//
// The kiln counts as a black cavity and the opening as a disc of equal area.
//
// Valid: 100 °C to 2000 °C, distance above zero.
//
// Source: Planck's law and the view factor from a small area to a parallel
// disc on its axis [derived; the integral is in figures_test.go].
//
// Checked: testdata/cases/safety-infrared.toml
func openingIrradiance(t unit.Temp, opening quantity.Area, distance unit.Length) (float64, error) {
	err := refuse(
		between("kiln temperature", t.Celsius(), "°C", 100, 2000),
		above("kiln opening", float64(opening), "m²", 10),
		above("eye distance", float64(distance), "m", 100))
	if err != nil {
		return 0, err
	}
	m, err := bandExitance(t)
	if err != nil {
		return 0, err
	}
	a2 := float64(opening) / math.Pi
	return m * a2 / (a2 + float64(distance*distance)), nil
}

// shortLimitTime returns how long it takes to reach the short-exposure curve
// at a steady irradiance [W/m²]. It ranks exposures, worst first; it is
// not a permission to look.
//
//	t = (18 000 / E)^(4/3), at most 1000 s
//
// The curve is 18 000 t^(−3/4) up to 1000 s and 100 beyond (t in s). At exactly
// 1000 s it gives 101.2: the step is as published.
//
// limited is false when the irradiance is at or below the long limit, and the
// time is then zero.
//
// Valid: 0 to 1 000 000 W/m².
//
// Source: icnirp2013; eu2006-25, Annex I (m) and (n) [corroborated]; its inverse
// [derived].
//
// Checked: testdata/cases/safety-infrared.toml
func shortLimitTime(irradiance float64) (t time.Duration, limited bool, err error) {
	if err := refuse(between("irradiance", irradiance, "W/m²", 0, 1e6)); err != nil {
		return 0, false, err
	}
	if irradiance <= longLimit {
		return 0, false, nil
	}
	s := math.Min(math.Pow(18000/irradiance, 4./3), 1000)
	return unit.Seconds(s), true, nil
}

// greatestTransmittance returns the most infrared a lens may pass so that the
// eye gets no more than the long limit; 1 when no lens is needed for that.
//
//	τ = 100 / E
//
// Valid: 0 to 1 000 000 W/m².
//
// Source: the limit of icnirp2013 divided by the irradiance [derived].
//
// Checked: testdata/cases/safety-infrared.toml
func greatestTransmittance(irradiance float64) (quantity.Fraction, error) {
	if err := refuse(between("irradiance", irradiance, "W/m²", 0, 1e6)); err != nil {
		return 0, err
	}
	if irradiance <= longLimit {
		return 1, nil
	}
	return quantity.Fraction(longLimit / irradiance), nil
}

// limitDistance returns how far from the middle of the ball the bare eye must
// be for the figure to fall to the long limit.
//
//	d = R √(σ T⁴ F_band / 100)
//
// Never less than the radius. Valid and source: as [sphereIrradiance] [derived].
//
// Checked: testdata/cases/safety-infrared.toml
func limitDistance(t unit.Temp, diameter unit.Length) (unit.Length, error) {
	e, err := sphereIrradiance(t, diameter, diameter) // at d = 2R
	if err != nil {
		return 0, err
	}
	return max(diameter*unit.Length(math.Sqrt(e/longLimit)), diameter/2), nil
}

// bandExitance returns what a black body sends out in the band of the limits
// [W/m²].
func bandExitance(t unit.Temp) (float64, error) {
	share, err := bandFraction(t, bandLow, bandHigh)
	if err != nil {
		return 0, err
	}
	m, err := blackExitance(t)
	return m * share, err
}
