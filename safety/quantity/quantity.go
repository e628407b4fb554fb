// Package quantity holds the quantities of a studio that package unit has not:
// areas, volumes, flows, currents and the like. A [Kind] knows how one kind of
// quantity is spelled, what range it has in a studio and how it is written in
// both unit systems, so that whoever holds a quantity needs no case for each.
package quantity

import "lehr/glass/unit"

// The quantities, each in its SI unit.
type (
	Area     float64 // [m²]
	Volume   float64 // [m³]
	Speed    float64 // of air [m/s]
	Flow     float64 // of air or gas [m³/s]
	GasFlow  float64 // of fuel [kg/s]
	Level    float64 // of sound, A-weighted [dB]
	Fraction float64 // a share between 0 and 1
	Current  float64 // [A]
	Voltage  float64 // [V]
)

// Kind is one kind of quantity. Parse reads text with its unit and refuses what
// cannot be in a studio with an *[Error] or a *[unit.ParseError]; Text writes a
// value with its unit in a display system.
type Kind[T any] interface {
	Parse(s string) (T, error)
	Text(x T, s unit.System) string
}

const (
	foot  = float64(12 * unit.Inch) // [m], exact
	inch  = float64(unit.Inch)
	pound = 0.45359237 // [kg], exact
	hour  = 3600.
)

// The kinds of quantity that a studio is told in.
var (
	Areas Kind[Area] = &scaled[Area]{sides: 2, low: 1e-5, high: 100, rule: "must be from 0.1 cm2 to 100 m2", hints: []string{"300 mm x 200 mm", "0.06 m2"},
		spelled: map[string]float64{"m2": 1, "cm2": 1e-4, "mm2": 1e-6, "ft2": foot * foot, "sqft": foot * foot, "in2": inch * inch},
		shown:   [2][]form{{{"m²", 1, 3}}, {{"ft²", foot * foot, 3}}}}
	Volumes Kind[Volume] = &scaled[Volume]{sides: 3, low: 1, high: 1e5, rule: "must be from 1 m3 to 100000 m3", hints: []string{"20 ft x 15 ft x 9 ft", "76 m3"},
		spelled: map[string]float64{"m3": 1, "ft3": foot * foot * foot, "cuft": foot * foot * foot},
		shown:   [2][]form{{{"m³", 1, 3}}, {{"ft³", foot * foot * foot, 3}}}}
	Speeds Kind[Speed] = &scaled[Speed]{low: 1e-3, high: 100, rule: "must be from 0.001 m/s to 100 m/s", hints: []string{"0.5 m/s", "100 fpm"},
		spelled: map[string]float64{"m/s": 1, "fpm": foot / 60, "ft/min": foot / 60, "ft/s": foot},
		shown:   [2][]form{{{"m/s", 1, 3}}, {{"ft/min", foot / 60, 3}}}}
	// Fans are sold in both units, so both stand on the page.
	Flows Kind[Flow] = &scaled[Flow]{low: 1e-7, high: 1000, rule: "is no airflow of a studio", hints: []string{"850 m3/h", "500 cfm"},
		spelled: map[string]float64{"m3/h": 1 / hour, "m3/s": 1, "m3/min": 1. / 60, "cfm": cubicFoot / 60, "ft3/min": cubicFoot / 60, "ft3/h": cubicFoot / hour, "l/min": 1e-3 / 60, "l/s": 1e-3},
		shown:   [2][]form{{{"m³/h", 1 / hour, 3}, {"cfm", cubicFoot / 60, 3}}, {{"cfm", cubicFoot / 60, 3}, {"m³/h", 1 / hour, 3}}}}
	GasFlows Kind[GasFlow] = &scaled[GasFlow]{low: 1e-9, high: 0.1, rule: "must be at most 360 kg/h", hints: []string{"0.2 kg/h", "0.5 lb/h"},
		spelled: map[string]float64{"kg/h": 1 / hour, "g/h": 1e-3 / hour, "g/min": 1e-3 / 60, "lb/h": pound / hour, "lbs/h": pound / hour},
		shown:   [2][]form{{{"kg/h", 1 / hour, 3}}, {{"lb/h", pound / hour, 3}}}}
	Levels Kind[Level] = &scaled[Level]{low: 10, high: 160, rule: "must be from 10 dBA to 160 dBA", hints: []string{"84 dBA"},
		spelled: map[string]float64{"dba": 1, "db(a)": 1, "db": 1},
		shown:   [2][]form{{{"dBA", 1, 3}}, {{"dBA", 1, 3}}}}
	Currents Kind[Current] = &scaled[Current]{low: 0.01, high: 5000, rule: "must be from 0.01 A to 5000 A", hints: []string{"24 A"},
		spelled: map[string]float64{"a": 1, "amp": 1, "amps": 1},
		shown:   [2][]form{{{"A", 1, 4}}, {{"A", 1, 4}}}}
	Voltages Kind[Voltage] = &scaled[Voltage]{low: 1, high: 1000, rule: "must be from 1 V to 1000 V", hints: []string{"240 V", "120 V"},
		spelled: map[string]float64{"v": 1, "kv": 1000, "volt": 1, "volts": 1},
		shown:   [2][]form{{{"V", 1, 4}}, {{"V", 1, 4}}}}
	// A share of nothing is refused: it is no measurement, of a lens least of all.
	Shares Kind[Fraction] = &scaled[Fraction]{low: 1e-6, high: 1, rule: "must be from 0.0001 % to 100 %", hints: []string{"5 %"},
		spelled: map[string]float64{"%": 0.01, "percent": 0.01},
		shown:   [2][]form{{{"%", 0.01, 2}}, {{"%", 0.01, 2}}}}
	Lengths Kind[unit.Length] = borrowed[unit.Length]{unit.ParseLength, func(l unit.Length) bool { return l >= unit.Millimeter && l <= 100 }, "must be from 1 mm to 100 m"}
	Temps   Kind[unit.Temp]   = borrowed[unit.Temp]{unit.ParseTemp, func(t unit.Temp) bool { return t.Celsius() >= -60 && t.Celsius() <= 2500 }, "must be from -60 °C to 2500 °C"}
	Powers  Kind[unit.Power]  = borrowed[unit.Power]{unit.ParsePower, func(p unit.Power) bool { return p.Watts() >= 1 && p.Watts() <= 1e6 }, "must be from 1 W to 1 MW"}
)

