package sim

import (
	"math"
	"slices"
)

// Lags is how far the coolest place of a piece trails its hottest, by time, the
// earliest first.
type Lags []Lag

// Lag is the difference between the hottest and the coolest place [K] at a time [s].
type Lag struct{ Time, Lag float64 }

// At returns the difference at a time between those that are known, as one that
// decays by the same share in the same time; before and after them the first and
// the last. Without any it is zero.
func (l Lags) At(t float64) float64 {
	i, _ := slices.BinarySearchFunc(l, t, func(x Lag, t float64) int {
		if x.Time < t {
			return -1
		}
		return 1
	})
	switch {
	case len(l) == 0:
		return 0
	case i == 0:
		return l[0].Lag
	case i == len(l):
		return l[i-1].Lag
	}
	a, b := l[i-1], l[i]
	share := (t - a.Time) / (b.Time - a.Time)
	if a.Lag > 0 && b.Lag > 0 {
		return a.Lag * math.Pow(b.Lag/a.Lag, share)
	}
	return a.Lag + (b.Lag-a.Lag)*share
}

// Or returns the larger of two, at the times of the first.
func (l Lags) Or(other Lags) Lags {
	out := slices.Clone(l)
	for i := range out {
		out[i].Lag = math.Max(out[i].Lag, other.At(out[i].Time))
	}
	return out
}
