package term

import (
	"fmt"
	"strconv"
	"strings"
)

// Short writes a number with at most four significant digits and no exponent
// where a person would not expect one.
func Short(x float64) string { return short(x, 4) }

// Short3 is Short with three digits.
func Short3(x float64) string { return short(x, 3) }

func short(x float64, digits int) string {
	x = Rounded(x, digits)
	if abs := max(x, -x); abs != 0 && (abs >= 1e7 || abs < 1e-4) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// Rounded rounds to so many significant digits; what is too large for that stays.
func Rounded(x float64, digits int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil {
		return x
	}
	return r + 0 // -0 becomes 0
}

// Whole writes a number without decimals.
func Whole(x float64) string { return strconv.FormatFloat(x, 'f', 0, 64) }

// Signed writes a deviation with two decimals and its sign; what rounds to
// nothing has none.
func Signed(x float64) string {
	text := fmt.Sprintf("%+.2f", x)
	if strings.Trim(text, "+-0.") == "" {
		return "0.00"
	}
	return text
}

// Fixed writes a number with two decimals.
func Fixed(x float64) string { return fmt.Sprintf("%.2f", x) }
