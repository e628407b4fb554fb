package unit

import (
	"encoding"
	"errors"
	"fmt"
	"math"
	"reflect"
	"testing"
	"time"

	"gonum.org/v1/gonum/floats/scalar"
)

// The left sides are the definitions: the Celsius scale (ITS-90, SI Brochure),
// the Fahrenheit scale by its two fixed points and absolute zero, the inch
// (1959 agreement), the pound-force per square inch (NIST SP 811).
func TestDefinitions(t *testing.T) {
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"0 °C in K", Celsius(0).Kelvin(), 273.15},
		{"triple point of water in °C", Kelvin(273.16).Celsius(), 0.01},
		{"ice point in °F", Celsius(0).Fahrenheit(), 32},
		{"steam point in °F", Celsius(100).Fahrenheit(), 212},
		{"absolute zero in °F", Kelvin(0).Fahrenheit(), -459.67},
		{"absolute zero in °C", Kelvin(0).Celsius(), -273.15},
		{"-40 °F in °C", Fahrenheit(-40).Celsius(), -40},
		{"aluminum point, ITS-90, in °C", Kelvin(933.473).Celsius(), 660.323},
		{"silver point, ITS-90, in °C", Kelvin(1234.93).Celsius(), 961.78},
		{"950 °F in °C", Fahrenheit(950).Celsius(), 510},
		{"1 in in mm", Inch.Millimeters(), 25.4},
		{"1 ft in m", Foot.Meters(), 0.3048},
		{"63.5 mm in in", (63.5 * Millimeter).Inches(), 2.5},
		{"6 in in mm", (6 * Inch).Millimeters(), 152.4},
		{"30 K/h in °F/h", KelvinPerHour(30).FahrenheitPerHour(), 54},
		{"54 °F/h in K/h", FahrenheitPerHour(54).KelvinPerHour(), 30},
		{"30 K/h back", KelvinPerHour(30).KelvinPerHour(), 30},
		{"36 K/h in K/s", float64(KelvinPerHour(36)), 0.01},
		{"10 °F of difference in K", FahrenheitDelta(10).Kelvin(), 50. / 9},
		{"1000 psi in MPa", (1000 * PSI).Megapascals(), 6.894757293168361},
	} {
		if !scalar.EqualWithinAbsOrRel(c.got, c.want, 0, 2e-16) {
			t.Errorf("%s: got %v, want %v", c.what, c.got, c.want)
		}
	}
	if psi := float64(PSI); !scalar.EqualWithinAbs(psi, 6894.757293168, 5e-10) {
		t.Errorf("psi: got %.9f Pa", psi)
	}
}

// A conversion must not leave noise that a later rounding toward slow turns
// into a whole degree: every whole number comes back whole.
func TestConversions_wholeNumbersStayWhole(t *testing.T) {
	for i := range 3001 {
		x := float64(i)
		for what, got := range map[string]float64{
			"°C":   Celsius(x).Celsius(),
			"°F":   Fahrenheit(x).Fahrenheit(),
			"K/h":  KelvinPerHour(x).KelvinPerHour(),
			"°F/h": FahrenheitPerHour(x).FahrenheitPerHour(),
			"-K/h": -KelvinPerHour(-x).KelvinPerHour(),
			"mm":   (Length(x) * Millimeter).Millimeters(),
			"in":   (Length(x) * Inch).Inches(),
			"MPa":  (Stress(x) * Megapascal).Megapascals(),
			"psi":  (Stress(x) * PSI).PSI(),
			"°F Δ": FahrenheitDelta(x).Fahrenheit(),
		} {
			if got != x {
				t.Fatalf("%v %s came back as %v", x, what, got)
			}
		}
	}
	for c := range 1501 { // a multiple of 5 °C is a whole °F
		if got := Celsius(float64(5 * c)).Fahrenheit(); got != float64(9*c+32) {
			t.Fatalf("%d °C is %v °F, want %d", 5*c, got, 9*c+32)
		}
	}
}

