// Package figure holds the few figures a safety checklist needs: infrared at the
// eye, hood airflow and the gases of a torch, the kiln's circuit, noise.
//
// They are screening estimates. Each formula states its range, source and
// status, and refuses what cannot be with an *[InputError]. The package designs
// nothing, measures nothing and permits nothing.
package figure

import (
	"fmt"
	"math"

	"lehr/glass/unit"
	"lehr/safety/quantity"
)

// InputError says which quantity of a figure cannot be, and why.
type InputError struct {
	Quantity string // in plain words
	value    amount
	rule     string // with a %s for each bound
	bounds   []amount
}

// Error returns the quantity, its value and the rule, in metric units.
func (e *InputError) Error() string { return e.In(unit.Metric) }

// In returns the same in the units of a display system.
func (e *InputError) In(s unit.System) string {
	bounds := make([]any, len(e.bounds))
	for i, b := range e.bounds {
		bounds[i] = b.text(s)
	}
	return e.Quantity + " " + e.value.text(s) + ": " + fmt.Sprintf(e.rule, bounds...)
}

// amount is a number with the symbol of its unit.
type amount struct {
	x    float64
	unit string
}

func meters(l unit.Length) amount { return amount{float64(l), "m"} }

func (a amount) text(s unit.System) string {
	switch {
	case math.IsNaN(a.x) || math.IsInf(a.x, 0):
	case a.unit == "m":
		if s == unit.Metric && math.Abs(a.x) >= 1 {
			return quantity.Digits(a.x, 4) + " m"
		}
		return unit.Length(a.x).Text(s)
	case a.unit == "°C" && a.x > -273:
		return unit.Celsius(a.x).Text(s)
	case a.unit == "m³/s":
		return quantity.Flow(a.x).Text(s)
	case a.unit == "m³":
		return quantity.Volumes.Text(quantity.Volume(a.x), s)
	case a.unit == "m²":
		return quantity.Areas.Text(quantity.Area(a.x), s)
	case a.unit == "m/s":
		return quantity.Speeds.Text(quantity.Speed(a.x), s)
	case a.unit == "":
		return quantity.Digits(a.x, 4)
	}
	return quantity.Digits(a.x, 4) + " " + a.unit
}

// check is one quantity at the door of a formula.
type check struct {
	quantity  string
	value     float64
	unit      string
	low, high float64 // allowed range; low itself is refused when open
	open      bool
}

// above asks for a value above zero and at most high.
func above(quantity string, value float64, unit string, high float64) check {
	return check{quantity, value, unit, 0, high, true}
}

// between asks for a value from low to high.
func between(quantity string, value float64, unit string, low, high float64) check {
	return check{quantity, value, unit, low, high, false}
}

// refuse returns an *InputError for the first check that fails, NaN among
// them, or nil.
func refuse(checks ...check) error {
	for _, c := range checks {
		if c.value >= c.low && c.value <= c.high && !(c.open && c.value == c.low) {
			continue
		}
		e := &InputError{c.quantity, amount{c.value, c.unit}, "must be from %s to %s", []amount{{c.low, c.unit}, {c.high, c.unit}}}
		if c.open {
			e.rule, e.bounds = "must be above 0 and at most %s", e.bounds[1:]
		}
		return e
	}
	return nil
}
