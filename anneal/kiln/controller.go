package kiln

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Controller is what can be keyed in.
type Controller struct {
	Units      unit.System   // °C or °F: whole degrees of it
	UnitsGiven bool          // the owner said so; the display system does not change it
	Minutes    bool          // a ramp is given as minutes instead of degrees per hour
	Slowest    unit.Rate     // smallest rate it takes, positive
	Fastest    unit.Rate     // greatest rate it takes, positive
	Longest    time.Duration // longest hold it takes in one segment, and longest ramp if Minutes
	Segments   int           // how many segments one program has
	FullWord   string        // what stands for "as fast as the kiln can", "" if nothing does
	Step       unit.Delta    // of the set point, a whole number of its degrees; 0 for one
	After      After         // what it does after the last segment
}

// After is what a controller does after the last segment of a program.
type After int

const (
	AfterUnsaid After = iota // nobody said; taken to be off
	AfterOff                 // it switches the elements off
	AfterHold                // it keeps the last set point until somebody switches it off
)

// DefaultController is assumed when nothing is known: whole °C, whole degrees
// per hour from 1 to 999, holds up to 99 h 59 min, eight segments.
func DefaultController() Controller {
	return Controller{Units: unit.Metric, Slowest: unit.KelvinPerHour(1), Fastest: unit.KelvinPerHour(999),
		Longest: 99*time.Hour + 59*time.Minute, Segments: 8}
}

// InMinutes returns the controller with its ramps keyed in as minutes, so that
// no rate is too slow for it.
func (c Controller) InMinutes() Controller {
	c.Minutes, c.Slowest = true, unit.KelvinPerHour(0.01)
	return c
}

// perDegree is one degree of the controller in kelvin.
func (c Controller) perDegree() float64 {
	if c.Units == unit.US {
		return float64(unit.FahrenheitDelta(1))
	}
	return 1
}

// Degree returns one whole degree of the controller.
func (c Controller) Degree() unit.Delta { return unit.Delta(c.perDegree()) }

// SetStep returns the step of the set point: one degree of the controller unless
// its owner gave another.
func (c Controller) SetStep() unit.Delta {
	if c.Step > 0 {
		return c.Step
	}
	return c.Degree()
}

// Temp rounds a temperature to what can be set.
func (c Controller) Temp(t unit.Temp) unit.Temp { return c.whole(t, math.Round) }

// Below rounds a temperature down to what can be set.
func (c Controller) Below(t unit.Temp) unit.Temp {
	return c.whole(t, func(x float64) float64 { return math.Floor(x + 1e-6) })
}

func (c Controller) whole(t unit.Temp, round func(float64) float64) unit.Temp {
	step := math.Max(1, math.Round(float64(c.Step)/c.perDegree())) // in degrees
	if c.Units == unit.US {
		return unit.Fahrenheit(step * round(t.Fahrenheit()/step))
	}
	return unit.Celsius(step * round(t.Celsius()/step))
}

// Rate rounds a rate toward slow to what can be keyed in, keeping its sign: a
// whole number of the controller's degrees per hour. Where a ramp is keyed in
// as minutes the rate itself is not rounded; see RampMinutes.
//
// A rate below the controller's smallest is refused with a *SlowError; a planner
// may key in a stair of short ramps and holds instead.
func (c Controller) Rate(r unit.Rate) (unit.Rate, error) {
	rate := math.Abs(float64(r))
	if !c.Minutes {
		rate = math.Floor(rate*3600/c.perDegree()+1e-9) * c.perDegree() / 3600
	}
	if slowest := float64(c.SlowestKeyed()); rate < slowest*(1-1e-9) {
		return 0, &SlowError{Wanted: r, Slowest: c.Slowest, Units: c.Units}
	}
	return unit.Rate(math.Copysign(math.Min(rate, float64(c.FastestKeyed())), float64(r))), nil
}

// SlowestKeyed returns the smallest rate that can be keyed in, positive: the
// controller's smallest, in whole degrees per hour of its own unit.
func (c Controller) SlowestKeyed() unit.Rate {
	if c.Minutes {
		return c.Slowest
	}
	return unit.Rate(math.Ceil(float64(c.Slowest)*3600/c.perDegree()-1e-6) * c.perDegree() / 3600)
}

