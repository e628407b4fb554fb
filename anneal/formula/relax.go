package formula

import (
	"math"
	"time"

	"lehr/glass/unit"
)

// Six terms of the shear relaxation of soda-lime glass: weights, and times
// divided by their mean. The weights sum to one.
// Source: daudeville1998, tables 1 and 2 [corroborated].
var (
	sixWeights = [6]float64{0.05523, 0.08205, 0.1215, 0.2286, 0.2860, 0.22662}
	sixTimes   = [6]float64{6.658e-5, 1.197e-3, 1.514e-2, 0.1672, 0.7497, 3.292} // s at 869 K
)

// MaxwellTime returns the time in which shear stress at constant shape falls to
// 1/e in a glass of the given viscosity [Pa·s].
//
// shear is the shear modulus.
//
//	τ = η/G
//
// Valid: viscosity in Pa·s (one Pa·s is ten poise).
//
// Source: astm-c336, annealing and strain point viscosities [corroborated].
//
// Checked: testdata/cases/relaxation.toml
func MaxwellTime(viscosity float64, shear unit.Stress) time.Duration {
	positive("viscosity", viscosity)
	positive("shear modulus", float64(shear))
	return unit.Seconds(viscosity / float64(shear))
}

// MaxwellSoak returns the time after which the given share of the stress has
// relaxed, for one Maxwell term.
//
// relaxed is a share from 0 to just below 1; tau is the Maxwell time.
//
//	t = −τ ln(1 − relaxed)
//
// Valid: constant temperature, constant shape.
//
// Source: astm-c336, annealing and strain point viscosities [derived].
//
// Checked: testdata/cases/derived.toml
func MaxwellSoak(relaxed float64, tau time.Duration) time.Duration {
	fraction("relaxed", relaxed)
	return unit.Seconds(-math.Log1p(-relaxed) * tau.Seconds())
}

// SixTermRelaxed returns the share of the stress that has relaxed after a time,
// by the measured six-term shape of soda-lime glass stretched so that its mean
// time is tau. It starts faster and ends slower than one Maxwell term.
//
//	share = 1 − Σ wᵢ exp(−t/τᵢ)
//
// Valid: constant temperature, constant shape, structure in equilibrium. The
// shape was measured on soda-lime glass; other glasses borrow it.
//
// Source: daudeville1998, tables 1 and 2 [corroborated].
//
// Checked: testdata/cases/viscoelastic.toml
func SixTermRelaxed(after, tau time.Duration) float64 {
	positive("tau", tau.Seconds())
	return 1 - sixTermLeft(after.Seconds()/tau.Seconds())
}

// SixTermSoak returns the time after which the given share of the stress has
// relaxed by the six-term shape (see [SixTermRelaxed]).
//
// relaxed is a share from 0 to just below 1; tau is the Maxwell time.
//
// Valid: as [SixTermRelaxed]; found by bisection to 1e-12 of the answer.
//
// Source: daudeville1998, tables 1 and 2 [corroborated].
//
// Checked: testdata/cases/derived.toml
func SixTermSoak(relaxed float64, tau time.Duration) time.Duration {
	fraction("relaxed", relaxed)
	positive("tau", tau.Seconds())
	if relaxed == 1 {
		return math.MaxInt64
	}
	// The slowest term alone, with all the weight, bounds the answer from above.
	low, high := 0.0, -math.Log1p(-relaxed)*sixTimes[5]/sixMean()
	for range 60 {
		if mid := (low + high) / 2; 1-sixTermLeft(mid) < relaxed {
			low = mid
		} else {
			high = mid
		}
	}
	return unit.Seconds(high * tau.Seconds())
}

// sixTermLeft returns the share not relaxed after x mean times.
func sixTermLeft(x float64) float64 {
	var left, all float64
	mean := sixMean()
	for i, w := range sixWeights {
		left += w * math.Exp(-x*mean/sixTimes[i])
		all += w
	}
	return left / all
}

// SixTermShape returns the six terms of the shear relaxation of soda-lime
// glass: the weights, which sum to one up to rounding, and the times divided by
// their mean [1].
//
// Valid: soda-lime glass near its transformation; elsewhere it is borrowed.
//
// Source: daudeville1998, tables 1 and 2 [corroborated].
//
// Checked: testdata/cases/relaxation.toml
func SixTermShape() (weights, times [6]float64) {
	for i, t := range sixTimes {
		times[i] = t / sixMean()
	}
	return sixWeights, times
}

// sixMean returns the mean time of the six terms [s at 869 K].
func sixMean() float64 {
	var sum, all float64
	for i, w := range sixWeights {
		sum += w * sixTimes[i]
		all += w
	}
	return sum / all
}

// AdamsWilliamsonRelease returns the stress left after a hold at constant
// temperature, by the law found on optical glass. Stress may be in any unit
// (nm/cm of birefringence in the source); a has the inverse of that unit per
// unit of t.
//
//	1/σ − 1/σ₀ = A t
//
// Valid: constant temperature. On a borosilicate crown at 530–550 °C it held
// only above 10–15 nm/cm (florinskaya1948); below that, stress fell faster.
// It is a law in time, not in space, and A drifts as the glass ages.
//
// Source: adams1920, part I [corroborated by florinskaya1948].
//
// Checked: testdata/cases/relaxation.toml
func AdamsWilliamsonRelease(start, a, t float64) float64 {
	positive("start", start)
	notNegative("a·t", a*t)
	return 1 / (1/start + a*t)
}
