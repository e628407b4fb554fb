package figure

import (
	"time"

	"lehr/glass/unit"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

// EyeReport is the figure for infrared at the eye from one hot piece, or from
// the open kiln, and what follows from it.
type EyeReport struct {
	Irradiance float64 // upper bound at the bare eye [W/m²], 780 to 3000 nm
	BandShare  float64 // share of the radiation in that band
	Limit      float64 // for long work [W/m²]
	Times      float64 // irradiance over limit
	Over       bool    // irradiance above the limit

	// ShortTime is when the short-exposure curve is reached; zero if Over is
	// false. It ranks exposures; it is not a permission to look.
	ShortTime time.Duration

	MaxTransmittance quantity.Fraction // the most infrared a lens may pass; 1 if Over is false
	LimitDistance    unit.Length       // where the bare eye gets the limit; zero for the kiln

	// LensPassed and Behind are set when the lens maker's transmittance is
	// known: what it passes, and the irradiance behind it.
	LensPassed quantity.Fraction
	Behind     float64
	BehindOver bool

	Assumed []string
	Sources []source.Source
	Status  source.Status
	Defer   []source.Deferral
}

// Eye returns the figures for a hot piece of a size, seen from a distance that
// is measured from its middle. lens is the maker's greatest infrared
// transmittance, or zero if it is not known.
//
// Errors: as [SphereIrradiance], and *[InputError] for a lens below 0 or above 1.
func Eye(glass unit.Temp, size, fromMiddle unit.Length, lens quantity.Fraction) (EyeReport, error) {
	e, err := SphereIrradiance(glass, size, fromMiddle, AssumedEmissivity)
	if err != nil {
		return EyeReport{}, err
	}
	r, err := eyeReport(glass, e, lens)
	if err != nil {
		return EyeReport{}, err
	}
	r.LimitDistance, err = LimitDistance(glass, size, AssumedEmissivity)
	r.Assumed = eyeAssumptions("the whole piece counts as a ball at one temperature, radiating nearly as a black body; a black body would give one ninth more")
	return r, err
}

// eyeAssumptions are those of a piece; shape says what it counts as.
func eyeAssumptions(shape string) []string {
	return []string{
		"upper bound for clear glass, which is partly transparent in this band",
		shape,
		"the flame, its yellow flare and the kiln are not counted",
	}
}

// EyeAtKiln returns the figures for looking straight into an open kiln.
//
// Errors: as [OpeningIrradiance].
func EyeAtKiln(kiln unit.Temp, opening quantity.Area, distance unit.Length, lens quantity.Fraction) (EyeReport, error) {
	e, err := OpeningIrradiance(kiln, opening, distance)
	if err != nil {
		return EyeReport{}, err
	}
	r, err := eyeReport(kiln, e, lens)
	r.Assumed = []string{
		"upper bound: the kiln counts as a black body all round, and the opening as a disc straight ahead",
		"hotter elements in view are not counted",
	}
	return r, err
}

func eyeReport(t unit.Temp, e float64, lens quantity.Fraction) (EyeReport, error) {
	if err := refuse(between("infrared transmittance of the lens", float64(lens), "", 0, 1)); err != nil {
		return EyeReport{}, err
	}
	share, err := BandFraction(t, bandLow, bandHigh)
	if err != nil {
		return EyeReport{}, err
	}
	r := EyeReport{Irradiance: e, BandShare: share, Limit: LongLimit, Times: e / LongLimit, Over: e > LongLimit,
		Status: source.Derived, Defer: []source.Deferral{source.ToEye}}
	if r.ShortTime, _, err = ShortLimitTime(e); err != nil {
		return EyeReport{}, err
	}
	if r.MaxTransmittance, err = GreatestTransmittance(e); err != nil {
		return EyeReport{}, err
	}
	if lens > 0 {
		r.LensPassed, r.Behind = lens, e*float64(lens)
		r.BehindOver = r.Behind > LongLimit
	}
	r.Sources = source.Of("icnirp2013", "eu2006-25", "mech-handbook")
	return r, nil
}
