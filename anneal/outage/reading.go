package outage

import (
	"slices"
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
// Errors: those of [unit.ParseClock] and [unit.ParseTemp].
func ParseReading(text string) (r Reading, err error) {
	rest := strings.TrimSpace(text)
	words, n := strings.Fields(rest), 0 // that say the hour
	if len(words) > 1 && strings.Contains(words[0], ":") {
		n = 1
	}
	if len(words) > 1 && slices.Contains([]string{"am", "pm", "a.m.", "p.m."}, strings.ToLower(words[1])) {
		n = 2
	}
	if n > 0 {
		c, err := unit.ParseClock(strings.Join(words[:n], " "))
		if err != nil {
			return r, err
		}
		r.Clock, rest = &c, strings.Join(words[n:], " ")
	}
	r.At, err = unit.ParseTemp(rest)
	return r, err
}
