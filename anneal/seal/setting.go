package seal

import (
	"math"

	"lehr/glass"
	"lehr/glass/unit"
)

// Setting tells when in a history the misfit began to count, and how much of it
// there is at each moment.
type Setting struct {
	// Temp is the temperature from which a fall to the room at once would leave
	// the same stress as the history does; Fall is that fall.
	Temp unit.Temp
	Fall unit.Delta
	// Seconds and Falls tell how much of the misfit there is at each moment, as
	// a fall [K]: stress at that moment over the stress of 1 K of fall.
	Seconds, Falls []float64
}

// At returns the fall [K] whose stress there is at a moment [s].
func (s Setting) At(seconds float64) unit.Delta {
	return unit.Delta(between(s.Seconds, s.Falls, seconds))
}

// earlierRate is the cooling that glass is taken to have had before a history
// that begins cold. A soak leaves nothing of the guess.
const earlierRate = 60.0 / 3600 // [K/s]

// settingIn follows a history and returns how the misfit of a seal sets in it:
//
//	dF/dt = −dT/dt − F/τ(T), τ = c η(T)/G
//
// with the fall F as the measure of the stress. curve is the viscosity of the
// softer partner, which sets last; shear its shear modulus; c that of
// [misfitTime] or [skinTime]. What is left of the way to the room at the end of
// the history is taken as elastic. Glass that is cold at the start is taken to
// have come from 60 °C/h.
//
// Below the range of the curve the viscosity is that of its formula; it is
// without consequence there, where glass takes days and more to relax.
//
// Errors: those of [History.check] and [settingTemperature].
func settingIn(h History, curve glass.Curve, shear unit.Stress, c float64) (Setting, error) {
	if err := h.check(); err != nil {
		return Setting{}, err
	}
	before, err := settingTemperature(curve, shear, c, earlierRate)
	if err != nil {
		return Setting{}, err
	}
	scale := float64(shear) / c
	fall := math.Max(0, before.Kelvin()-h.Kelvin[0])
	out := Setting{Seconds: []float64{h.Seconds[0]}, Falls: []float64{fall}}
	for i := 1; i < len(h.Seconds); i++ {
		t0, t1 := h.Seconds[i-1], h.Seconds[i]
		k0, k1 := h.Kelvin[i-1], h.Kelvin[i]
		n := int(math.Abs(k1-k0)/0.5) + 1
		dt, dT := (t1-t0)/float64(n), (k1-k0)/float64(n)
		for j := range n {
			ξ := reduced(curve, scale, k0+dT*float64(j), k0+dT*float64(j+1)) * dt
			left, share := decayed(ξ)
			fall = fall*left - dT*share
			out.Seconds, out.Falls = append(out.Seconds, t0+dt*float64(j+1)), append(out.Falls, fall)
		}
	}
	last := h.Kelvin[len(h.Kelvin)-1]
	out.Fall = unit.Delta(fall + last - Room().Kelvin())
	out.Temp = Room().Add(out.Fall)
	return out, nil
}

// reduced returns the mean of modulus/η over a step between two temperatures
// [1/s]; the rate changes exponentially as temperature changes evenly.
func reduced(curve glass.Curve, modulus, from, to float64) float64 {
	ln := func(kelvin float64) float64 {
		log := curve.A
		if curve.B != 0 {
			log += curve.B / math.Max(kelvin-curve.T0, 1)
		}
		return math.Log(modulus) - math.Ln10*log
	}
	a, b := ln(from), ln(to)
	if math.Abs(b-a) < 1e-6 {
		return math.Exp((a + b) / 2)
	}
	return (math.Exp(b) - math.Exp(a)) / (b - a)
}

// decayed returns e^−a and (1−e^−a)/a.
func decayed(a float64) (left, share float64) {
	if a < 1e-12 {
		return 1, 1
	}
	return math.Exp(-a), -math.Expm1(-a) / a
}
