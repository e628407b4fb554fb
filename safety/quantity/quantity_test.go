package quantity

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lehr/glass/unit"
)

// roundTrip wants what is written to be read back, within its digits.
func roundTrip[T ~float64](t *testing.T, name string, k Kind[T], low, high float64) {
	rapid.Check(t, func(t *rapid.T) {
		x := T(math.Exp(rapid.Float64Range(math.Log(low), math.Log(high)).Draw(t, name)))
		for _, f := range k.(*scaled[T]).shown[index(rapid.SampledFrom([]unit.System{unit.Metric, unit.US}).Draw(t, "units"))] {
			text := Digits(float64(x)/f.size, f.digits) + " " + f.unit
			back, err := k.Parse(text)
			if err != nil || math.Abs(float64(back/x)-1) > 0.06 {
				t.Fatalf("%v is written %s and read %v (%v)", x, text, back, err)
			}
		}
	})
}

func TestKinds_roundTrip(t *testing.T) {
	roundTrip(t, "area", Areas, 2e-5, 90)
	roundTrip(t, "volume", Volumes, 1.1, 9e4)
	roundTrip(t, "speed", Speeds, 2e-3, 90)
	roundTrip(t, "flow", Flows, 2e-7, 900)
	roundTrip(t, "gas", GasFlows, 1e-8, 0.09)
	roundTrip(t, "level", Levels, 11, 150)
	roundTrip(t, "current", Currents, 0.02, 4000)
	roundTrip(t, "voltage", Voltages, 1.1, 900)
	roundTrip(t, "share", Shares, 2e-6, 0.9)
}

// A comma parts thousands; anywhere else it is refused, since 0,5 is meant as
// a half and would be read as 5.
func TestParse_commas(t *testing.T) {
	for text, want := range map[string]float64{"1,500 A": 1500, "12,5 A": 0, "0,5 A": 0, "0,500 A": 0, "1,50 A": 0, "1,5000 A": 0, "1,234.5 A": 1234.5, ".5 A": 0.5, "24A": 24, "24  amps": 24,
		"+3 A": 3, "-3 A": 0, "2 4 A": 0, "0x10 A": 0, "1e3 A": 0, "A": 0, "": 0, "24": 0, "24 V": 0, "24 A A": 0, "Inf A": 0, "6000 A": 0} {
		x, err := Currents.Parse(text)
		if (err == nil) != (want > 0) || err == nil && float64(x) != want {
			t.Errorf("%q: %v, %v", text, x, err)
		}
	}
}

func TestFlow_text(t *testing.T) {
	q := CFM(500)
	if m, u := q.Text(unit.Metric), q.Text(unit.US); m != "850 m³/h (500 cfm)" || u != "500 cfm (850 m³/h)" {
		t.Error(m, u)
	}
}

// An upper bound is never rounded down, nor a greatest allowed value up.
func TestDigits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := math.Exp(rapid.Float64Range(-20, 20).Draw(t, "ln x"))
		for digits := 1; digits <= 4; digits++ {
			up, down := number(t, DigitsUp(x, digits)), number(t, DigitsDown(x, digits))
			if step := math.Pow(10, 1-float64(digits)); up < x*(1-1e-9) || down > x*(1+1e-9) || up > x*(1+step+1e-9) || down < x*(1-step-1e-9) {
				t.Fatalf("%v: up %v, down %v", x, up, down)
			}
		}
	})
}

func number(t *rapid.T, s string) float64 {
	x, err := Currents.(*scaled[Current]).number(s + " A")
	if err != nil {
		t.Fatal(err)
	}
	return x
}
