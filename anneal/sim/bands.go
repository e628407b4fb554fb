package sim

import "math"

// Band is a range of wavelengths in which a glass absorbs evenly.
type Band struct {
	To         float64 // its upper end [m]; it begins where the band before it ends, the first at 0
	Absorption float64 // κ: light falls to 1/e over 1/κ [1/m]
}

// Optics is what a glass does to the heat that radiates inside it.
//
// In a band it absorbs and emits 4κ n² e(T), e the black emission in the band,
// and does not scatter. Its surface is smooth: it reflects after Fresnel. Beyond
// the last band the glass is opaque and radiates from its surface, with
// [Surface].Emissivity.
type Optics struct {
	Index float64 // n, the refractive index for heat rays
	Bands []Band  // by rising wavelength
}

// least returns the same with at least this absorption in every band [1/m]. Dark
// transparent glass absorbs 300 /m at least.
//
// Source: radiation study [derived]: such a sphere of borosilicate is left with
// 0.95 to 1.05 of the stress that the published conductivity gives, between
// clear glass, 0.7, and opaque, 1.25. Cobalt blue and black absorb more, up to
// where no heat radiates inside at all.
func (o Optics) least(absorption float64) Optics {
	bands := make([]Band, len(o.Bands))
	for i, b := range o.Bands {
		bands[i] = Band{b.To, math.Max(b.Absorption, absorption)}
	}
	return Optics{o.Index, bands}
}

// blackShare returns the share of black radiation below a wavelength [m] at a
// temperature [K], by the series of the Planck integral.
//
// Source: Planck 1901; the series is in any text of radiative heat transfer
// [memory; bands_test.go holds it against the integral].
func blackShare(wavelength, kelvin float64) float64 {
	const secondRadiation = 1.438776877e-2 // hc/k [m K], CODATA 2018
	x := secondRadiation / (wavelength * kelvin)
	if x > 600 {
		return 0
	}
	sum := 0.0
	for i := 1; i <= 200; i++ {
		n := float64(i)
		term := math.Exp(-n*x) * (x*x*x/n + 3*x*x/(n*n) + 6*x/(n*n*n) + 6/(n*n*n*n))
		sum += term
		if term < 1e-12*sum {
			break
		}
	}
	return min(1, 15/math.Pow(math.Pi, 4)*sum)
}

// emission returns the black emission [W/m²] of each band and, last, of all
// wavelengths beyond.
func (o Optics) emission(kelvin float64) []float64 {
	out := make([]float64, len(o.Bands)+1)
	all := StefanBoltzmann * kelvin * kelvin * kelvin * kelvin
	below := 0.0
	for i, b := range o.Bands {
		share := blackShare(b.To, kelvin)
		out[i] = (share - below) * all
		below = share
	}
	out[len(o.Bands)] = (1 - below) * all
	return out
}

// reflectivity returns what a smooth surface of the index n reflects of
// unpolarized light that meets it from inside at the cosine mu: 1 beyond the
// critical angle.
//
// Source: Fresnel's equations [memory].
func reflectivity(n, mu float64) float64 {
	sin2 := n * n * (1 - mu*mu) // of the refracted ray
	if sin2 >= 1 {
		return 1
	}
	out := math.Sqrt(1 - sin2)
	s := (n*mu - out) / (n*mu + out)
	p := (mu - n*out) / (mu + n*out)
	return 0.5 * (s*s + p*p)
}

// check refuses what is no glass and names it.
func (o Optics) check() error {
	if !(o.Index > 1 && o.Index < 4) {
		return bad("refractive index %g must lie between 1 and 4", o.Index)
	}
	if len(o.Bands) == 0 {
		return bad("light without a band of wavelengths")
	}
	last := 0.0
	for _, b := range o.Bands {
		if !positive(b.To) || b.To <= last || b.To > 1e-3 {
			return bad("band of wavelengths to %g m comes after %g m", b.To, last)
		}
		if !positive(b.Absorption) || b.Absorption > 1e6 {
			return bad("absorption %g /m must be positive and at most 1e6 /m", b.Absorption)
		}
		last = b.To
	}
	return nil
}
