// Package kiln says what a kiln and its controller can do: how fast the kiln
// heats and falls, how far its top and bottom differ, and which numbers the
// controller takes. It knows nothing of glass or stress.
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
	Heating unit.Rate // fastest heating it manages, positive
	// Fall is the law by which it cools with the elements off.
	Fall Fall
	// Measured says that the owner gave Fall. Otherwise it is common practice
	// and serves to estimate the clock only, never to excuse a program that
	// would be too fast in a kiln that cools faster.
	Measured   bool
	Spread     unit.Delta // between the hottest and the coldest place on the shelf
	ProbeError unit.Delta // the controller may read this much high or low
}

// Fall is natural cooling toward the room.
type Fall struct {
	TimeConstant time.Duration // of the approach to Room
	Room         unit.Temp
}

// Default is a kiln that nobody has measured.
//
// Source: common practice for a small studio kiln, no published figure; the
// probe error is the usual accuracy of studio controllers, ±10 °F
// (reference: common practice).
func Default() Kiln {
	return Kiln{
		Heating:    unit.KelvinPerHour(400),
		Fall:       Fall{TimeConstant: 3*time.Hour + 30*time.Minute, Room: unit.Celsius(20)},
		ProbeError: 0,
	}
}

// Rate returns how fast the kiln falls at a temperature with the elements off,
// zero or positive.
func (f Fall) Rate(t unit.Temp) unit.Rate {
	d := float64(t.Sub(f.Room))
	if d <= 0 {
		return 0
	}
	return unit.Rate(d / f.TimeConstant.Seconds())
}

// Time returns how long the kiln takes from one temperature down to a lower
// one when it follows the commanded rate where it can and falls by itself
// where it cannot. It is infinite if the room is not below to.
func (f Fall) Time(from, to unit.Temp, commanded unit.Rate) float64 {
	if !to.Less(from) {
		return 0
	}
	r := math.Abs(float64(commanded))
	tau, room := f.TimeConstant.Seconds(), f.Room.Kelvin()
	turn := room + r*tau // below it the kiln cannot keep up
	if r == 0 {
		turn = math.Inf(1)
	}
	a, b := from.Kelvin(), to.Kelvin()
	sum := 0.0
	if a > turn {
		stop := math.Max(turn, b)
		sum += (a - stop) / r
		a = stop
	}
	if b < a {
		if b <= room {
			return math.Inf(1)
		}
		sum += tau * math.Log((a-room)/(b-room))
	}
	return sum
}
