package unit

import (
	"encoding"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"
)

func num(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// parse(format(x)) = x within 1e-9, for String, MarshalText and Set alike.
func TestRoundTrip(t *testing.T) {
	within := func(t *rapid.T, from, to encoding.TextMarshaler, old, now float64, into encoding.TextUnmarshaler) {
		if !scalar.EqualWithinAbsOrRel(old, now, 1e-90, 1e-9) { // below 1e-100 is read as zero
			t.Fatalf("%v came back as %v (%v, %v)", from, to, old, now)
		}
		again, err := from.MarshalText()
		if err != nil || string(again) != fmt.Sprint(from) {
			t.Fatalf("MarshalText %q, %v; String %q", again, err, fmt.Sprint(from))
		}
		if err := into.UnmarshalText(again); err != nil {
			t.Fatalf("UnmarshalText %q: %v", again, err)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		temp := Kelvin(rapid.Float64Range(0, 10000).Draw(t, "K"))
		back, err := ParseTemp(temp.String())
		if err != nil {
			t.Fatal(err)
		}
		within(t, temp, back, temp.Kelvin(), back.Kelvin(), &back)
		d := Delta(rapid.Float64Range(-1e4, 1e4).Draw(t, "Δ"))
		d2, err := ParseDelta(d.String())
		if err != nil {
			t.Fatal(err)
		}
		within(t, d, d2, float64(d), float64(d2), &d2)
		r := Rate(rapid.Float64Range(-1e4, 1e4).Draw(t, "K/s"))
		r2, err := ParseRate(r.String())
		if err != nil {
			t.Fatal(err)
		}
		within(t, r, r2, float64(r), float64(r2), &r2)
		l := Length(rapid.Float64Range(0, 1000).Draw(t, "m"))
		l2, err := ParseLength(l.String())
		if err != nil {
			t.Fatal(err)
		}
		within(t, l, l2, float64(l), float64(l2), &l2)
		s := Stress(rapid.Float64Range(-1e13, 1e13).Draw(t, "Pa"))
		s2, err := ParseStress(s.String())
		if err != nil {
			t.Fatal(err)
		}
		within(t, s, s2, float64(s), float64(s2), &s2)
		p := Power(rapid.Float64Range(0, 1e9).Draw(t, "W"))
		p2, err := ParsePower(p.String())
		if err != nil {
			t.Fatal(err)
		}
		within(t, p, p2, float64(p), float64(p2), &p2)
	})
}

// Times and clock times come back exactly.
func TestRoundTrip_time(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := time.Duration(rapid.Int64Range(0, int64(maxDuration)).Draw(t, "ns"))
		if rapid.Bool().Draw(t, "whole seconds") {
			d = d.Truncate(time.Second)
		}
		back, err := ParseDuration(FormatDuration(d))
		if err != nil || back != d {
			t.Fatalf("%v: %q came back as %v, %v", d, FormatDuration(d), back, err)
		}
		c := Clock(rapid.IntRange(0, minutesPerDay-1).Draw(t, "clock"))
		for _, s := range []System{Metric, US} {
			if back, err := ParseClock(c.Text(s)); err != nil || back != c {
				t.Fatalf("%q came back as %v, %v", c.Text(s), back, err)
			}
		}
	})
}

