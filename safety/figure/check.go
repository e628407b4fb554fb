package figure

import (
	"fmt"
	"math"

	"lehr/safety/quantity"
)

// InputError says which quantity of a figure cannot be, and why.
type InputError struct {
	Quantity string // in plain words
	Value    string // with its unit
	Rule     string // the rule that it breaks
}

// Error returns the quantity, its value and the rule.
func (e *InputError) Error() string { return e.Quantity + " " + e.Value + ": " + e.Rule }

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
		u := c.unit
		if u != "" {
			u = " " + u
		}
		bad := math.IsNaN(c.value) || c.value < c.low || c.value > c.high || math.IsInf(c.value, 0) || c.open && c.value == c.low
		if !bad {
			continue
		}
		rule := fmt.Sprintf("must be from %s to %s%s", quantity.Digits(c.low, 4), quantity.Digits(c.high, 4), u)
		if c.open {
			rule = fmt.Sprintf("must be above %s and at most %s%s", quantity.Digits(c.low, 4), quantity.Digits(c.high, 4), u)
		}
		return &InputError{Quantity: c.quantity, Value: quantity.Digits(c.value, 4) + u, Rule: rule}
	}
	return nil
}
