package glass

import (
	"regexp"
	"strconv"
	"sync"

	"lehr/glass/unit"
)

// overRange is the grammar of a range of temperature in the key over of a value:
// "20-300 °C", or one temperature, "24 °C". Anything else there is a condition
// in words.
var overRange = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(-?\d+)(?:(?:-|\.\.)(\d+))? °(C|F)$`) })

// Range returns the temperatures between which the value holds, equal ones for
// one temperature. ok is false where the table gives a condition in words, or
// nothing.
func (v Value) Range() (low, high unit.Temp, ok bool) {
	m := overRange().FindStringSubmatch(v.Over)
	if m == nil {
		return low, high, false
	}
	read := func(digits string) unit.Temp {
		x, _ := strconv.ParseFloat(digits, 64) // digits only, by the grammar
		if m[3] == "F" {
			return unit.Fahrenheit(x)
		}
		return unit.Celsius(x)
	}
	low = read(m[1])
	if high = low; m[2] != "" {
		high = read(m[2])
	}
	return low, high, true
}
