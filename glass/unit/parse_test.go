package unit

import (
	"errors"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/floats/scalar"
)

// si reads text as the named quantity and returns its value in SI.
var si = map[string]func(string) (float64, error){
	"temp":     func(s string) (float64, error) { v, err := ParseTemp(s); return v.Kelvin(), err },
	"delta":    func(s string) (float64, error) { v, err := ParseDelta(s); return float64(v), err },
	"rate":     func(s string) (float64, error) { v, err := ParseRate(s); return float64(v), err },
	"length":   func(s string) (float64, error) { v, err := ParseLength(s); return float64(v), err },
	"stress":   func(s string) (float64, error) { v, err := ParseStress(s); return float64(v), err },
	"power":    func(s string) (float64, error) { v, err := ParsePower(s); return float64(v), err },
	"mass":     func(s string) (float64, error) { v, err := ParseMass(s); return float64(v), err },
	"duration": func(s string) (float64, error) { v, err := ParseDuration(s); return v.Seconds(), err },
	"clock":    func(s string) (float64, error) { v, err := ParseClock(s); return float64(v), err },
	"system":   func(s string) (float64, error) { v, err := ParseSystem(s); return float64(v), err },
}

// Expected values are worked out from the definitions: 0 °C = 273.15 K,
// 1.8 °F = 1 K, 1 in = 25.4 mm, 1 psi = 6894.757293168 Pa (NIST SP 811).
func TestParse_accepted(t *testing.T) {
	for _, c := range []struct {
		quantity string
		want     float64
		texts    []string
	}{
		{"temp", 783.15, []string{"510 °C", "510°C", "510C", "510 c", "510 degC", "510 deg C", "510 deg. C",
			"510 degrees C", "510 degrees Celsius", "510 ºC", "510 ˚C", "510 ℃", "510\u00a0°C", "510\u202f°C",
			"+510 °C", "510.0 °C", "5.1e2 °C", "950 °F", "950F", "950 deg F", "950 Degrees Fahrenheit", "950 ℉",
			"783.15 K", "783.15 kelvin", "  510   °C "}},
		{"temp", 273.15, []string{"0 °C", "-0 °C", "32 °F", "273.15 K"}},
		{"temp", 233.15, []string{"-40 °C", "-40 °F", "−40 °C", "–40 °F"}},
		{"temp", 0, []string{"0 K", "-273.15 °C", "-459.67 °F"}},
		{"temp", 373.15, []string{"100 °C", "212 °F"}},
		{"delta", 5, []string{"5 K", "5 °C", "9 °F", "9F", "5 kelvins", "5 degrees C"}},
		{"delta", -10, []string{"-10 K", "-18 °F"}},
		{"rate", 30. / 3600, []string{"30 °C/h", "30 C/hr", "30°C/hour", "30 °C per hour", "30 K/h", "54 °F/h",
			"54 F/hr", "0.5 °C/min", "0.9 °F/min", "30 degrees C per hour", "30 °C / h", "30 deg C/h", "720 °C/day"}},
		{"rate", 0.5, []string{"0.5 K/s", ".5 K/s", "30 °C/min", "1800 °C/h"}},
		{"rate", -1. / 60, []string{"-1 °C/min", "-60 °C/h", "−108 °F/h"}},
		{"length", 0.0635, []string{"2 1/2 in", "2-1/2 in", "2½ in", "2 ½ in", "2-½\"", "2.5 in", "2.5in", `2.5"`, "2.5″",
			"2.5''", "2.5”", "2.5 inches", "2.5 in.", "63.5 mm", "6.35 cm", "0.0635 m", "63500 µm", "63500 μm", "2 1⁄2 IN",
			"5/2 in", "63.5mm", "6.35e1 mm"}},
		{"length", 0.03175, []string{"1¼ in", "1 1/4 in", "1-1/4\"", "1.25 in", "31.75 mm"}},
		{"length", 0.0127, []string{`½"`, "½ in", "1/2 in", "0.5 in", "12.7 mm"}},
		{"length", 0.003175, []string{"1/8 in", "⅛ in", `1/8"`, "3.175 mm"}},
		{"length", 0.3556, []string{`1' 2"`, `1'2"`, `1' 2''`, "1′ 2″", "1’2”", "1 ft 2 in", "1ft2in", `1'-2"`, "14 in"}},
		{"length", 0.3683, []string{`1' 2 1/2"`, "1 ft 2½ in", "1 foot 2.5 inches"}},
		{"length", 0.6096, []string{"2 ft", "2 feet", "24 in"}},
		{"length", 0, []string{"0 mm", "0 in"}},
		{"length", 1e-6, []string{"1 µm", "1 um", "1e-3 mm"}},
		{"stress", 1.7e6, []string{"1.7 MPa", "1.7 N/mm²", "1.7 N/mm2", "1.7 mpa", "1700 kPa", "1.7e6 Pa", "17 bar"}},
		{"stress", 6894757.293168, []string{"1000 psi", "1 ksi", "1000 PSI", "1000 lbf/in²"}},
		{"stress", -6894.757293168, []string{"-1 psi"}},
		{"stress", 63e9, []string{"63 GPa", "63000 MPa"}},
		{"power", 1800, []string{"1800 W", "1.8 kW", "1.8kw", "1800 watts"}},
		{"duration", 5400, []string{"90 min", "90min", "1h30m", "1 h 30 min", "1.5 h", "1:30", "01:30", "1:30:00", "5400 s",
			"1 hour 30 minutes", "1h30m0s", "1 hr. 30 min."}},
		{"duration", 90, []string{"90 s", "1 min 30 s", "1.5 min", "0:01:30"}},
		{"duration", 172800, []string{"2 d", "2 days", "48 h", "48:00"}},
		{"duration", 0, []string{"0 min", "0 s", "0:00"}},
		{"clock", 22*60 + 15, []string{"22:15", "10:15 pm", "10:15PM", "10:15 p.m."}},
		{"clock", 8 * 60, []string{"8:00", "08:00", "8 am", "8:00 am"}},
		{"clock", 0, []string{"0:00", "00:00", "12 am", "12:00 AM"}},
		{"clock", 720, []string{"12:00", "12 pm", "noon", "Midday"}},
		{"clock", 0, []string{"midnight"}},
		{"clock", 22*60 + 15, []string{"22h15", "22H15", "22:15h"}},
		{"clock", 22 * 60, []string{"22h"}},
		{"system", 0, []string{"c", "metric", "C", "°C", "Celsius"}},
		{"system", 1, []string{"f", "us", "F", "US", "°f"}},
	} {
		for _, text := range c.texts {
			got, err := si[c.quantity](text)
			if err != nil {
				t.Errorf("%s %q: %v", c.quantity, text, err)
			} else if !scalar.EqualWithinAbsOrRel(got, c.want, 1e-12, 1e-12) {
				t.Errorf("%s %q: got %v, want %v", c.quantity, text, got, c.want)
			}
		}
	}
}