// A temperature has an offset, a difference and a rate have none.
func TestTemperatureIsNotDifference(t *testing.T) {
	point, err := ParseTemp("10 °F")
	if err != nil || point.Text(Metric) != "-12 °C" {
		t.Errorf("point: %v, %v", point.Text(Metric), err)
	}
	step, err := ParseDelta("10 °F")
	if err != nil || step.Text(Metric) != "5.6 K" {
		t.Errorf("difference: %v, %v", step.Text(Metric), err)
	}
	if got := Fahrenheit(960).Sub(Fahrenheit(950)); !scalar.EqualWithinAbs(float64(got), float64(step), 1e-12) {
		t.Errorf("960 °F - 950 °F = %v", got)
	}
	if got := Fahrenheit(950).Add(step).Fahrenheit(); got != 960 {
		t.Errorf("950 °F + 10 °F = %v", got)
	}
	if got := step.Per(time.Hour).FahrenheitPerHour(); got != 10 {
		t.Errorf("10 °F in an hour = %v °F/h", got)
	}
	if got := FahrenheitPerHour(10).Over(90 * time.Minute).Fahrenheit(); got != 15 {
		t.Errorf("10 °F/h for 1 h 30 min = %v °F", got)
	}
}

// No operator but == works on a struct, so adding two temperatures or
// multiplying one does not compile.
func TestTemp_hasNoArithmetic(t *testing.T) {
	if k := reflect.TypeFor[Temp]().Kind(); k != reflect.Struct {
		t.Errorf("Temp is a %v", k)
	}
}

func TestTemp_order(t *testing.T) {
	low, high := Celsius(510), Fahrenheit(951)
	if !low.Less(high) || high.Less(low) || low.Compare(high) != -1 || high.Compare(low) != 1 || low.Compare(low) != 0 {
		t.Error("510 °C is not below 951 °F")
	}
	if !low.Equal(Kelvin(783.15)) || low.Equal(high) {
		t.Error("Equal")
	}
	if !(Temp{}).IsZero() || Celsius(0).IsZero() {
		t.Error("only 0 K is the zero value")
	}
}

func TestPer_refusesNoTime(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a rate over no time")
		}
	}()
	Delta(1).Per(0)
}

type shown interface{ Text(System) string }

func TestText(t *testing.T) {
	for _, c := range []struct {
		of         shown
		metric, us string
	}{
		{Celsius(510), "510 °C", "950 °F"},
		{Celsius(0.3), "0 °C", "33 °F"},
		{Celsius(-0.3), "0 °C", "31 °F"},
		{Fahrenheit(0.4), "-18 °C", "0 °F"},
		{Celsius(1234.5), "1235 °C", "2254 °F"},
		{Kelvin(10000), "9727 °C", "17540 °F"},
		{Delta(5), "5.0 K", "9.0 °F"},
		{Delta(20), "20 K", "36 °F"},
		{Delta(0.25), "0.25 K", "0.45 °F"},
		{Delta(0), "0 K", "0 °F"},
		{KelvinPerHour(30), "30 °C/h", "54 °F/h"},
		{KelvinPerHour(9.96), "10 °C/h", "18 °F/h"},
		{KelvinPerHour(9.94), "9.9 °C/h", "18 °F/h"},
		{KelvinPerHour(4), "4.0 °C/h", "7.2 °F/h"},
		{KelvinPerHour(0.996), "1.0 °C/h", "1.8 °F/h"},
		{KelvinPerHour(0.5), "0.50 °C/h", "0.90 °F/h"},
		{KelvinPerHour(-27.4), "-27 °C/h", "-49 °F/h"},
		{KelvinPerHour(12345), "12350 °C/h", "22220 °F/h"},
		{KelvinPerHour(0.0012), "0.0012 °C/h", "0.0022 °F/h"},
		{2.5 * Inch, "63.5 mm", "2.5 in"},
		{1.25 * Inch, "31.8 mm", "1.25 in"},
		{Inch / 8, "3.2 mm", "0.125 in"},
		{6 * Millimeter, "6.0 mm", "0.236 in"},
		{20 * Inch, "508.0 mm", "20 in"},
		{5 * Meter, "5000 mm", "196.9 in"},
		{20 * Micrometer, "0.020 mm", "0.001 in"},
		{Length(0), "0.0 mm", "0 in"},
		{99.96 * Millimeter, "100.0 mm", "3.935 in"},
		{999.96 * Millimeter, "1000 mm", "39.37 in"},
		{1.7237 * Megapascal, "1.72 MPa", "250 psi"},
		{-0.5 * Megapascal, "-0.50 MPa", "-73 psi"},
		{0.002 * Megapascal, "0.0020 MPa", "0.29 psi"},
		{Stress(0), "0.00 MPa", "0 psi"},
		{Stress(-1e-9), "0.00 MPa", "0 psi"},
		{123.456 * Megapascal, "123.5 MPa", "17910 psi"},
		{1800 * Watt, "1800 W", "1800 W"},
		{12500 * Watt, "12.5 kW", "12.5 kW"},
		{Duration(90 * time.Minute), "1 h 30 min", "1 h 30 min"},
		{Clock(22*60 + 15), "22:15", "10:15 pm"},
		{Clock(0), "00:00", "12:00 am"},
		{Clock(12*60 + 5), "12:05", "12:05 pm"},
		{Clock(8 * 60), "08:00", "8:00 am"},
	} {
		if got := c.of.Text(Metric); got != c.metric {
			t.Errorf("%T %v: got %q, want %q", c.of, c.of, got, c.metric)
		}
		if got := c.of.Text(US); got != c.us {
			t.Errorf("%T %v: got %q, want %q", c.of, c.of, got, c.us)
		}
	}
}

