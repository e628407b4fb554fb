package unit

import (
	"cmp"
	"math"
	"strings"
)

// zeroCelsius is 0 °C in kelvin, exact by definition.
//
// Source: SI Brochure, 9th edition (2019), sec. 2.3.1, and ITS-90 [memory].
const zeroCelsius = 273.15

// fahrenheitPerKelvin is how many degrees Fahrenheit make one kelvin, exact.
const fahrenheitPerKelvin = 1.8

// maxKelvin is the highest temperature ParseTemp reads, and the largest
// difference ParseDelta does.
const maxKelvin = 10000

// Temp is a temperature: a point on a scale. The zero value is 0 K, so that a
// forgotten field fails a check instead of meaning 0 °C.
//
// A temperature is not a difference: 10 °F on the thermometer is -12.2 °C,
// while a difference of 10 °F is 5.56 K. Two temperatures cannot be added;
// t.Sub(u) is a [Delta], and t.Add(d) takes one.
type Temp struct{ kelvin float64 }

// Kelvin returns the temperature of k kelvin.
func Kelvin(k float64) Temp { return Temp{k} }

// Celsius returns the temperature of c degrees Celsius.
func Celsius(c float64) Temp { return Temp{c + zeroCelsius} }

// Fahrenheit returns the temperature of f degrees Fahrenheit.
func Fahrenheit(f float64) Temp { return Temp{(f-32)/fahrenheitPerKelvin + zeroCelsius} }

// Kelvin returns the temperature in kelvin.
func (t Temp) Kelvin() float64 { return t.kelvin }

// Celsius returns the temperature in degrees Celsius, free of conversion noise.
func (t Temp) Celsius() float64 {
	return snap(t.kelvin-zeroCelsius, math.Max(zeroCelsius, math.Abs(t.kelvin)))
}

// Fahrenheit returns the temperature in degrees Fahrenheit, free of conversion noise.
func (t Temp) Fahrenheit() float64 {
	size := fahrenheitPerKelvin * math.Max(zeroCelsius, math.Abs(t.kelvin))
	return snap((t.kelvin-zeroCelsius)*fahrenheitPerKelvin+32, size)
}

// IsZero reports whether t is 0 K, the value of a field nobody has set.
func (t Temp) IsZero() bool { return t.kelvin == 0 }

// Add returns the temperature d above t.
func (t Temp) Add(d Delta) Temp { return Temp{t.kelvin + float64(d)} }

// Sub returns how far t is above u.
func (t Temp) Sub(u Temp) Delta { return Delta(t.kelvin - u.kelvin) }

// Compare returns -1 if t is colder than u, +1 if it is hotter, else 0.
func (t Temp) Compare(u Temp) int { return cmp.Compare(t.kelvin, u.kelvin) }

// Less reports whether t is colder than u.
func (t Temp) Less(u Temp) bool { return t.kelvin < u.kelvin }

// Equal reports whether t and u are the same to the last bit.
func (t Temp) Equal(u Temp) bool { return t.kelvin == u.kelvin }

// In returns the number and the unit of t in a display system: °C or °F.
func (t Temp) In(s System) (float64, string) {
	if s == US {
		return t.Fahrenheit(), "°F"
	}
	return t.Celsius(), "°C"
}

// Text writes t in whole degrees of a display system: "510 °C" or "950 °F".
func (t Temp) Text(s System) string {
	x, u := t.In(s)
	if math.Abs(x) < 0.5 {
		x = 0
	}
	return fixed(x, 0) + " " + u
}

// String writes t in °C so that it parses back; below 1 K it writes kelvin.
func (t Temp) String() string {
	if a := math.Abs(t.kelvin); !(a >= 1 && a <= 1e9) {
		return exact(t.kelvin) + " K"
	}
	return trimZeros(formatPlaces(t.Celsius(), 9)) + " °C"
}

// MarshalText returns String; a temperature that is not finite is an error.
func (t Temp) MarshalText() ([]byte, error) { return marshaled(t.kelvin, t.String()) }

// UnmarshalText reads what ParseTemp reads.
func (t *Temp) UnmarshalText(text []byte) error { return parsed(t, text, ParseTemp) }

// Set reads the value of a command-line flag.
func (t *Temp) Set(text string) error { return t.UnmarshalText([]byte(text)) }

// Type names the value in the help of a flag.
func (t Temp) Type() string { return "temperature" }

var temperature = quantity{"temperature", "°C", "°F", [2]string{"510 °C", "950 °F"}, -zeroCelsius, 9000,
	func(u string) bool { return degree(u) > anyDegree }}

// ParseTemp reads a temperature in °C, °F or K: "510 °C", "950F", "783.15 K",
// "510 deg C", "950 degrees Fahrenheit".
//
// Errors: *ParseError for a missing or unknown unit, below absolute zero,
// above 10000 K, and what every parser refuses.
func ParseTemp(s string) (Temp, error) {
	n, lit, unit, err := temperature.read(s)
	if err != nil {
		return Temp{}, err
	}
	var t Temp
	switch degree(unit) {
	case celsius:
		t = Celsius(n)
	case fahrenheit:
		t = Fahrenheit(n)
	case kelvin:
		t = Kelvin(n)
	case anyDegree:
		return Temp{}, temperature.fail(s, "does not say which degrees", n, lit)
	default:
		return Temp{}, temperature.unknown(s, unit, n, lit)
	}
	hottest := map[scale]string{celsius: "9726 °C", fahrenheit: "17540 °F", kelvin: "10000 K"}[degree(unit)]
	k, err := temperature.limit(s, t.kelvin, 0, maxKelvin, "is below absolute zero (-273.15 °C, -459.67 °F)", "is above "+hottest)
	if e, refused := err.(*ParseError); refused && t.kelvin > maxKelvin {
		if fewer := n / 10; fewer < 3000 && fewer == math.Trunc(fewer) { // a zero too many
			e.Hints = []string{trimZeros(formatPlaces(fewer, 0)) + " " + degree(unit).String()}
		}
	}
	return Temp{k}, err
}

type scale int

const (
	notDegree scale = iota
	anyDegree       // degrees of a scale not named
	celsius
	fahrenheit
	kelvin
)

// String returns the sign of the scale.
func (s scale) String() string {
	switch s {
	case celsius:
		return "°C"
	case fahrenheit:
		return "°F"
	case kelvin:
		return "K"
	}
	return "degrees"
}

// degree tells which degrees a unit names.
func degree(unit string) scale {
	u := strings.ToLower(unit)
	plain := u
	for _, word := range []string{"degrees", "degree", "deg.", "degs", "deg", "°"} {
		if rest, ok := strings.CutPrefix(u, word); ok {
			u = strings.TrimSpace(rest)
			break
		}
	}
	switch u {
	case "c", "celsius", "centigrade":
		return celsius
	case "f", "fahrenheit":
		return fahrenheit
	case "k", "kelvin", "kelvins":
		return kelvin
	case "":
		if plain != "" {
			return anyDegree
		}
	}
	return notDegree
}