func TestParse_refused(t *testing.T) {
	long := strings.Repeat("9", 1000) + " °C"
	for _, c := range []struct{ quantity, text, err, hint string }{
		{"temp", "510", `510: has no unit`, `write "510 °C" or "510 °F"`},
		{"temp", "510°", `510°: does not say which degrees`, `write "510 °C" or "510 °F"`},
		{"temp", "510 mm", `510 mm: unit "mm" is not one of temperature`, `write "510 °C" or "510 °F"`},
		{"temp", "-300 °C", `-300 °C: is below absolute zero (-273.15 °C, -459.67 °F)`, `write "510 °C" or "950 °F"`},
		{"temp", "-273.151 °C", `-273.151 °C: is below absolute zero (-273.15 °C, -459.67 °F)`, `write "510 °C" or "950 °F"`},
		{"temp", "-1 K", `-1 K: is below absolute zero (-273.15 °C, -459.67 °F)`, `write "510 °C" or "950 °F"`},
		{"temp", "20000 °C", `20000 °C: is above 9726 °C`, `write "2000 °C"`},
		{"temp", "22000F", `22000F: is above 17540 °F`, `write "2200 °F"`},
		{"temp", "1e9 K", `1e9 K: is above 10000 K`, `write "510 °C" or "950 °F"`},
		{"temp", "1e999 °C", `1e999 °C: is too large a number`, `write "510 °C" or "950 °F"`},
		{"temp", "NaN °C", `NaN °C: is not a finite number`, `write "510 °C" or "950 °F"`},
		{"temp", "nan", `nan: is not a finite number`, `write "510 °C" or "950 °F"`},
		{"temp", "-Inf K", `-Inf K: is not a finite number`, `write "510 °C" or "950 °F"`},
		{"temp", "+infinity", `+infinity: is not a finite number`, `write "510 °C" or "950 °F"`},
		{"temp", "512,5 °C", `512,5 °C: has a comma; decimals are marked by a point`, `write "512.5 °C"`},
		{"temp", "1,000 °F", `1,000 °F: has a comma; decimals are marked by a point`, `write "1000 °F" or "1.000 °F"`},
		{"temp", "512,5", `512,5: has a comma; decimals are marked by a point`, `write "512.5 °C" or "512.5 °F"`},
		{"temp", "", `"": is empty`, `write "510 °C" or "950 °F"`},
		{"temp", " \t ", `"": is empty`, `write "510 °C" or "950 °F"`},
		{"temp", "hot", `hot: does not start with a number`, `write "510 °C" or "950 °F"`},
		{"temp", "0x1p4 K", `0x1p4 K: unit "x1p4 K" is not one of temperature`, `write "0 °C" or "0 °F"`},
		{"temp", "5.1.0 °C", `5.1.0 °C: has two points in its number`, `write "510 °C" or "950 °F"`},
		{"temp", long, strings.Repeat("9", 32) + `…: is too long (1004 bytes, at most 64)`, `write "510 °C" or "950 °F"`},
		{"temp", "510\x00°C", `"510\x00\u00b0C": contains a control character`, `write "510 °C" or "950 °F"`},
		{"temp", "510 \xb0C", `"510 \xb0C": is not valid UTF-8 text`, `write "510 °C" or "950 °F"`},
		{"temp", "510 °C 520 °C", `510 °C 520 °C: unit "°C 520 °C" is not one of temperature`, `write "510 °C" or "510 °F"`},
		{"delta", "5", `5: has no unit`, `write "5 K" or "5 °F"`},
		{"delta", "5 min", `5 min: unit "min" is not one of temperature difference`, `write "5 K" or "5 °F"`},
		{"delta", "1e5 K", `1e5 K: is above 10000 K`, `write "5 K" or "10 °F"`},
		{"rate", "30", `30: has no unit`, `write "30 °C/h" or "30 °F/h"`},
		{"rate", "30 °C", `30 °C: has no time; a rate is degrees per hour or per minute`, `write "30 °C/h" or "30 °C/min"`},
		{"rate", "54 F", `54 F: has no time; a rate is degrees per hour or per minute`, `write "54 °F/h" or "54 °F/min"`},
		{"rate", "30 °/h", `30 °/h: does not say which degrees`, `write "30 °C/h" or "30 °F/h"`},
		{"rate", "30 mm/h", `30 mm/h: unit "mm/h" is not one of rate`, `write "30 °C/h" or "30 °F/h"`},
		{"rate", "30 °C/week", `30 °C/week: unit "°C/week" is not one of rate`, `write "30 °C/h" or "30 °F/h"`},
		{"rate", "27,5 °C/h", `27,5 °C/h: has a comma; decimals are marked by a point`, `write "27.5 °C/h"`},
		{"rate", "1e9 K/s", `1e9 K/s: is above 10000 K/s`, `write "30 °C/h" or "54 °F/h"`},
		{"length", "6", `6: has no unit`, `write "6 mm" or "6 in"`},
		{"length", "2 1/2", `2 1/2: has no unit`, `write "2 1/2 mm" or "2 1/2 in"`},
		{"length", "-6 mm", `-6 mm: is negative`, `write "6 mm" or "6 in"`},
		{"length", "-0 mm", `-0 mm: is negative`, `write "6 mm" or "1/4 in"`},
		{"length", "-1/2 in", `-1/2 in: is negative`, `write "1/2 mm" or "1/2 in"`},
		{"length", "--6 mm", `--6 mm: does not start with a number`, `write "6 mm" or "1/4 in"`},
		{"length", "6'", `6': has a single mark, which can mean feet or half an inch mark`, `write "6 ft" or "6 in"`},
		{"length", "2,5 mm", `2,5 mm: has a comma; decimals are marked by a point`, `write "2.5 mm"`},
		{"length", "2 1/0 in", `2 1/0 in: has a fraction whose lower number is not from 1 to 1000`, `write "6 mm" or "1/4 in"`},
		{"length", "2 5/4 in", `2 5/4 in: has a fraction that is not below one`, `write "6 mm" or "1/4 in"`},
		{"length", "1 ft 14 in", `1 ft 14 in: is not whole feet and less than 12 inches`, `write "1 ft 2 in" or "14 in"`},
		{"length", "1.5 ft 2 in", `1.5 ft 2 in: is not whole feet and less than 12 inches`, `write "1 ft 2 in" or "14 in"`},
		{"length", "5 mm 3", `5 mm 3: goes on after the unit`, `write "5 mm" or "5 in"`},
		{"length", "6 °C", `6 °C: unit "°c" is not one of length`, `write "6 mm" or "6 in"`},
		{"length", "2 km", `2 km: unit "km" is not one of length`, `write "2 mm" or "2 in"`},
		{"length", "2000 m", `2000 m: is above 1000 m`, `write "6 mm" or "1/4 in"`},
		{"stress", "7", `7: has no unit`, `write "7 MPa" or "7 psi"`},
		{"stress", "7 mPa", `7 mPa: mPa is a thousandth of a pascal; MPa is a million`, `write "7 MPa" or "7 psi"`},
		{"stress", "7 kg", `7 kg: unit "kg" is not one of stress`, `write "7 MPa" or "7 psi"`},
		{"stress", "1e9 GPa", `1e9 GPa: is above 1e13 Pa`, `write "1.7 MPa" or "250 psi"`},
		{"power", "1800", `1800: has no unit`, `write "1800 W" or "1800 kW"`},
		{"power", "-1 W", `-1 W: is negative`, `write "1 W" or "1 kW"`},
		{"power", "2 hp", `2 hp: unit "hp" is not one of power`, `write "2 W" or "2 kW"`},
		{"duration", "75", `75: has no unit`, `write "75 min" or "75 h"`},
		{"duration", "-5 min", `-5 min: is negative`, `write "5 min" or "5 h"`},
		{"duration", "1h30", `1h30: has no unit at its end`, `write "1h 30 min"`},
		{"duration", "30 min 1 h", `30 min 1 h: has its units out of order`, `write "75 min" or "1 h 15 min"`},
		{"duration", "1.5 h 10 min", `1.5 h 10 min: has decimals before its last unit`, `write "75 min" or "1 h 15 min"`},
		{"duration", "1:75", `1:75: has 75 behind a colon, at most 59`, `write "1:30" or "1 h 30 min"`},
		{"duration", "1:5", `1:5: is not hours:minutes`, `write "1:30" or "1 h 30 min"`},
		{"duration", "3 weeks", `3 weeks: unit "weeks" is not one of time`, `write "3 min" or "3 h"`},
		{"duration", "399 d 30 h", `399 d 30 h: is above 400 days`, `write "75 min" or "1 h 15 min"`},
		{"duration", "401 d", `401 d: is above 400 days`, `write "75 min" or "1 h 15 min"`},
		{"duration", "1,5 h", `1,5 h: has a comma; decimals are marked by a point`, `write "1.5 h"`},
		{"clock", "10", `10: has no minutes and no am or pm`, `write "10:00" or "10 am" or "10 pm"`},
		{"clock", "2230", `2230: has no minutes and no am or pm`, `write "22:30"`},
		{"clock", "830", `830: has no minutes and no am or pm`, `write "8:30"`},
		{"clock", "2575", `2575: has no minutes and no am or pm`, `write "22:15" or "10:15 pm"`},
		{"clock", "22.30", `22.30: is not a time of day`, `write "22:30"`},
		{"clock", "8.30 pm", `8.30 pm: is not a time of day`, `write "8:30 pm"`},
		{"clock", "8;30", `8;30: is not a time of day`, `write "8:30"`},
		{"clock", "8-30", `8-30: is not a time of day`, `write "8:30"`},
		{"clock", "8.5", `8.5: is not a time of day`, `write "22:15" or "10:15 pm"`},
		{"clock", "24:00", `24:00: has an hour above 23`, `write "22:15" or "10:15 pm"`},
		{"clock", "13:00 pm", `13:00 pm: has an hour that is not 1 to 12 with am or pm`, `write "22:15" or "10:15 pm"`},
		{"clock", "10:60", `10:60: has more than 59 minutes`, `write "22:15" or "10:15 pm"`},
		{"clock", "10:5", `10:5: is not a time of day`, `write "22:15" or "10:15 pm"`},
		{"clock", ":", `:: is not a time of day`, `write "22:15" or "10:15 pm"`},
		{"system", "kelvin", `kelvin: is not a display system; there are "c" (metric) and "f" (US)`, `write "c" or "f"`},
	} {
		v, err := si[c.quantity](c.text)
		var refused *ParseError
		if !errors.As(err, &refused) {
			t.Errorf("%s %q: got %v, %v; want a *ParseError", c.quantity, c.text, v, err)
			continue
		}
		if refused.Error() != c.err || refused.Hint() != c.hint {
			t.Errorf("%s %q:\n got %s\n     %s\nwant %s\n     %s", c.quantity, c.text, refused, refused.Hint(), c.err, c.hint)
		}
		if v != 0 {
			t.Errorf("%s %q: value %v beside the error", c.quantity, c.text, v)
		}
		for _, h := range refused.Hints {
			if _, err := si[c.quantity](h); err != nil {
				t.Errorf("%s %q: hint %q is itself refused: %v", c.quantity, c.text, h, err)
			}
		}
	}
}

