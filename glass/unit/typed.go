package unit

import (
	"math"
	"strconv"
)

// Shown is a quantity that both display systems can show.
type Shown interface {
	In(System) (number float64, unit string)
	Text(System) string
}

// TypedIn tells in which system a quantity was most likely typed: the one in
// which its number is shorter, metric if they are alike. It is for messages,
// which should speak of a limit in the units of the value they refuse.
func TypedIn(q Shown) System {
	if len(number(q, US)) < len(number(q, Metric)) {
		return US
	}
	return Metric
}

// AsTyped writes a quantity in the system of [TypedIn], every digit of it.
func AsTyped(q Shown) string {
	s := TypedIn(q)
	_, u := q.In(s)
	return number(q, s) + " " + u
}

// number is the number of a quantity without what rounding makes of it.
func number(q Shown, s System) string {
	x, _ := q.In(s)
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 9, 64), 64)
	if x == 0 {
		return "0"
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// LimitFor writes a limit for a value that it refuses: in the system of the
// value, to four significant digits and without trailing zeros.
func LimitFor(value, limit Shown) string {
	s := TypedIn(value)
	x, u := limit.In(s)
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	return strconv.FormatFloat(x, 'f', -1, 64) + " " + u
}

// RangeFor writes the range from low to high for a value that it refuses, as
// [LimitFor] does.
// Lengths in inches are rounded inward, to what one reads on a ruler.
func RangeFor[T Shown](value, low, high T) string {
	a, b := LimitFor(value, low), LimitFor(value, high)
	if x, u := low.In(TypedIn(value)); u == "in" {
		y, _ := high.In(TypedIn(value))
		a, b = inward(x, 1, math.Ceil)+" in", inward(y, 3, math.Floor)+" in"
	}
	return "from " + a + " to " + b
}

// inward rounds a number to so many digits.
func inward(x float64, digits int, round func(float64) float64) string {
	if x == 0 {
		return "0"
	}
	step := math.Pow(10, float64(digits-1)-math.Floor(math.Log10(math.Abs(x))))
	n := math.Round(x * step)
	if math.Abs(x*step-n) > 1e-9 {
		n = round(x * step)
	}
	return strconv.FormatFloat(n/step, 'f', -1, 64)
}
