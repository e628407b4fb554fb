package unit

import (
	"math"
	"strings"
)

// Power is a power in watts, such as that of a kiln's elements.
type Power float64

// The units of power.
const (
	Watt     Power = 1
	Kilowatt       = 1000 * Watt
)

// maxPower is the largest power ParsePower reads.
const maxPower = 1e9 * Watt

// Watts returns the power in W.
func (p Power) Watts() float64 { return float64(p) }

// In returns the number and the unit of p, in both systems W or, from
// 10 000 W up, kW.
func (p Power) In(System) (float64, string) {
	if math.Abs(float64(p)) >= 10000 {
		return snap(float64(p/Kilowatt), 0), "kW"
	}
	return snap(float64(p), 0), "W"
}

// Text writes p in whole watts, or in kW from 10 000 W up: "1800 W", "12.5 kW".
func (p Power) Text(s System) string {
	x, u := p.In(s)
	if u == "kW" {
		return trimZeros(fixed(x, 2)) + " " + u
	}
	return fixed(x, 0) + " " + u
}

// String writes p in W so that it parses back.
func (p Power) String() string { return exact(float64(p)) + " W" }

// MarshalText returns String; a power that is not finite is an error.
func (p Power) MarshalText() ([]byte, error) { return marshaled(float64(p), p.String()) }

// UnmarshalText reads what ParsePower reads.
func (p *Power) UnmarshalText(text []byte) error { return parsed(p, text, ParsePower) }

// Set reads the value of a command-line flag.
func (p *Power) Set(text string) error { return p.UnmarshalText([]byte(text)) }

// Type names the value in the help of a flag.
func (p Power) Type() string { return "power" }

var power = quantity{"power", "W", "kW", [2]string{"1800 W", "1.8 kW"}, 0, 1e6,
	func(u string) bool { return powerUnit(u) > 0 }}

// powerUnit returns the power a unit names, or 0.
func powerUnit(unit string) Power {
	switch strings.ToLower(unit) {
	case "w", "watt", "watts":
		return Watt
	case "kw", "kilowatt", "kilowatts":
		return Kilowatt
	}
	return 0
}

// ParsePower reads a power in W or kW: "1800 W", "1.8 kW".
//
// Errors: *ParseError for a missing or unknown unit, a negative power, above
// 1e9 W, and what every parser refuses.
func ParsePower(s string) (Power, error) {
	n, lit, unit, err := power.read(s)
	if err != nil {
		return 0, err
	}
	size := powerUnit(unit)
	switch {
	case n < 0:
		return 0, power.fail(s, "is negative", -n, lit[1:])
	case size == 0:
		return 0, power.unknown(s, unit, n, lit)
	}
	n, err = power.limit(s, n*float64(size), 0, float64(maxPower), "is negative", "is above 1e9 W")
	return Power(n), err
}
