package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// snap returns x, or the decimal of at most six places that x misses only by
// conversion noise, so that 30 °C/h comes out as 30 and not as 29.999999999999996,
// which a rounding toward slow would turn into 29. size is the largest number
// that took part in the conversion. snap is monotone and loses no real digit.
func snap(x, size float64) float64 {
	r := math.Round(x*1e6) / 1e6
	if math.Abs(x-r) <= 0x1p-50*math.Max(math.Abs(x), math.Abs(size)) {
		return r
	}
	return x
}

// exact writes x with twelve significant digits, none of them a trailing zero.
func exact(x float64) string {
	if x == 0 {
		return "0"
	}
	if a := math.Abs(x); a < 1e-6 || a >= 1e12 {
		return strconv.FormatFloat(x, 'g', 12, 64)
	}
	places := max(0, 11-int(math.Floor(math.Log10(math.Abs(x)))))
	return trimZeros(strconv.FormatFloat(x, 'f', places, 64))
}

// trimZeros removes the zeros at the end of a decimal.
func trimZeros(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// fixed writes x for people: with places decimals, but never more than four
// significant digits. A value that would vanish keeps two digits, and what is
// below a millionth of the unit is written as zero.
func fixed(x float64, places int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	if math.Abs(x) < 1e-6 {
		return strconv.FormatFloat(0, 'f', places, 64)
	}
	for range 2 { // twice, since rounding up can add a digit
		places = min(places, 3-exponent(x))
		p := math.Pow(10, math.Abs(float64(places)))
		if r := math.Round(x*p) / p; places > 0 && r != 0 {
			x = r
		} else if r := math.Round(x/p) * p; places < 0 {
			x = r
		} else if r := math.Round(x); places == 0 && r != 0 {
			x = r
		}
	}
	if math.Abs(x) < 0.5*math.Pow(10, -float64(places)) {
		places = 1 - exponent(x)
	}
	return strconv.FormatFloat(x, 'f', max(places, 0), 64)
}

// exponent returns the power of ten of the first digit of x, which is not 0.
func exponent(x float64) int { return int(math.Floor(math.Log10(math.Abs(x)) + 1e-12)) }

// graded writes x whole from 10 up, with one decimal from 1 up, else with two.
func graded(x float64) string {
	a := math.Abs(x)
	switch {
	case a < 1e-6:
		return "0"
	case a >= 9.95:
		return fixed(x, 0)
	case a >= 0.995:
		return fixed(x, 1)
	}
	return fixed(x, 2)
}

// marshaled is the text of a finite number; others have none.
func marshaled(x float64, text string) ([]byte, error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil, fmt.Errorf("%v: is not a finite number", x)
	}
	return []byte(text), nil
}

// formatPlaces writes x with a fixed number of decimals.
func formatPlaces(x float64, places int) string { return strconv.FormatFloat(x, 'f', places, 64) }
