// Package kiln says what a kiln and its controller can do: how fast the kiln
// heats and falls, how far its top and bottom differ, what it draws, and which
// numbers the controller takes. It knows nothing of glass or stress.
package kiln

import (
	"math"
	"time"

	"lehr/glass/unit"
)

// Kiln is what is known of a kiln. The zero value is not useful; start from
// Default.
type Kiln struct {
	Holding unit.Temp // where finished pieces wait, zero if the glass decides
	Highest unit.Temp // the highest set point it is built for, zero if not given
	Heating unit.Rate // fastest heating it manages anywhere, positive
	// HeatingAt is the fastest heating by temperature, rising; empty if the kiln
	// manages Heating at every temperature.
	HeatingAt []HeatPoint
	// HeatingGiven says that the owner gave the heating. Otherwise it is common
	// practice, as an unmeasured Fall is.
	HeatingGiven bool
	// Fall is the law by which it cools with the elements off.
	Fall Fall
	// Measured says that the owner gave Fall. Otherwise it is common practice
	// and serves to estimate the clock only, never to excuse a program that
	// would be too fast in a kiln that cools faster.
	Measured   bool
	Spread     unit.Delta // between the hottest and the coldest place on the shelf
	ProbeError unit.Delta // the controller may read this much high or low

	Power       unit.Power // of the elements, 0 if not given
	HoldingDuty float64    // share of the time they are on while the kiln waits at Holding, 0 if not given
	Price       float64    // of one kWh in Currency, 0 if not given
	Currency    string     // as the owner writes it
}

// Default is a kiln that nobody has measured.
//
// Source: common practice for a small studio kiln, no published figure. Spread
// and probe error are taken as zero until the owner gives them, and the report
// says so.
func Default() Kiln {
	return Kiln{
		Heating: unit.KelvinPerHour(400),
		Fall:    Fall{TimeConstant: 3*time.Hour + 30*time.Minute, Room: unit.Celsius(20)},
	}
}

// Ramp returns the seconds of a ramp that follows the commanded rate where the
// kiln can and goes as fast as the kiln does where it cannot. A commanded rate
// of ±Inf is as fast as the kiln can. It is +Inf for a fall to the room or
// below.
func (k Kiln) Ramp(from, to unit.Temp, commanded unit.Rate) float64 {
	if to.Less(from) {
		return k.Fall.Time(from, to, commanded)
	}
	return k.heatTime(from, to, commanded)
}

// Emptier returns the kiln as it may be on a night when it falls faster than it
// was measured: nearly empty, or in a colder room. Stress is verified at this
// fall wherever a program leaves the kiln to itself.
//
// Source: common practice, one tenth; no published figure.
func (k Kiln) Emptier() Kiln {
	k.Fall = k.Fall.Faster(1.1)
	return k
}

// HeatPoint is the fastest heating a kiln manages at one temperature.
type HeatPoint struct {
	At   unit.Temp
	Rate unit.Rate
}

// HeatRate returns the fastest heating at a temperature: between points
// linear, beyond the ends that of the end.
func (k Kiln) HeatRate(t unit.Temp) unit.Rate {
	p := k.HeatingAt
	if len(p) == 0 {
		return k.Heating
	}
	if !p[0].At.Less(t) {
		return p[0].Rate
	}
	for i := 1; i < len(p); i++ {
		if a, b := p[i-1], p[i]; t.Less(b.At) {
			share := float64(t.Sub(a.At)) / float64(b.At.Sub(a.At))
			return a.Rate + unit.Rate(share)*(b.Rate-a.Rate)
		}
	}
	return p[len(p)-1].Rate
}

// SlowestHeating returns the rate that the kiln manages all the way between two
// temperatures. Slowest values lie at the ends or at a point between them.
func (k Kiln) SlowestHeating(from, to unit.Temp) unit.Rate {
	r := min(k.HeatRate(from), k.HeatRate(to))
	for _, p := range k.HeatingAt {
		if from.Less(p.At) && p.At.Less(to) {
			r = min(r, p.Rate)
		}
	}
	return r
}

// Followed is the share of what a kiln was measured to do that a program asks of
// it: a fuller load, a colder hour or a low mains make it slower, and a controller
// that gives an alarm when the kiln lags behind the set point shall not.
//
// Source: common practice, one tenth; no published figure.
const Followed = 0.9

// FollowsHeating returns the rate at which a program heats between two
// temperatures at most: what the kiln manages all the way, less the margin of
// [Followed] where its owner measured it.
func (k Kiln) FollowsHeating(from, to unit.Temp) unit.Rate {
	r := k.SlowestHeating(from, to)
	if k.HeatingGiven {
		r *= Followed
	}
	return r
}

// heatTime is Ramp upward. Where the fastest heating is linear between two
// points, r = r₀ + s (T − T₀), and slower than commanded, the time is
// ln(r₁/r₀)/s.
func (k Kiln) heatTime(from, to unit.Temp, commanded unit.Rate) float64 {
	want := math.Abs(float64(commanded))
	stops := []unit.Temp{from}
	for _, p := range k.HeatingAt {
		if from.Less(p.At) && p.At.Less(to) {
			stops = append(stops, p.At)
		}
	}
	stops = append(stops, to)
	sum := 0.0
	for i := 1; i < len(stops); i++ {
		d := float64(stops[i].Sub(stops[i-1]))
		a, b := float64(k.HeatRate(stops[i-1])), float64(k.HeatRate(stops[i]))
		sum += linearTime(d, a, b, want)
	}
	return sum
}

// linearTime is the time for d kelvin when the greatest rate goes linearly
// from a to b and the rate wanted is want.
func linearTime(d, a, b, want float64) float64 {
	switch {
	case d <= 0:
		return 0
	case want <= a && want <= b:
		return d / want
	case want < a || want < b: // wanted rate is met part of the way
		share := (want - a) / (b - a)
		if a > b {
			return share*d/want + linearTime((1-share)*d, want, b, math.Inf(1))
		}
		return linearTime(share*d, a, want, math.Inf(1)) + (1-share)*d/want
	case math.Abs(b-a) < 1e-9*a:
		return d / a
	}
	return d / (b - a) * math.Log(b/a)
}
