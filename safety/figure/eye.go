package figure

import (
	"time"

	"lehr/glass/unit"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

// Lens is what the maker publishes of a lens. The zero value is a lens nothing
// is known of, and it takes nothing away.
type Lens struct {
	Passes quantity.Fraction // the most infrared it passes, from 780 nm up to the wavelength To

	// To is where that figure ends [m]. Beyond it the lens counts as passing
	// everything. Zero counts as 2000 nm, where the European norm ends.
	To float64
}

// normEnd is where EN 171 ends, which asks for the mean transmittance from 780
// to 2000 nm.
//
// Source: ptb2005 [verified].
const normEnd = 2000e-9

// EyeReport is the figure for infrared at the eye from one hot piece, or from
// the open kiln, and what follows from it.
type EyeReport struct {
	Irradiance float64 // upper bound at the bare eye [W/m²], 780 to 3000 nm
	BandShare  float64 // share of the radiation in that band
	BeyondNorm float64 // share of the band beyond 2000 nm, where a lens norm ends
	Limit      float64 // for long work [W/m²]
	Times      float64 // irradiance over limit
	Over       bool    // irradiance above the limit

	// ShortTime is when the short-exposure curve is reached; zero if Over is
	// false. It ranks exposures; it is not a permission to look.
	ShortTime time.Duration

	MaxTransmittance quantity.Fraction // the most a lens may pass up to 3000 nm; 1 if Over is false
	LimitDistance    unit.Length       // where the bare eye gets the limit; zero for the kiln

	// Lens is as given, with its end; Behind is the irradiance behind it. Both
	// are zero if the lens is not known.
	Lens       Lens
	Behind     float64
	BehindOver bool

	Counts  Counted
	Sources []source.Source
	Status  source.Status
	Defer   []source.Deferral
}

// Counted is what a hot thing counts as.
type Counted string

// What a hot thing counts as: always a black body of one temperature.
const (
	AsBall Counted = "ball" // the whole piece
	AsRod  Counted = "rod"  // the whole length given, pointing the worst way
	AsKiln Counted = "kiln" // an opening, a disc straight ahead
)

// PassesLimit reports whether more than the limit reaches the eye, behind the
// lens if one is known.
func (r EyeReport) PassesLimit() bool {
	if r.Lens.Passes > 0 {
		return r.BehindOver
	}
	return r.Over
}

// Eye returns the figures for a hot piece of a size, seen from a distance that
// is measured from its middle.
//
// Errors: as [sphereIrradiance], and *[InputError] for a lens below 0 or above 1.
func Eye(glass unit.Temp, size, fromMiddle unit.Length, lens Lens) (EyeReport, error) {
	e, err := sphereIrradiance(glass, size, fromMiddle)
	if err != nil {
		return EyeReport{}, err
	}
	r, err := eyeReport(glass, e, lens, AsBall)
	if err != nil {
		return EyeReport{}, err
	}
	r.LimitDistance, err = limitDistance(glass, size)
	return r, err
}

// EyeAtKiln returns the figures for looking straight into an open kiln.
//
// Errors: as [openingIrradiance], and *[InputError] for a lens below 0 or above 1.
func EyeAtKiln(kiln unit.Temp, opening quantity.Area, distance unit.Length, lens Lens) (EyeReport, error) {
	e, err := openingIrradiance(kiln, opening, distance)
	if err != nil {
		return EyeReport{}, err
	}
	return eyeReport(kiln, e, lens, AsKiln)
}

// eyeReport makes the report of an irradiance. What it does not count, and what
// eyewear is worn for as well, heta says [quoted].
func eyeReport(t unit.Temp, e float64, lens Lens, as Counted) (EyeReport, error) {
	if err := refuse(between("infrared transmittance of the lens", float64(lens.Passes), "", 0, 1)); err != nil {
		return EyeReport{}, err
	}
	share, err := bandFraction(t, bandLow, bandHigh)
	if err != nil {
		return EyeReport{}, err
	}
	beyond, err := bandFraction(t, normEnd, bandHigh)
	if err != nil {
		return EyeReport{}, err
	}
	r := EyeReport{Irradiance: e, BandShare: share, BeyondNorm: beyond / share, Limit: longLimit, Times: e / longLimit, Over: e > longLimit,
		Counts: as, Sources: source.Of("icnirp2013", "eu2006-25", "mech-handbook", "ptb2005", "heta"), Status: source.Derived, Defer: []source.Deferral{source.ToEye}}
	if r.ShortTime, _, err = shortLimitTime(e); err != nil {
		return EyeReport{}, err
	}
	if r.MaxTransmittance, err = greatestTransmittance(e); err != nil {
		return EyeReport{}, err
	}
	if lens.Passes > 0 {
		if lens.To == 0 {
			lens.To = normEnd
		}
		r.Lens = lens
		if r.Behind, err = behind(t, e, lens); err != nil {
			return EyeReport{}, err
		}
		r.BehindOver = r.Behind > longLimit
	}
	return r, nil
}

// behind returns the irradiance behind a lens: what it passes up to the end of
// its maker's figure, and everything beyond it.
//
//	E′ = E [τ F(0.78 µm to λ) + F(λ to 3.0 µm)] / F(0.78 µm to 3.0 µm)
//
// Source: Planck's law [derived; see figures_test.go].
func behind(t unit.Temp, e float64, lens Lens) (float64, error) {
	to := min(lens.To, bandHigh)
	if err := refuse(between("end of the lens's figure", to, "m", 1000e-9, bandHigh)); err != nil {
		return 0, err
	}
	all, err := bandFraction(t, bandLow, bandHigh)
	if err != nil {
		return 0, err
	}
	covered, err := bandFraction(t, bandLow, to)
	if err != nil {
		return 0, err
	}
	return e * (float64(lens.Passes)*covered + all - covered) / all, nil
}
