package glass

import (
	"errors"
	"fmt"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// RangeError says that something was asked outside the range in which it is
// known. Nothing is extrapolated in silence.
type RangeError struct {
	Quantity         string // "temperature"
	Value, Low, High Shown  // 1300 °C, 430 °C and 821 °C
	Source           string // key of the source that sets the range, or ""
	What             string // what is not known there, or ""
}

// Shown is a quantity that can be written in either system of units.
type Shown interface{ Text(unit.System) string }

// Log10 is the logarithm of a viscosity: it has no unit to choose.
type Log10 float64

// Text writes it to four significant digits.
func (x Log10) Text(unit.System) string { return fmt.Sprintf("%.4g", float64(x)) }

// Error returns `temperature 1300 °C: viscosity curve strain-anneal-soften valid
// from 430 °C to 821 °C`.
func (e *RangeError) Error() string {
	what := e.What
	if what == "" {
		what = "formula"
	}
	s := fmt.Sprintf("%s %s: %s valid from %s to %s", e.Quantity, e.Value.Text(unit.Metric), what, e.Low.Text(unit.Metric), e.High.Text(unit.Metric))
	if e.Source != "" {
		s += " (source " + e.Source + ")"
	}
	return s
}

// ErrNotFound is what every *[NotFoundError] is, for errors.Is.
var ErrNotFound = errors.New("no such glass")

// NotFoundError says that no glass has a name.
type NotFoundError struct {
	Name    string // as asked for
	Nearest string // the glass that was probably meant, or ""
}

// Error returns `no glass "borosilicat"`.
func (e *NotFoundError) Error() string { return fmt.Sprintf("no glass %q", e.Name) }

// Is makes errors.Is(err, ErrNotFound) true.
func (e *NotFoundError) Is(target error) bool { return target == ErrNotFound }

// Hint names the nearest glass, and where the names are listed.
func (e *NotFoundError) Hint() string { return e.Advice().String() }

// Advice is the hint as data.
func (e *NotFoundError) Advice() strict.Advice {
	if e.Nearest == "" {
		return "{list the names}"
	}
	return "did you mean " + strict.Plain(e.Nearest) + "? {list them}"
}
