package outage

import (
	"fmt"
	"strings"

	"lehr/glass/unit"
)

// Reading is what the kiln read, with the time of day if that is known.
type Reading struct {
	At    unit.Temp
	Clock *unit.Clock
}

// ParseReading reads "310 °C", "04:30 310 °C", "4:30 am 590 °F".
//
// Errors: those of [unit.CutClock] and [unit.ParseTemp], and an hour alone.
func ParseReading(text string) (r Reading, err error) {
	rest := ""
	if r.Clock, rest, err = unit.CutClock(text); err != nil {
		return r, err
	}
	if r.Clock != nil && rest == "" {
		return r, fmt.Errorf("%s: an hour without a reading", strings.TrimSpace(text))
	}
	r.At, err = unit.ParseTemp(rest)
	return r, err
}
