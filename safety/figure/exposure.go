package figure

import (
	"lehr/safety/quantity"
)

// TimeWeighted returns the average exposure over an eight-hour day.
//
// levels are concentrations, hours the time at each; both of the same length.
//
//	E = Σ C T / 8
//
// The hours may be fewer than eight (the rest counts as clean) and at most 24.
//
// Valid: at least one level; none negative.
//
// Source: osha-1000, (d)(1) [verified].
//
// Checked: testdata/cases/safety-exposure.toml
func TimeWeighted(levels, hours []float64) (float64, error) {
	if len(levels) == 0 || len(levels) != len(hours) {
		return 0, &InputError{"levels and hours", quantity.Digits(float64(len(levels)), 4) + " and " + quantity.Digits(float64(len(hours)), 4), "must be as many of each, and at least one"}
	}
	var sum, day float64
	for i := range levels {
		if err := refuse(between("concentration", levels[i], "", 0, 1e9), between("time", hours[i], "h", 0, 24)); err != nil {
			return 0, err
		}
		sum += levels[i] * hours[i]
		day += hours[i]
	}
	if err := refuse(above("time in all", day, "h", 24)); err != nil {
		return 0, err
	}
	return sum / 8, nil
}

// MixtureIndex returns the sum of the shares that several agents take of their
// limits; above 1 the limit for a mixture is passed.
//
//	Em = Σ C / L
//
// Valid: as many limits as levels, limits above zero.
//
// Source: osha-1000, (d)(2) [verified].
//
// Checked: testdata/cases/safety-exposure.toml
func MixtureIndex(levels, limits []float64) (float64, error) {
	if len(levels) == 0 || len(levels) != len(limits) {
		return 0, &InputError{"levels and limits", quantity.Digits(float64(len(levels)), 4) + " and " + quantity.Digits(float64(len(limits)), 4), "must be as many of each, and at least one"}
	}
	var sum float64
	for i := range levels {
		if err := refuse(between("concentration", levels[i], "", 0, 1e9), above("limit", limits[i], "", 1e9)); err != nil {
			return 0, err
		}
		sum += levels[i] / limits[i]
	}
	return sum, nil
}

// LongDayLead returns the limit for lead in air [µg/m³] on a day longer than
// eight hours.
//
//	400 / hours
//
// Valid: 8 h to 24 h.
//
// Source: osha-metals, 1910.1025(c)(2) [verified].
//
// Checked: testdata/cases/safety-exposure.toml
func LongDayLead(hours float64) (float64, error) {
	if err := refuse(between("length of the day", hours, "h", 8, 24)); err != nil {
		return 0, err
	}
	return 400 / hours, nil
}

// MilligramsPerCubicMeter returns a gas concentration by weight from ppm by
// volume, at 25 °C and standard pressure.
//
//	mg/m³ = ppm × M / 24.45  (M in g/mol)
//
// Valid: 0 to 1 000 000 ppm, molar mass from 1 to 1000 g/mol.
//
// Source: osha-1000 and niosh-idlh for its worked factors [corroborated].
//
// Checked: testdata/cases/safety-exposure.toml
func MilligramsPerCubicMeter(ppm, molarMass float64) (float64, error) {
	err := refuse(between("concentration", ppm, "ppm", 0, 1e6), between("molar mass", molarMass, "g/mol", 1, 1000))
	return ppm * molarMass / 24.45, err
}

// PPM returns a gas concentration by volume from mg/m³; the inverse of
// [MilligramsPerCubicMeter], with its range and source.
//
// Checked: testdata/cases/safety-exposure.toml
func PPM(mgPerM3, molarMass float64) (float64, error) {
	err := refuse(between("concentration", mgPerM3, "mg/m³", 0, 1e9), between("molar mass", molarMass, "g/mol", 1, 1000))
	return mgPerM3 * 24.45 / molarMass, err
}