// FastestKeyed returns the greatest rate that can be keyed in, positive.
func (c Controller) FastestKeyed() unit.Rate {
	if c.Minutes {
		return c.Fastest
	}
	return unit.Rate(math.Floor(float64(c.Fastest)*3600/c.perDegree()+1e-6) * c.perDegree() / 3600)
}

// RampMinutes returns the whole minutes of a ramp, rounded toward slow, and the
// rate they mean.
func (c Controller) RampMinutes(from, to unit.Temp, r unit.Rate) (int, unit.Rate) {
	d := float64(to.Sub(from))
	m := math.Ceil(math.Abs(d/float64(r))/60 - 1e-6)
	m = math.Max(m, 1)
	return int(m), unit.Rate(d / (m * 60))
}

// Step is one ramp as it can be keyed in.
type Step struct {
	To   unit.Temp
	Rate unit.Rate
}

// Ramp returns how a ramp is keyed in, never faster than the rate given: one
// step, or several of equal length where a ramp is keyed in as minutes and one
// would be longer than the controller takes. to must be what can be set; there
// are no steps when it is from. Errors: *SlowError.
func (c Controller) Ramp(from, to unit.Temp, r unit.Rate) ([]Step, error) {
	d := float64(to.Sub(from))
	if d == 0 {
		return nil, nil
	}
	r, err := c.Rate(unit.Rate(math.Copysign(float64(r), d)))
	if err != nil {
		return nil, err
	}
	if !c.Minutes {
		return []Step{{to, r}}, nil
	}
	// Steps of the set point that fit one ramp, and the fewest ramps of nearly equal size.
	one := float64(c.SetStep())
	degrees := math.Max(1, math.Round(math.Abs(d)/one))
	most := degrees
	if c.Longest > 0 {
		most = math.Floor(math.Abs(float64(r))*c.Longest.Truncate(time.Minute).Seconds()/one + 1e-9)
	}
	if most < 1 {
		return nil, &SlowError{Wanted: r, Slowest: unit.Rate(one / c.Longest.Seconds()), Units: c.Units}
	}
	n := math.Ceil(degrees / most)
	var steps []Step
	at := from
	for i := 1.0; i <= n; i++ {
		next := to
		if i < n {
			next = c.Temp(from.Add(unit.Delta(math.Copysign(math.Floor(degrees*i/n)*one, d))))
		}
		_, rate := c.RampMinutes(at, next, r)
		steps = append(steps, Step{next, rate})
		at = next
	}
	return steps, nil
}

// Hold rounds a hold toward long, to whole minutes.
func (c Controller) Hold(d time.Duration) time.Duration {
	return unit.WholeMinutes(d)
}

// SlowError says that a controller cannot be set as slowly as the glass needs.
type SlowError struct {
	Wanted, Slowest unit.Rate
	Units           unit.System
	// Tried says that somebody planned with what follows, each with the rest as it
	// is: segments for steps of ramp and hold, a smaller smallest rate, 0 where none
	// does, and ramps keyed in as minutes.
	Tried    bool
	Segments int
	Takes    unit.Rate
	Minutes  bool
}

func (e *SlowError) Error() string {
	return fmt.Sprintf("rate %s: the controller takes no rate below %s", unit.Rate(math.Abs(float64(e.Wanted))).Text(e.Units), e.Slowest.Text(e.Units))
}

// Hint names what the person can do.
func (e *SlowError) Hint() string { return e.Advice().String() }

// Advice is the hint as data.
func (e *SlowError) Advice() strict.Advice {
	takes, keyed := "", ""
	or := func(take, key string) {
		if keyed != "" {
			take, key = ", or "+take, ", or "+key
		}
		takes, keyed = takes+take, keyed+key
	}
	if !e.Tried {
		or("takes less, or minutes, or has more segments", "{slowest}, {rate}, {segments}")
	}
	if e.Takes > 0 {
		rate := e.Takes.Text(e.Units)
		or("takes "+rate, "{slowest="+rate+"}")
	}
	if e.Minutes {
		or("takes minutes", "{rate=minutes per ramp}")
	}
	if e.Segments > 0 {
		n := strconv.Itoa(e.Segments)
		or("has "+n+" segments for steps of ramp and hold", "{segments="+n+"}")
	}
	const faster = "say what lets the piece cool faster: {piece.resting=raised} if it lies so, its light if you know it; {split what can be fired without it}"
	if keyed == "" {
		return faster
	}
	return strict.Advice("if the controller " + takes + ", say so in {controller}: " + keyed + "; if not, " + faster)
}
