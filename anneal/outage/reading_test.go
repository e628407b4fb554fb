package outage

import (
	"testing"

	"lehr/glass/unit"
)

// TestParseReading: a temperature with or without an hour before it, by either
// clock.
func TestParseReading(t *testing.T) {
	for text, want := range map[string]string{
		"310 °C":            "310 °C",
		"04:30 310 °C":      "04:30 310 °C",
		" 4:30 am 310 °C ":  "04:30 310 °C",
		"4:30pm 310C":       "16:30 310 °C",
		"4 am 310 °C":       "04:00 310 °C",
		"10:15 P.M. 590 °F": "22:15 310 °C",
	} {
		r, err := ParseReading(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		got := r.At.Text(unit.Metric)
		if r.Clock != nil {
			got = r.Clock.Text(unit.Metric) + " " + got
		}
		if got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	for _, text := range []string{"", "310", "25:00 310 °C", "4:30", "4:30 am", "310 °C 4:30"} {
		if r, err := ParseReading(text); err == nil {
			t.Errorf("%q: read as %+v", text, r)
		}
	}
}
