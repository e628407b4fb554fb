package quantity

import (
	"strconv"
	"strings"

	"lehr/glass/unit"
)

// Read reads text with a unit into a quantity field and refuses what
// cannot be in a studio.
func Read(into any, s string) error {
	var x float64
	var err error
	switch p := into.(type) {
	case *unit.Length:
		var l unit.Length
		if l, err = unit.ParseLength(s); err == nil {
			*p, err = l, within(float64(l), 1e-3, 100, "must be from 1 mm to 100 m")
		}
	case *unit.Temp:
		var t unit.Temp
		if t, err = unit.ParseTemp(s); err == nil {
			*p, err = t, within(t.Celsius(), -60, 2500, "must be from -60 °C to 2500 °C")
		}
	case *Area:
		x, err = parseArea(s)
		*p = Area(x)
	case *Volume:
		x, err = parseVolume(s)
		*p = Volume(x)
	case *Speed:
		x, err = parseScaled(s, speedScales, "0.5 m/s", "100 fpm")
		*p = Speed(x)
		err = first(err, x, 0.001, 100, "must be from 0.001 m/s to 100 m/s")
	case *Flow:
		x, err = parseScaled(s, flowScales, "850 m3/h", "500 cfm")
		*p = Flow(x)
		err = first(err, x, 1e-7, 1000, "is no airflow of a studio")
	case *GasFlow:
		x, err = parseScaled(s, gasScales, "0.2 kg/h", "0.5 lb/h")
		*p = GasFlow(x)
		err = first(err, x, 1e-9, 0.1, "must be at most 360 kg/h")
	case *Level:
		x, err = parseScaled(s, levelScales, "84 dBA")
		*p = Level(x)
		err = first(err, x, 10, 160, "must be from 10 dBA to 160 dBA")
	case *Fraction:
		x, err = parseShare(s)
		*p = Fraction(x)
	case *Current:
		x, err = parseScaled(s, currentScales, "24 A")
		*p = Current(x)
		err = first(err, x, 0.01, 5000, "must be from 0.01 A to 5000 A")
	case *Voltage:
		x, err = parseScaled(s, voltageScales, "240 V", "120 V")
		*p = Voltage(x)
		err = first(err, x, 1, 1000, "must be from 1 V to 1000 V")
	case *unit.Power:
		var w unit.Power
		if w, err = unit.ParsePower(s); err == nil {
			*p, err = w, within(w.Watts(), 1, 1e6, "must be from 1 W to 1 MW")
		}
	}
	return err
}

// first keeps an earlier error, and else checks the range.
func first(err error, x, low, high float64, words string) error {
	if err != nil {
		return err
	}
	return within(x, low, high, words)
}

func within(x, low, high float64, words string) error {
	if x >= low && x <= high {
		return nil
	}
	return &Error{Reason: words}
}

// ParseArea reads an opening: "0.06 m2", "3 ft2", "300 mm x 200 mm".
func ParseArea(s string) (Area, error) {
	x, err := parseArea(s)
	return Area(x), named("opening", s, err)
}

// ParseVolume reads a room: "76 m3", "2700 ft3", "20 ft x 15 ft x 9 ft".
func ParseVolume(s string) (Volume, error) {
	x, err := parseVolume(s)
	return Volume(x), named("room", s, err)
}

// ParseSpeed reads an air velocity: "0.5 m/s", "100 fpm".
func ParseSpeed(s string) (Speed, error) {
	var v Speed
	err := Read(&v, s)
	return v, named("air velocity", s, err)
}

// ParseFlow reads an airflow: "850 m3/h", "500 cfm", "5 L/min".
func ParseFlow(s string) (Flow, error) {
	var v Flow
	err := Read(&v, s)
	return v, named("airflow", s, err)
}

// ParseGasFlow reads a fuel flow by weight: "0.2 kg/h", "0.5 lb/h".
func ParseGasFlow(s string) (GasFlow, error) {
	var v GasFlow
	err := Read(&v, s)
	return v, named("fuel flow", s, err)
}

// named puts the quantity and the text into an error that lacks them.
func named(quantity, s string, err error) error {
	e, ok := err.(*Error)
	if !ok {
		return err
	}
	e.Key, e.Value = quantity, strconv.Quote(s)
	return e
}

func parseArea(s string) (x float64, err error) {
	if strings.ContainsAny(s, "x×*") {
		x, err = parseProduct(s, 2)
	} else {
		x, err = parseScaled(s, areaScales, "300 mm x 200 mm", "0.06 m2")
	}
	return x, first(err, x, 1e-5, 100, "must be from 0.1 cm2 to 100 m2")
}

func parseVolume(s string) (x float64, err error) {
	if strings.ContainsAny(s, "x×*") {
		x, err = parseProduct(s, 3)
	} else {
		x, err = parseScaled(s, volumeScales, "20 ft x 15 ft x 9 ft", "76 m3")
	}
	return x, first(err, x, 1, 1e5, "must be from 1 m3 to 100000 m3")
}

func parseShare(s string) (float64, error) {
	num, word := SplitNumber(s)
	x, err := strconv.ParseFloat(num, 64)
	if err != nil {
		return 0, &Error{Reason: "is not a number", Next: `write "5 %" or 0.05`}
	}
	switch word {
	case "%", "percent":
		x /= 100
	case "":
	default:
		return 0, &Error{Reason: "has an unknown unit", Next: `write "5 %" or 0.05`}
	}
	if !(x >= 0 && x <= 1) {
		return 0, &Error{Reason: "must be from 0 % to 100 %"}
	}
	return max(x, TinyShare), nil
}

// TinyShare stands for a lens that passes nothing measurable, so that 0 stays
// "not given".
const TinyShare = 1e-9