func TestParseError_noUnit(t *testing.T) {
	for text, want := range map[string]bool{"510": true, "510.000000": true, "510 X": false, "": false} {
		var v Temp
		var refused *ParseError
		if err := v.UnmarshalText([]byte(text)); !errors.As(err, &refused) || refused.NoUnit != want {
			t.Errorf("%q: %v, want NoUnit %v", text, err, want)
		}
	}
	var v Temp
	err := v.UnmarshalText([]byte("510.000000")) // how TOML hands over a bare 510.0
	if err == nil || err.Error() != "510: has no unit" {
		t.Errorf("got %v", err)
	}
}

// A text that fits the limit must be read fast and one that does not refused
// without being looked at.
func TestParse_hugeInput(t *testing.T) {
	huge := strings.Repeat("1/2 ", 1<<22)
	start := time.Now()
	for name, parse := range si {
		_, err := parse(huge)
		if err == nil || len(err.Error()) > 200 {
			t.Errorf("%s: %v", name, err)
		}
	}
	if took := time.Since(start); took > time.Second {
		t.Errorf("took %v", took)
	}
}

// TestCutClock: what begins with a time of day loses it, and nothing else does.
func TestCutClock(t *testing.T) {
	for _, c := range []struct{ text, clock, rest string }{
		{"4:30 am 590 °F", "04:30", "590 °F"},
		{"4:30 AM 590F", "04:30", "590F"},
		{"4:30am 590 °F", "04:30", "590 °F"},
		{"4 p.m. 590 °F", "16:00", "590 °F"},
		{"02:10 560 °C", "02:10", "560 °C"},
		{"02:10\u00a0560 °C", "02:10", "560 °C"},
		{"noon 560C", "12:00", "560C"},
		{"12:15 am", "00:15", ""},
		{"560 °C", "", "560 °C"},
		{"560", "", "560"},
	} {
		at, rest, err := CutClock(c.text)
		if err != nil || rest != c.rest || (at == nil) != (c.clock == "") || at != nil && at.String() != c.clock {
			t.Errorf("%q: %v, %q, %v", c.text, at, rest, err)
		}
	}
	if _, _, err := CutClock("25:10 500 °C"); err == nil {
		t.Error("25:10 is taken for a time of day")
	}
}

// TestParseDay: a day, and the hour behind it as it is said.
func TestParseDay(t *testing.T) {
	for _, c := range []struct {
		text, want string
		hour       bool
	}{
		{"2026-11-29", "2026-11-29 00:00", false},
		{"2026-11-29 8:00", "2026-11-29 08:00", true},
		{"2026-11-29T08:00", "2026-11-29 08:00", true},
		{"2026-11-29 8:00 pm", "2026-11-29 20:00", true},
		{"2026-11-29 12:40 AM", "2026-11-29 00:40", true},
	} {
		got, hour, err := ParseDay(c.text, time.UTC)
		if err != nil || hour != c.hour || got.Format("2006-01-02 15:04") != c.want {
			t.Errorf("%q: %s, %v, %v", c.text, got, hour, err)
		}
	}
	for _, text := range []string{"", "tomorrow", "2026-11-29 25:00", "2026-11-29 8", "2026-02-30", "29.11.2026 8:00"} {
		if got, _, err := ParseDay(text, time.UTC); err == nil {
			t.Errorf("%q: %s", text, got)
		}
	}
}
