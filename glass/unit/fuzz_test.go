package unit

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
)

// fuzz checks one parser: no panic; what is accepted is finite and its String
// reads back as the same value; what is refused is a *ParseError of one short
// line whose hints are themselves accepted.
func fuzz(f *testing.F, kind string, format func(si float64) string, seeds ...string) {
	for _, s := range append(seeds, "", "510", "1,5", "NaN", "-Inf", "1e999", "½", "0x1", "5''", "1:30", "\xff", "5 °C per hour", "1e-320 mm",
		strings.Repeat("0", 62), "1h"+strings.Repeat("0", 60), strings.Repeat("0", 55)+"1,5 h", strings.Repeat("0", 60)+"5'") {
		f.Add(s)
	}
	parse := si[kind]
	f.Fuzz(func(t *testing.T, s string) {
		x, err := parse(s)
		if err != nil {
			var refused *ParseError
			if !errors.As(err, &refused) || len(refused.Error()) > 400 || len(refused.Hints) == 0 {
				t.Fatalf("%q: %v", s, err)
			}
			for _, h := range refused.Hints {
				if _, err := parse(h); err != nil {
					t.Fatalf("%q: hint %q: %v", s, h, err)
				}
			}
			return
		}
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%q: %v", s, x)
		}
		text := format(x)
		if y, err := parse(text); err != nil || !scalar.EqualWithinAbsOrRel(x, y, 0, 1e-9) {
			t.Fatalf("%q: %v, written %q, read %v, %v", s, x, text, y, err)
		}
	})
}

func FuzzTemp(f *testing.F) {
	fuzz(f, "temp", func(x float64) string { return Kelvin(x).String() }, "510 °C", "950F", "783.15 kelvin", "-459.67 °F", "-1,0K")
}

func FuzzDelta(f *testing.F) {
	fuzz(f, "delta", func(x float64) string { return Delta(x).String() }, "5 K", "-10 °F")
}

func FuzzRate(f *testing.F) {
	fuzz(f, "rate", func(x float64) string { return Rate(x).String() }, "30 °C/h", "54 F per hr", "0.5 K/s", "30 °C")
}

func FuzzLength(f *testing.F) {
	fuzz(f, "length", func(x float64) string { return Length(x).String() }, "2-1/2 in", `1' 2 1/2"`, "1¼ in", "6mm", "6'", "-1/2 in")
}

func FuzzStress(f *testing.F) {
	fuzz(f, "stress", func(x float64) string { return Stress(x).String() }, "7 MPa", "1 N/mm²", "250 psi", "7 mPa")
}

func FuzzMass(f *testing.F) {
	fuzz(f, "mass", func(x float64) string { return Mass(x).String() }, "299 g", "10.5 oz", "-1 kg", "100000")
}

func FuzzPower(f *testing.F) {
	fuzz(f, "power", func(x float64) string { return Power(x).String() }, "1800 W", "1.8 kW", "-1 W")
}

func FuzzDuration(f *testing.F) {
	fuzz(f, "duration", func(x float64) string { d, _ := ParseDuration(exact(x) + " s"); return FormatDuration(d) }, "1h30m", "1h30", "1:30:00", "2 d", "400 d 5")
}

func FuzzClock(f *testing.F) {
	fuzz(f, "clock", func(x float64) string { return Clock(x).String() }, "22:15", "10:15 pm", "12 a.m.")
}
