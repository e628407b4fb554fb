package kiln

import (
	"fmt"
	"math"
	"time"

	"lehr/glass/unit"
)

// Fall is natural cooling toward the room with the elements off:
//
//	dθ/dt = −(θ/τ) (θ/500 K)ⁿ⁻¹, θ the excess over the room
//
// n = 1 is Newton's law, in which the time constant τ holds everywhere. A kiln
// whose points show that it falls faster while hot, by radiation and because
// the skin of its walls gives up its heat first, has n above 1; τ is then the
// time constant at 500 K above the room.
//
// The rate depends on the temperature alone: a kiln whose walls are not warmed
// through falls faster at first than this law says.
//
// Source: Newton's law of cooling, and the power law of the excess that Dulong
// and Petit (1817) found with n = 1.233 [memory]; the exponent is fitted to the
// owner's kiln, never taken from there.
type Fall struct {
	TimeConstant time.Duration
	Room         unit.Temp
	Power        float64 // n; 0 counts as 1

	// What a fit to measured points leaves: see FitFall. Zero for a time
	// constant that was given.
	Points   int        // how many
	Miss     unit.Delta // greatest distance of a point from the curve
	RMS      unit.Delta // root mean square of the distances
	From, To unit.Temp  // the hottest and the coldest point
}

const referenceExcess = 500.0 // [K]

// bend is n − 1.
func (f Fall) bend() float64 {
	if f.Power == 0 {
		return 0
	}
	return f.Power - 1
}

// Rate returns how fast the kiln falls at a temperature with the elements off,
// zero or positive.
func (f Fall) Rate(t unit.Temp) unit.Rate {
	d := float64(t.Sub(f.Room))
	if d <= 0 {
		return 0
	}
	return unit.Rate(d / f.TimeConstant.Seconds() * math.Pow(d/referenceExcess, f.bend()))
}

// Turn returns the temperature at which the kiln falls by itself exactly as
// fast as r; below it, it falls slower.
func (f Fall) Turn(r unit.Rate) unit.Temp {
	x := math.Abs(float64(r)) * f.TimeConstant.Seconds() / referenceExcess
	return f.Room.Add(unit.Delta(referenceExcess * math.Pow(x, 1/(1+f.bend()))))
}

// alone is the time from an excess a down to b, both positive [s].
func (f Fall) alone(a, b float64) float64 {
	tau, m := f.TimeConstant.Seconds(), f.bend()
	fall := math.Log(a / b)
	if m*fall < 1e-9 {
		return tau * fall
	}
	return tau * math.Pow(referenceExcess/a, m) * math.Expm1(m*fall) / m
}

// after is the excess left of a after s seconds.
func (f Fall) after(a, s float64) float64 {
	tau, m := f.TimeConstant.Seconds(), f.bend()
	if m < 1e-9 {
		return a * math.Exp(-s/tau)
	}
	return a * math.Pow(1+m*math.Pow(a/referenceExcess, m)*s/tau, -1/m)
}

// Time returns how long the kiln takes from one temperature down to a lower
// one when it follows the commanded rate where it can and falls by itself
// where it cannot [s]. A commanded rate of ±Inf leaves it to itself. The time
// is infinite if the room is not below to.
func (f Fall) Time(from, to unit.Temp, commanded unit.Rate) float64 {
	if !to.Less(from) {
		return 0
	}
	r := math.Abs(float64(commanded))
	a, b := float64(from.Sub(f.Room)), float64(to.Sub(f.Room))
	turn := math.Inf(1) // below it the kiln cannot keep up
	if r > 0 {
		turn = float64(f.Turn(unit.Rate(r)).Sub(f.Room))
	}
	if r > 0 && b >= turn {
		return (a - b) / r
	}
	if b <= 0 {
		return math.Inf(1)
	}
	sum := 0.0
	if a > turn {
		sum += (a - turn) / r
		a = turn
	}
	return sum + f.alone(a, b)
}

// Alone is how long the kiln takes from one temperature down to a lower one when it is left
// to itself, as [Fall.Time] has it.
func (f Fall) Alone(from, to unit.Temp) time.Duration {
	return unit.Seconds(f.Time(from, to, unit.Rate(math.Inf(1))))
}

// Faster returns the same law with every rate multiplied by x.
func (f Fall) Faster(x float64) Fall {
	f.TimeConstant = time.Duration(float64(f.TimeConstant) / x)
	return f
}

// Text describes the law in one line, and how well it fits what was measured, in
// the display system.
func (f Fall) Text(s unit.System) string {
	text := f.Law(s)
	if f.Points > 0 {
		text += fmt.Sprintf("; fitted to %d measured points from %s to %s, which it misses by at most %s",
			f.Points, f.From.Text(s), f.To.Text(s), f.Miss.Text(s))
	}
	return text
}

// Law describes the law alone.
func (f Fall) Law(s unit.System) string {
	tau := unit.FormatDuration(f.TimeConstant.Round(time.Minute))
	if f.TimeConstant < 20*time.Minute {
		tau = unit.FormatDuration(f.TimeConstant.Round(time.Second))
	}
	text := fmt.Sprintf("toward %s with a time constant of %s", f.Room.Text(s), tau)
	if f.bend() > 0 {
		text += fmt.Sprintf(" at %s, falling faster while hotter (power %.2f)", f.Room.Add(referenceExcess).Text(s), f.Power)
	}
	return text
}

// QuickestFall and SlowestFall are the time constants between which a kiln that
// nobody measured is taken to fall with the power off: a small one of fiber, shut
// with one brick open, and a large one of dense brick [common practice].
const (
	QuickestFall = 90 * time.Minute
	SlowestFall  = 8 * time.Hour
)

// falls is how many of them stand for all: each costs a simulation of a load,
// and twelve found at most 0.2 % more of a limit used in any of 72 programs.
const falls = 4

// Falls returns the time constants that stand for a kiln that nobody measured, from
// [QuickestFall] to [SlowestFall], evenly spread in their logarithm.
func Falls() []time.Duration {
	out := make([]time.Duration, falls)
	for i := range out {
		at := QuickestFall.Hours() * math.Pow(SlowestFall.Hours()/QuickestFall.Hours(), float64(i)/(falls-1))
		out[i] = time.Duration(math.Round(at*60)) * time.Minute
	}
	return out
}