func TestString(t *testing.T) {
	for _, c := range []struct {
		of   fmt.Stringer
		want string
	}{
		{Celsius(510), "510 °C"}, {Fahrenheit(951), "510.555555556 °C"}, {Kelvin(0), "0 K"}, {Celsius(-0.1), "-0.1 °C"},
		{Delta(-5), "-5 K"}, {KelvinPerHour(30), "30 °C/h"}, {FahrenheitPerHour(1), "0.555555555556 °C/h"},
		{2.5 * Inch, "63.5 mm"}, {Inch / 8, "3.175 mm"}, {PSI, "0.00689475729317 MPa"}, {63 * Gigapascal, "63000 MPa"},
		{1.8 * Kilowatt, "1800 W"}, {Length(1e-12), "1e-09 mm"}, {Metric, "metric"}, {US, "us"}, {System(7), "System(7)"},
	} {
		if got := c.of.String(); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestFormatDuration(t *testing.T) {
	for d, want := range map[time.Duration]string{
		0: "0 min", 90 * time.Minute: "1 h 30 min", 45 * time.Minute: "45 min", 20 * time.Second: "20 s",
		76 * time.Hour: "3 d 4 h", 24 * time.Hour: "1 d", 1500 * time.Millisecond: "1.5 s", 1: "0.000000001 s",
		time.Hour + time.Second: "1 h 1 s", -time.Hour: "-1 h",
		math.MinInt64: "-106751 d 23 h 47 min 16.854775808 s",
	} {
		if got := FormatDuration(d); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

func TestClock_Add(t *testing.T) {
	for _, c := range []struct {
		from Clock
		d    time.Duration
		want string
		days int
	}{
		{22*60 + 15, 11*time.Hour + 24*time.Minute, "09:39", 1},
		{0, 0, "00:00", 0},
		{23*60 + 59, time.Second, "00:00", 1},
		{0, 49 * time.Hour, "01:00", 2},
		{0, -time.Minute, "23:59", -1},
		{0, -24 * time.Hour, "00:00", -1},
	} {
		if got, days := c.from.Add(c.d); got.String() != c.want || days != c.days {
			t.Errorf("%v + %v: got %v and %d days, want %s and %d", c.from, c.d, got, days, c.want, c.days)
		}
	}
}

// What is not finite has no text for a file, and a refused text leaves the
// old value alone.
func TestMarshalText_refusesNonFinite(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(-1)
	for _, v := range []encoding.TextMarshaler{Kelvin(nan), Kelvin(inf), Delta(nan), Rate(inf), Length(nan), Stress(inf), Power(nan), Mass(nan), Clock(-1), Clock(1440)} {
		if text, err := v.MarshalText(); err == nil {
			t.Errorf("%T: %q", v, text)
		}
	}
	l := 6 * Millimeter
	var refused *ParseError
	if err := l.Set("7"); !errors.As(err, &refused) || l != 6*Millimeter {
		t.Errorf("%v, %v", l, err)
	}
}

func TestType(t *testing.T) {
	seen := map[string]bool{}
	for _, v := range []interface{ Type() string }{Temp{}, Delta(0), Rate(0), Length(0), Stress(0), Power(0), Mass(0), Duration(0), Clock(0), Metric} {
		if v.Type() == "" || seen[v.Type()] {
			t.Errorf("%T: %q", v, v.Type())
		}
		seen[v.Type()] = true
	}
}
