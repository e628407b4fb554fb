package seal

import (
	"errors"
	"math"
	"sort"

	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// Room returns the temperature at which misfit stress is told.
func Room() unit.Temp { return unit.Celsius(25) }

// History is the temperature at a seal as a function of time, straight between
// its points. Both lists have one length, at least 2, and times rise.
type History struct {
	Seconds []float64
	Kelvin  []float64
}

// steady returns the history of glass that cools at one rate from a temperature
// at which nothing stays to the room. The sign of the rate does not matter.
func steady(from unit.Temp, rate unit.Rate) History {
	positive("rate", math.Abs(float64(rate)))
	drop := float64(from.Sub(Room()))
	return History{[]float64{0, drop / math.Abs(float64(rate))}, []float64{from.Kelvin(), Room().Kelvin()}}
}

// HistoryAt returns the temperature inside a simulated piece at a relative
// depth, 0 innermost and 1 the surface, from what its simulation recorded. A
// parabola lies between middle and surface. The samples are those that
// [sim.Settings] hands to Record, the first at time 0.
func HistoryAt(samples []sim.Sample, rho float64) History {
	var h History
	for _, s := range samples {
		if n := len(h.Seconds); n > 0 && s.Time <= h.Seconds[n-1] {
			continue
		}
		h.Seconds = append(h.Seconds, s.Time)
		h.Kelvin = append(h.Kelvin, s.Center+(s.Surface-s.Center)*rho*rho)
	}
	return h
}

// check returns an error unless the history can be followed.
func (h History) check() error {
	switch n := len(h.Seconds); {
	case n < 2 || n != len(h.Kelvin):
		return errors.New("history: needs two points or more, each with time and temperature")
	default:
		for i := range n {
			if !(h.Kelvin[i] > 0 && h.Kelvin[i] < 1e4) || math.IsNaN(h.Seconds[i]) || math.IsInf(h.Seconds[i], 0) {
				return errors.New("history: has a point that is no temperature or no time")
			}
			if i > 0 && h.Seconds[i] <= h.Seconds[i-1] {
				return errors.New("history: times must rise")
			}
		}
	}
	return nil
}

// between returns the value at a time of a list that is straight between its
// points; outside them the nearer end.
func between(at, value []float64, t float64) float64 {
	i := sort.SearchFloat64s(at, t)
	switch {
	case i == 0:
		return value[0]
	case i == len(at):
		return value[i-1]
	}
	f := (t - at[i-1]) / (at[i] - at[i-1])
	return value[i-1] + f*(value[i]-value[i-1])
}
