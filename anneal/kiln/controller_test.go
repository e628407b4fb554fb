package kiln

import (
	"errors"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/glass/unit"
)

func controllers(t *rapid.T) Controller {
	c := DefaultController()
	if rapid.Bool().Draw(t, "°F") {
		c.Units = unit.US
		c.Slowest, c.Fastest = unit.FahrenheitPerHour(1), unit.FahrenheitPerHour(1799)
	}
	c.Step = unit.Delta(rapid.IntRange(0, 12).Draw(t, "step")) * c.Degree()
	c.Minutes = rapid.Bool().Draw(t, "minutes")
	if c.Minutes {
		c.Slowest = unit.KelvinPerHour(0.01)
		c.Longest = time.Duration(rapid.IntRange(60, 6000).Draw(t, "longest")) * time.Minute
	}
	return c
}

// isWhole reports whether x is a whole number up to the noise of conversion.
func isWhole(x float64) bool { return math.Abs(x-math.Round(x)) < 1e-6 }

func TestRamp_neverFasterAndWithinOneStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := controllers(t)
		from := c.Temp(unit.Celsius(rapid.Float64Range(20, 900).Draw(t, "from")))
		to := c.Temp(unit.Celsius(rapid.Float64Range(20, 900).Draw(t, "to")))
		asked := unit.KelvinPerHour(rapid.Float64Range(2+float64(c.SetStep()), 2000).Draw(t, "rate"))
		steps, err := c.Ramp(from, to, asked)
		if err != nil {
			t.Fatal(err)
		}
		if from == to {
			if len(steps) != 0 {
				t.Fatalf("a ramp to nowhere: %v", steps)
			}
			return
		}
		at := from
		most := math.Min(float64(asked), float64(c.Fastest))
		for _, s := range steps {
			d := float64(s.To.Sub(at))
			if d*float64(s.Rate) <= 0 {
				t.Fatalf("%v goes the wrong way", s)
			}
			r := math.Abs(float64(s.Rate))
			if r > most*(1+1e-6) {
				t.Fatalf("%s is faster than asked, %s", s.Rate, asked)
			}
			if x, _ := s.To.In(c.Units); !isWhole(x * float64(c.Degree()/c.SetStep())) {
				t.Fatalf("%s is no step of %s", s.To, c.SetStep())
			}
			if c.Minutes {
				m := d / float64(s.Rate) / 60
				if !isWhole(m) || m > c.Longest.Minutes()+1e-6 {
					t.Fatalf("%g minutes, longest %g", m, c.Longest.Minutes())
				}
				if m > math.Abs(d)/most/60+1 {
					t.Fatalf("%g minutes for %g K at %s: more than one too long", m, d, asked)
				}
			} else {
				x, _ := s.Rate.In(c.Units)
				if !isWhole(x) {
					t.Fatalf("%s is no whole rate", s.Rate)
				}
				if float64(most)-r > c.perDegree()/3600*(1+1e-6) {
					t.Fatalf("%s is more than one step slower than %s", s.Rate, asked)
				}
			}
			at = s.To
		}
		if at != to {
			t.Fatalf("ends at %s, want %s", at, to)
		}
	})
}

// TestUnits_sameProgram: °C and °F differ by at most one rounding step of each.
func TestUnits_sameProgram(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, f := DefaultController(), DefaultController()
		f.Units = unit.US
		f.Slowest, f.Fastest = unit.FahrenheitPerHour(1), unit.FahrenheitPerHour(1799)
		r := unit.KelvinPerHour(rapid.Float64Range(1, 998).Draw(t, "rate"))
		a, err := c.Rate(-r)
		if err != nil {
			t.Fatal(err)
		}
		b, err := f.Rate(-r)
		if err != nil {
			t.Fatal(err)
		}
		if d := math.Abs(float64(a-b)) * 3600; d > 1+1e-6 {
			t.Fatalf("%s in °C, %s in °F", a, b)
		}
		x := unit.Celsius(rapid.Float64Range(20, 900).Draw(t, "temp"))
		if d := math.Abs(float64(c.Temp(x).Sub(f.Temp(x)))); d > 0.5+0.5/1.8+1e-9 {
			t.Fatalf("%s and %s", c.Temp(x), f.Temp(x))
		}
		if c.Hold(90*time.Second) != 2*time.Minute || f.Hold(time.Minute) != time.Minute {
			t.Fatal("holds do not round toward long")
		}
		if y := f.Below(x); x.Less(y) || float64(x.Sub(y)) > f.perDegree()*(1+1e-6) {
			t.Fatalf("below %s is %s", x, y)
		}
	})
}

func TestRate_belowTheSmallestIsRefused(t *testing.T) {
	c := DefaultController()
	c.Slowest = unit.KelvinPerHour(10)
	var slow *SlowError
	if _, err := c.Rate(unit.KelvinPerHour(-9.99)); !errors.As(err, &slow) || slow.Hint() == "" {
		t.Errorf("9.99 °C/h: %v", err)
	}
	if r, err := c.Rate(unit.KelvinPerHour(-10)); err != nil || math.Abs(r.KelvinPerHour()+10) > 1e-9 {
		t.Errorf("10 °C/h: %s, %v", r, err)
	}
	if _, err := c.Ramp(unit.Celsius(500), unit.Celsius(400), unit.KelvinPerHour(3)); !errors.As(err, &slow) {
		t.Errorf("ramp: %v", err)
	}
	c.Minutes = true
	c.Slowest = unit.KelvinPerHour(0.01)
	c.Longest = 10 * time.Hour
	steps, err := c.Ramp(unit.Celsius(500), unit.Celsius(400), unit.KelvinPerHour(3))
	if err != nil || len(steps) != 4 { // 33 h 20 min
		t.Errorf("minutes: %v, %v", steps, err)
	}
}
