package term

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Short writes a number with at most four significant digits and no exponent
// where a person would not expect one.
func Short(x float64) string {
	x = Round4(x)
	if abs := max(x, -x); abs != 0 && (abs >= 1e7 || abs < 1e-4) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// Whole writes a number without decimals.
func Whole(x float64) string { return strconv.FormatFloat(x, 'f', 0, 64) }

// Round3 rounds to three significant digits.
func Round3(x float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	if err != nil {
		return x
	}
	return r
}

// Round4 rounds to four significant digits.
func Round4(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x + 0 // -0 becomes 0
	}
	r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	if err != nil {
		return x
	}
	return r
}

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
