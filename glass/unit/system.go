package unit

import (
	"fmt"
	"strings"
)

// System is the set of units a run shows its results in, never mixed.
type System int

const (
	// Metric shows °C, °C/h, mm and MPa. It is the zero value.
	Metric System = iota
	// US shows °F, °F/h, in and psi.
	US
)

// ParseSystem reads a display system: "c" or "metric", "f" or "us". Capital
// letters, a degree sign, "celsius" and "fahrenheit" are read too. Errors: *ParseError.
func ParseSystem(s string) (System, error) {
	q := quantity{name: "display system", examples: [2]string{"c", "f"}}
	text, err := q.clean(s)
	if err != nil {
		return Metric, err
	}
	switch strings.TrimPrefix(strings.ToLower(text), "°") {
	case "c", "metric", "celsius":
		return Metric, nil
	case "f", "us", "fahrenheit":
		return US, nil
	}
	return Metric, q.fail(s, `is not a display system; there are "c" (metric) and "f" (US)`, 0, "")
}

// String returns "metric" or "us", which ParseSystem reads.
func (s System) String() string {
	switch s {
	case Metric:
		return "metric"
	case US:
		return "us"
	}
	return fmt.Sprintf("System(%d)", int(s))
}

// MarshalText returns String.
func (s System) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what ParseSystem reads.
func (s *System) UnmarshalText(text []byte) error { return parsed(s, text, ParseSystem) }

// Set reads the value of a command-line flag.
func (s *System) Set(text string) error { return s.UnmarshalText([]byte(text)) }

// Type names the value in the help of a flag.
func (s System) Type() string { return "units" }
