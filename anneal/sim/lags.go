package sim

import (
	"math"
	"sort"
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
	i := sort.Search(len(l), func(i int) bool { return l[i].Time >= t })
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
	out := make(Lags, len(l))
	for i, x := range l {
		out[i] = Lag{x.Time, math.Max(x.Lag, other.At(x.Time))}
	}
	return out
}
