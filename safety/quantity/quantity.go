// Package quantity holds the quantities of a studio that package unit has not:
// areas, volumes, flows, currents and the like, each with its spellings, its
// range and its text in both unit systems.
package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"lehr/glass/unit"
)

const (
	foot  = float64(12 * unit.Inch) // [m], exact
	pound = 0.45359237              // [kg], exact
)

// Area is an area in m².
type Area float64

// Volume is a volume in m³.
type Volume float64

// Speed is an air velocity in m/s.
type Speed float64

// Flow is a volume flow of air or gas in m³/s.
type Flow float64

// GasFlow is a mass flow of fuel gas in kg/s.
type GasFlow float64

// Level is an A-weighted sound level in dB.
type Level float64

// Fraction is a share between 0 and 1.
type Fraction float64

// Current is an electric current in A.
type Current float64

// Voltage is an electric potential difference in V.
type Voltage float64

// SquareFeet returns the area in ft².
func (a Area) SquareFeet() float64 { return float64(a) / (foot * foot) }

// CubicFeet returns the volume in ft³.
func (v Volume) CubicFeet() float64 { return float64(v) / (foot * foot * foot) }

// FeetPerMinute returns the velocity in ft/min (fpm).
func (s Speed) FeetPerMinute() float64 { return float64(s) * 60 / foot }

// CubicMetersPerHour returns the flow in m³/h.
func (q Flow) CubicMetersPerHour() float64 { return float64(q) * 3600 }

// CFM returns the flow in cubic feet per minute.
func (q Flow) CFM() float64 { return float64(q) * 60 / (foot * foot * foot) }

// KilogramsPerHour returns the flow in kg/h.
func (g GasFlow) KilogramsPerHour() float64 { return float64(g) * 3600 }

// SquareFeet returns x ft² as an Area.
func SquareFeet(x float64) Area { return Area(x * foot * foot) }

// CubicFeet returns x ft³ as a Volume.
func CubicFeet(x float64) Volume { return Volume(x * foot * foot * foot) }

// Feet returns x ft as a length.
func Feet(x float64) unit.Length { return unit.Length(x * foot) }

// FeetPerMinute returns x ft/min as a Speed.
func FeetPerMinute(x float64) Speed { return Speed(x * foot / 60) }

// CFM returns x ft³/min as a Flow.
func CFM(x float64) Flow { return Flow(x * foot * foot * foot / 60) }

// CubicMetersPerHour returns x m³/h as a Flow.
func CubicMetersPerHour(x float64) Flow { return Flow(x / 3600) }

// LitersPerMinute returns x L/min as a Flow.
func LitersPerMinute(x float64) Flow { return Flow(x / 60000) }

// KilogramsPerHour returns x kg/h as a GasFlow.
func KilogramsPerHour(x float64) GasFlow { return GasFlow(x / 3600) }

// Text returns the area with its unit.
func (a Area) Text(s unit.System) string {
	if s == unit.US {
		return Digits(a.SquareFeet(), 3) + " ft²"
	}
	return Digits(float64(a), 3) + " m²"
}

// Text returns the volume with its unit.
func (v Volume) Text(s unit.System) string {
	if s == unit.US {
		return Digits(v.CubicFeet(), 3) + " ft³"
	}
	return Digits(float64(v), 3) + " m³"
}

// Text returns the velocity with its unit.
func (s Speed) Text(sys unit.System) string {
	if sys == unit.US {
		return Digits(s.FeetPerMinute(), 3) + " ft/min"
	}
	return Digits(float64(s), 3) + " m/s"
}

// Text returns the flow in m³/h and in cfm, the display system's first.
// Fans are sold in both, so both stand on the page.
func (q Flow) Text(s unit.System) string {
	m, f := Digits(q.CubicMetersPerHour(), 3)+" m³/h", Digits(q.CFM(), 3)+" cfm"
	if s == unit.US {
		return f + " (" + m + ")"
	}
	return m + " (" + f + ")"
}

// Text returns the mass flow with its unit.
func (g GasFlow) Text(s unit.System) string {
	if s == unit.US {
		return Digits(g.KilogramsPerHour()/pound, 3) + " lb/h"
	}
	return Digits(g.KilogramsPerHour(), 3) + " kg/h"
}

// Text returns the current with its unit.
func (c Current) Text(unit.System) string { return Digits(float64(c), 4) + " A" }

// Text returns the voltage with its unit.
func (v Voltage) Text(unit.System) string { return Digits(float64(v), 4) + " V" }

// Text returns the sound level with its unit.
func (l Level) Text(unit.System) string { return Digits(float64(l), 3) + " dBA" }

// Text returns the share in percent.
func (f Fraction) Text(unit.System) string { return Digits(float64(f)*100, 2) + " %" }

