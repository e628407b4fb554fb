package sim

import (
	"math"
	"sort"
)

// Lags is how far the coolest place of a piece trails its hottest, by time, the
// earliest first.
type Lags []Lag

// Lag is the difference between the hottest and the coolest place [K] at a time [s].
type Lag struct{ Time, Difference float64 }

// At returns the difference at a time between those that are known, as one that
// decays by the same share in the same time; before and after them the first and
// the last. Without any it is zero.
func (l Lags) At(t float64) float64 {
	i := sort.Search(len(l), func(i int) bool { return l[i].Time >= t })
	switch {
	case len(l) == 0:
		return 0
	case i == 0:
		return l[0].Difference
	case i == len(l):
		return l[i-1].Difference
	}
	a, b := l[i-1], l[i]
	share := (t - a.Time) / (b.Time - a.Time)
	if a.Difference > 0 && b.Difference > 0 {
		return a.Difference * math.Pow(b.Difference/a.Difference, share)
	}
	return a.Difference + (b.Difference-a.Difference)*share
}

// Max returns the larger of two, at the times of the first.
func (l Lags) Max(other Lags) Lags {
	out := make(Lags, len(l))
	for i, x := range l {
		out[i] = Lag{x.Time, math.Max(x.Difference, other.At(x.Time))}
	}
	return out
}