// The text for people is within half of its last digit (at most half a
// degree, 0.05 mm, ...) or within four significant digits, and reads back.
func TestText_readsBack(t *testing.T) {
	near := func(t *rapid.T, s System, text string, want, got, half float64, err error) {
		if err != nil {
			t.Fatal(err)
		}
		if !scalar.EqualWithinAbsOrRel(got, want, half*(1+1e-9), 5.0001e-4) {
			t.Fatalf("%v shown as %q", want, text)
		}
		if digits := strings.Trim(strings.Split(strings.TrimLeft(strings.ReplaceAll(text, ".", ""), "-0"), " ")[0], "0"); len(digits) > 4 {
			t.Fatalf("%q has more than four digits", text)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom([]System{Metric, US}).Draw(t, "system")
		temp := Kelvin(rapid.Float64Range(0.6, 9999).Draw(t, "K"))
		got, err := ParseTemp(temp.Text(s))
		want, _ := temp.In(s)
		now, _ := got.In(s)
		near(t, s, temp.Text(s), want, now, 0.5, err)

		l := Length(rapid.Float64Range(0, 10).Draw(t, "m"))
		gl, err := ParseLength(l.Text(s))
		want, _ = l.In(s)
		now, _ = gl.In(s)
		near(t, s, l.Text(s), want, now, []float64{0.05, 0.0005}[s], err)

		r := KelvinPerHour(rapid.Float64Range(-2000, 2000).Draw(t, "K/h"))
		gr, err := ParseRate(r.Text(s))
		want, _ = r.In(s)
		now, _ = gr.In(s)
		near(t, s, r.Text(s), want, now, 0.5, err)

		x := Stress(rapid.Float64Range(-1e9, 1e9).Draw(t, "Pa"))
		gx, err := ParseStress(x.Text(s))
		want, _ = x.In(s)
		now, _ = gx.In(s)
		near(t, s, x.Text(s), want, now, []float64{0.005, 0.5}[s], err)
	})
}

// °C and °F typed for one temperature, difference or rate agree.
func TestFahrenheitAgreesWithCelsius(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-273, 2000).Draw(t, "c")
		a, errA := ParseTemp(num(c) + " °C")
		b, errB := ParseTemp(num(c*9/5+32) + " °F")
		if errA != nil || errB != nil || !scalar.EqualWithinAbs(a.Kelvin(), b.Kelvin(), 1e-9) {
			t.Fatalf("%v, %v: %v, %v", a, b, errA, errB)
		}
		r1, errA := ParseRate(num(c) + " °C/h")
		r2, errB := ParseRate(num(c*9/5/60) + " °F/min")
		if errA != nil || errB != nil || !scalar.EqualWithinAbsOrRel(float64(r1), float64(r2), 1e-15, 1e-12) {
			t.Fatalf("%v, %v: %v, %v", r1, r2, errA, errB)
		}
	})
}

// A larger number with the same unit is never a smaller quantity, neither
// read nor converted for display.
func TestMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0, 3000).Draw(t, "x")
		y := x + rapid.OneOf(rapid.Float64Range(0, 1e-9), rapid.Float64Range(0, 100)).Draw(t, "step")
		for kind, units := range map[string][]string{
			"temp": {"°C", "°F", "K"}, "delta": {"K", "°F"}, "rate": {"°C/h", "°F/h", "K/s"}, "length": {"mm", "in", "cm"},
			"stress": {"MPa", "psi"}, "power": {"W", "kW"}, "duration": {"s", "min", "h"},
		} {
			for _, u := range units {
				a, errA := si[kind](num(x) + " " + u)
				b, errB := si[kind](num(y) + " " + u)
				if errA != nil || errB != nil || a > b {
					t.Fatalf("%v %s = %v, %v %s = %v; %v, %v", x, u, a, y, u, b, errA, errB)
				}
			}
		}
		for _, s := range []System{Metric, US} {
			tx, _ := Kelvin(x).In(s)
			ty, _ := Kelvin(y).In(s)
			rx, _ := Rate(x).In(s)
			ry, _ := Rate(y).In(s)
			lx, _ := Length(x).In(s)
			ly, _ := Length(y).In(s)
			if tx > ty || rx > ry || lx > ly {
				t.Fatalf("%v and %v change order in system %v", x, y, s)
			}
		}
	})
}

// A fraction is read as its value in sixteenths, in every spelling.
func TestFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(0, 20).Draw(t, "whole")
		den := rapid.SampledFrom([]int{2, 4, 8, 16, 32, 64}).Draw(t, "den")
		top := rapid.IntRange(1, den-1).Draw(t, "top")
		want := (Length(whole) + Length(top)/Length(den)) * Inch
		for _, form := range []string{"%d %d/%d in", "%d-%d/%d in", "%d %d/%d\"", "%d-%d/%d inches", "%d %d⁄%d ″"} {
			text := fmt.Sprintf(form, whole, top, den)
			if got, err := ParseLength(text); err != nil || !scalar.EqualWithinRel(float64(got), float64(want), 1e-14) {
				t.Fatalf("%q: %v, %v; want %v", text, got, err, want)
			}
		}
	})
}