const cubicFoot = foot * foot * foot

// Text returns the flow in m³/h and in cfm, the display system's first.
func (q Flow) Text(s unit.System) string { return Flows.Text(q, s) }

// Text returns the current with its unit.
func (c Current) Text() string { return Currents.Text(c, unit.Metric) }

// CubicMetersPerHour returns the flow in m³/h.
func (q Flow) CubicMetersPerHour() float64 { return float64(q) * hour }

// CFM returns the flow in cubic feet per minute.
func (q Flow) CFM() float64 { return float64(q) * 60 / cubicFoot }

// KilogramsPerHour returns the flow in kg/h.
func (g GasFlow) KilogramsPerHour() float64 { return float64(g) * hour }

// CubicFeet returns x ft³ as a Volume.
func CubicFeet(x float64) Volume { return Volume(x * cubicFoot) }

// Feet returns x ft as a length.
func Feet(x float64) unit.Length { return unit.Length(x * foot) }

// FeetPerMinute returns x ft/min as a Speed.
func FeetPerMinute(x float64) Speed { return Speed(x * foot / 60) }

// CFM returns x ft³/min as a Flow.
func CFM(x float64) Flow { return Flow(x * cubicFoot / 60) }

// KilogramsPerHour returns x kg/h as a GasFlow.
func KilogramsPerHour(x float64) GasFlow { return GasFlow(x / hour) }