// Digits returns x with at most n significant digits and no exponent.
func Digits(x float64, n int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	digits := n - 1 - int(math.Floor(math.Log10(math.Abs(x))))
	scale := math.Pow(10, float64(digits))
	x = math.Round(x*scale) / scale
	if digits <= 0 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	s := strconv.FormatFloat(x, 'f', digits, 64)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// DigitsDown is Digits, but never rounds up: for a greatest allowed value.
func DigitsDown(x float64, n int) string {
	if x <= 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return Digits(x, n)
	}
	scale := math.Pow(10, float64(n-1)-math.Floor(math.Log10(x)))
	return Digits(math.Floor(x*scale*(1+1e-12))/scale, n)
}

// scales gives the factor to SI of every spelling that a quantity accepts.
type scales map[string]float64

var (
	speedScales = scales{"m/s": 1, "fpm": foot / 60, "ft/min": foot / 60, "ft/s": foot}
	flowScales  = scales{"m3/h": 1. / 3600, "m3/s": 1, "m3/min": 1. / 60, "cfm": foot * foot * foot / 60,
		"ft3/min": foot * foot * foot / 60, "ft3/h": foot * foot * foot / 3600, "l/min": 1. / 60000, "l/s": 1e-3}
	gasScales = scales{"kg/h": 1. / 3600, "g/h": 1e-3 / 3600, "g/min": 1e-3 / 60, "lb/h": pound / 3600, "lbs/h": pound / 3600}

	areaScales    = scales{"m2": 1, "cm2": 1e-4, "mm2": 1e-6, "ft2": foot * foot, "sqft": foot * foot, "in2": foot * foot / 144}
	volumeScales  = scales{"m3": 1, "ft3": foot * foot * foot, "cuft": foot * foot * foot}
	levelScales   = scales{"dba": 1, "db(a)": 1, "db": 1}
	currentScales = scales{"a": 1, "amp": 1, "amps": 1}
	voltageScales = scales{"v": 1, "kv": 1000, "volt": 1, "volts": 1}
)

// parseScaled reads a number and a unit of the table; hints are two spellings
// to show when the text cannot be read.
func parseScaled(s string, table scales, hints ...string) (float64, error) {
	num, word := SplitNumber(s)
	if num == "" {
		return 0, &Error{Value: s, Reason: "has no number", Next: "write " + quoteOr(hints)}
	}
	x, err := strconv.ParseFloat(num, 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return 0, &Error{Value: s, Reason: "is not a number", Next: "write " + quoteOr(hints)}
	}
	word = strings.NewReplacer("²", "2", "³", "3", "^", "", " ", "", "hr", "h").Replace(strings.ToLower(word))
	if word == "" {
		return 0, &Error{Value: s, Reason: "has no unit", Next: "write " + spellings(num, hints)}
	}
	f, ok := table[word]
	if !ok {
		return 0, &Error{Value: s, Reason: "has an unknown unit", Next: "write " + quoteOr(hints)}
	}
	if x <= 0 {
		return 0, &Error{Value: s, Reason: "must be above zero"}
	}
	return x * f, nil
}

// SplitNumber parts "0.5 m/s" into "0.5" and "m/s". Thousands commas go.
func SplitNumber(s string) (num, word string) {
	s = strings.TrimSpace(s)
	i := 0
	for i < len(s) && strings.IndexByte("0123456789.,+-", s[i]) >= 0 {
		i++
	}
	return strings.ReplaceAll(s[:i], ",", ""), strings.TrimSpace(s[i:])
}

// spellings puts the number the person typed before the units of the hints.
func spellings(num string, hints []string) string {
	out := make([]string, len(hints))
	for i, h := range hints {
		_, word := SplitNumber(h)
		out[i] = num + " " + word
	}
	return quoteOr(out)
}

func quoteOr(list []string) string {
	q := make([]string, len(list))
	for i, s := range list {
		q[i] = strconv.Quote(s)
	}
	return strings.Join(q, " or ")
}

// parseProduct reads "20 ft x 15 ft x 9 ft": n lengths multiplied. A number
// without a unit takes the unit of the last one.
func parseProduct(s string, n int) (float64, error) {
	parts := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == 'x' || r == '×' || r == '*' })
	if len(parts) != n {
		return 0, &Error{Value: s, Reason: fmt.Sprintf("needs %d sides", n), Next: "write " + map[int]string{2: `"300 mm x 200 mm"`, 3: `"20 ft x 15 ft x 9 ft"`}[n]}
	}
	_, last := SplitNumber(parts[n-1])
	p := 1.0
	for _, part := range parts {
		if _, w := SplitNumber(part); w == "" {
			part = strings.TrimSpace(part) + " " + last
		}
		l, err := unit.ParseLength(strings.TrimSpace(part))
		if err != nil {
			return 0, err
		}
		if !(l > 0) {
			return 0, &Error{Value: s, Reason: "must be above zero"}
		}
		p *= float64(l)
	}
	return p, nil
}
