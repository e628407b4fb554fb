package unit

import (
	"strings"
	"time"
)

// Delta is a difference of two temperatures, in kelvin.
//
// It has no offset: a difference of 1 K is one of 1 °C and one of 1.8 °F. For
// a point on the thermometer use [Temp].
type Delta float64

// FahrenheitDelta returns the difference of f degrees Fahrenheit.
func FahrenheitDelta(f float64) Delta { return Delta(f / fahrenheitPerKelvin) }

// Kelvin returns the difference in kelvin, which is also that in °C.
func (d Delta) Kelvin() float64 { return float64(d) }

// Fahrenheit returns the difference in degrees Fahrenheit, free of conversion noise.
func (d Delta) Fahrenheit() float64 { return snap(float64(d)*fahrenheitPerKelvin, 0) }

// Per returns the steady rate that makes this difference in the time given.
// It panics if that time is not positive, since no rate does.
func (d Delta) Per(over time.Duration) Rate {
	if over <= 0 {
		panic("unit: Delta.Per over " + over.String())
	}
	return Rate(float64(d) / over.Seconds())
}

// In returns the number and the unit of d in a display system: K or °F.
func (d Delta) In(s System) (float64, string) {
	if s == US {
		return d.Fahrenheit(), "°F"
	}
	return snap(float64(d), 0), "K"
}

// Text writes d whole from 10 up, with one decimal from 1 up, else with two:
// "5.0 K" or "9.0 °F".
func (d Delta) Text(s System) string {
	x, u := d.In(s)
	return graded(x) + " " + u
}

// String writes d in K so that it parses back.
func (d Delta) String() string { return exact(float64(d)) + " K" }

// MarshalText returns String; a difference that is not finite is an error.
func (d Delta) MarshalText() ([]byte, error) { return marshaled(float64(d), d.String()) }

// UnmarshalText reads what ParseDelta reads.
func (d *Delta) UnmarshalText(text []byte) error { return parsed(d, text, ParseDelta) }

// Set reads the value of a command-line flag.
func (d *Delta) Set(text string) error { return d.UnmarshalText([]byte(text)) }

// Type names the value in the help of a flag.
func (d Delta) Type() string { return "difference" }

var difference = quantity{"temperature difference", "K", "°F", [2]string{"5 K", "10 °F"}, -9000, 9000,
	func(u string) bool { return degree(u) > anyDegree }}

// ParseDelta reads a difference of temperatures: "5 K", "5 °C" (the same) or
// "10 °F" (5.56 K). No offset is applied. It may be negative.
//
// Errors: *ParseError for a missing or unknown unit, beyond ±10000 K, and what
// every parser refuses.
func ParseDelta(s string) (Delta, error) {
	n, lit, unit, err := difference.read(s)
	if err != nil {
		return 0, err
	}
	switch degree(unit) {
	case celsius, kelvin:
	case fahrenheit:
		n = float64(FahrenheitDelta(n))
	case anyDegree:
		return 0, difference.fail(s, "does not say which degrees", n, lit)
	default:
		return 0, difference.unknown(s, unit, n, lit)
	}
	n, err = difference.limit(s, n, -maxKelvin, maxKelvin, "is below -10000 K", "is above 10000 K")
	return Delta(n), err
}

// Rate is how fast a temperature changes, in K/s, positive when heating.
//
// It is a difference per time and has no offset: 54 °F/h is 30 °C/h.
type Rate float64

const secondsPerHour = 3600

// maxRate is the fastest rate ParseRate reads [K/s].
const maxRate = 10000

// KelvinPerHour returns the rate of x K/h, which is x °C/h.
func KelvinPerHour(x float64) Rate { return Rate(x / secondsPerHour) }

// FahrenheitPerHour returns the rate of x °F/h.
func FahrenheitPerHour(x float64) Rate { return Rate(x / (fahrenheitPerKelvin * secondsPerHour)) }

// KelvinPerHour returns the rate in K/h, which is °C/h, free of conversion noise.
func (r Rate) KelvinPerHour() float64 { return snap(float64(r)*secondsPerHour, 0) }

// FahrenheitPerHour returns the rate in °F/h, free of conversion noise.
func (r Rate) FahrenheitPerHour() float64 {
	return snap(float64(r)*(fahrenheitPerKelvin*secondsPerHour), 0)
}

// Over returns the difference that the rate makes in the time given.
func (r Rate) Over(t time.Duration) Delta { return Delta(float64(r) * t.Seconds()) }

// In returns the number and the unit of r in a display system: °C/h or °F/h.
func (r Rate) In(s System) (float64, string) {
	if s == US {
		return r.FahrenheitPerHour(), "°F/h"
	}
	return r.KelvinPerHour(), "°C/h"
}

// Text writes r whole from 10 up, with one decimal from 1 up, else with two:
// "30 °C/h" or "54 °F/h".
func (r Rate) Text(s System) string {
	x, u := r.In(s)
	return graded(x) + " " + u
}

// String writes r in °C/h so that it parses back.
func (r Rate) String() string { return exact(r.KelvinPerHour()) + " °C/h" }

// MarshalText returns String; a rate that is not finite is an error.
func (r Rate) MarshalText() ([]byte, error) { return marshaled(float64(r), r.String()) }

// UnmarshalText reads what ParseRate reads.
func (r *Rate) UnmarshalText(text []byte) error { return parsed(r, text, ParseRate) }

// Set reads the value of a command-line flag.
func (r *Rate) Set(text string) error { return r.UnmarshalText([]byte(text)) }

// Type names the value in the help of a flag.
func (r Rate) Type() string { return "rate" }

var rate = quantity{"rate", "°C/h", "°F/h", [2]string{"30 °C/h", "54 °F/h"}, -1e6, 1e6,
	func(u string) bool {
		scale, per, _ := rateUnit(u)
		return scale > anyDegree && per > 0
	}}

// rateUnit splits a unit such as °C/h into degrees and time; has tells whether
// there is a slash or a "per" at all.
func rateUnit(unit string) (_ scale, per time.Duration, has bool) {
	deg, word, has := strings.Cut(unit, "/")
	if !has {
		deg, word, has = strings.Cut(strings.ToLower(unit), " per ")
	}
	return degree(strings.TrimSpace(deg)), timeUnit(strings.TrimSpace(word)), has
}

// ParseRate reads a rate: degrees, a slash or "per", and a time. "30 °C/h",
// "54 F/hr", "2 °C/min", "0.5 K/s", "30 °C per hour". A negative rate cools.
//
// Errors: *ParseError for a missing or unknown unit, beyond ±10000 K/s, and
// what every parser refuses.
func ParseRate(s string) (Rate, error) {
	n, lit, unit, err := rate.read(s)
	if err != nil {
		return 0, err
	}
	scale, per, has := rateUnit(unit)
	switch {
	case !has && scale > anyDegree:
		e := rate.fail(s, "has no time; a rate is degrees per hour or per minute", n, lit)
		if rate.offers(n, lit) {
			sign := scale.String()
			e.Hints = []string{lit + " " + sign + "/h", lit + " " + sign + "/min"}
		}
		return 0, e
	case has && per > 0 && scale == anyDegree, !has && scale == anyDegree:
		return 0, rate.fail(s, "does not say which degrees", n, lit)
	case per == 0 || scale == notDegree:
		return 0, rate.unknown(s, unit, n, lit)
	case scale == fahrenheit:
		n /= fahrenheitPerKelvin
	}
	n, err = rate.limit(s, n/per.Seconds(), -maxRate, maxRate, "is below -10000 K/s", "is above 10000 K/s")
	return Rate(n), err
}
