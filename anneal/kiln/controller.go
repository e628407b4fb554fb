package kiln

import (
	"fmt"
	"math"
	"time"

	"lehr/glass/unit"
)

// Controller is what can be keyed in.
type Controller struct {
	Units    unit.System   // °C or °F: whole degrees of it
	Minutes  bool          // a ramp is given as minutes instead of degrees per hour
	Slowest  unit.Rate     // smallest rate it takes, positive
	Fastest  unit.Rate     // greatest rate it takes, positive
	Longest  time.Duration // longest hold it takes in one segment
	Segments int           // how many segments one program has
	FullWord string        // what stands for "as fast as the kiln can", "" if nothing does
}

// DefaultController is assumed when nothing is known: whole °C, whole degrees
// per hour from 1 to 999, holds up to 99 h 59 min, eight segments.
func DefaultController() Controller {
	return Controller{Units: unit.Metric, Slowest: unit.KelvinPerHour(1), Fastest: unit.KelvinPerHour(999),
		Longest: 99*time.Hour + 59*time.Minute, Segments: 8}
}

// perDegree is one degree of the controller in kelvin.
func (c Controller) perDegree() float64 {
	if c.Units == unit.US {
		return float64(unit.FahrenheitDelta(1))
	}
	return 1
}

// Temp rounds a temperature to a whole degree of the controller.
func (c Controller) Temp(t unit.Temp) unit.Temp {
	if c.Units == unit.US {
		return unit.Fahrenheit(math.Round(t.Fahrenheit()))
	}
	return unit.Celsius(math.Round(t.Celsius()))
}

// Rate rounds a rate toward slow to what can be keyed in, keeping its sign.
// The error says that the controller cannot go so slowly.
func (c Controller) Rate(r unit.Rate) (unit.Rate, error) {
	perHour := math.Abs(float64(r)) * 3600 / c.perDegree()
	whole := math.Floor(perHour + 1e-9)
	slow, fast := float64(c.Slowest)*3600/c.perDegree(), float64(c.Fastest)*3600/c.perDegree()
	if c.Minutes { // the ramp is keyed in as minutes, see Minutes
		whole = perHour
	}
	if whole < math.Ceil(slow-1e-9) && !c.Minutes || whole < slow*(1-1e-9) {
		return 0, &SlowError{Wanted: r, Slowest: c.Slowest, Units: c.Units}
	}
	whole = math.Min(whole, math.Floor(fast+1e-9))
	return unit.Rate(math.Copysign(whole*c.perDegree()/3600, float64(r))), nil
}

// RampMinutes returns the whole minutes of a ramp, rounded toward slow, and the
// rate they mean.
func (c Controller) RampMinutes(from, to unit.Temp, r unit.Rate) (int, unit.Rate) {
	d := float64(to.Sub(from))
	m := math.Ceil(math.Abs(d/float64(r))/60 - 1e-9)
	m = math.Max(m, 1)
	return int(m), unit.Rate(d / (m * 60))
}

// Hold rounds a hold toward long, to whole minutes.
func (c Controller) Hold(d time.Duration) time.Duration {
	return time.Duration(math.Ceil(d.Minutes()-1e-9)) * time.Minute
}

// SlowError says that a controller cannot be set as slowly as the glass needs.
type SlowError struct {
	Wanted, Slowest unit.Rate
	Units           unit.System
}

func (e *SlowError) Error() string {
	return fmt.Sprintf("rate %s: the controller takes no rate below %s", unit.Rate(math.Abs(float64(e.Wanted))).Text(e.Units), e.Slowest.Text(e.Units))
}

// Hint names what the person can do.
func (e *SlowError) Hint() string {
	return "give the controller's smallest rate, or rate = \"minutes per ramp\" if it takes minutes, in [controller] of studio.toml"
}

// Degree returns one whole degree of the controller.
func (c Controller) Degree() unit.Delta { return unit.Delta(c.perDegree()) }
