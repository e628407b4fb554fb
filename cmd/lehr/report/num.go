package report

import (
	"encoding/json"
	"fmt"
	"math"

	"lehr/cmd/lehr/term"
)

// Num is a number in JSON output, rounded to four significant digits. Keys
// carry the unit.
type Num float64

// MarshalJSON writes n with at most four significant digits. Infinite and
// undefined numbers are a fault of the caller, and refused.
func (n Num) MarshalJSON() ([]byte, error) {
	x := float64(n)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil, fmt.Errorf("number %v has no place in JSON", x)
	}
	return json.Marshal(term.Rounded(x, 4))
}
