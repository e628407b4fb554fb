package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Digits returns x with at most n significant digits and no exponent.
func Digits(x float64, n int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	digits := n - 1 - int(math.Floor(math.Log10(math.Abs(x))))
	scale := math.Pow(10, float64(digits))
	x = math.Round(x*scale) / scale
	if digits <= 0 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	s := strconv.FormatFloat(x, 'f', digits, 64)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// DigitsDown is Digits, but never rounds up: for a greatest allowed value.
func DigitsDown(x float64, n int) string { return digitsBy(x, n, math.Floor, 1+1e-12) }

// DigitsUp is Digits, but never rounds down: for an upper bound.
func DigitsUp(x float64, n int) string { return digitsBy(x, n, math.Ceil, 1-1e-12) }

// digitsBy rounds the last digit so; hair is for what is exact but for noise.
func digitsBy(x float64, n int, round func(float64) float64, hair float64) string {
	if x <= 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return Digits(x, n)
	}
	scale := math.Pow(10, float64(n-1)-math.Floor(math.Log10(x)))
	return Digits(round(x*scale*hair)/scale, n)
}
