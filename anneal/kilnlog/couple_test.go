package kilnlog

import (
	"math"
	"slices"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/casetest"
	"lehr/glass/unit"
)

func couple(in casetest.Values) Couple { return Couple(in.Text("type")[0]) }

func hours(h float64) time.Duration { return time.Duration(h * float64(time.Hour)) }

func TestPublished(t *testing.T) {
	cases := slices.DeleteFunc(casetest.Of(t, "kilnlog"), func(c casetest.Case) bool { return c.Func == "kilnlog.Read" })
	casetest.RunCases(t, cases, map[string]casetest.Compute{
		"Millivolts": func(t testing.TB, in casetest.Values) casetest.Values {
			var out []float64
			for _, c := range in.Floats("temperature_C") {
				out = append(out, couple(in).Millivolts(unit.Celsius(c)))
			}
			return casetest.Values{"emf_mV": out}
		},
		"Coefficients": func(t testing.TB, in casetest.Values) casetest.Values {
			r := couple(in).in(100)
			if want := in.Floats("range_C"); r.low != want[0] || r.high != want[1] {
				t.Errorf("range %g to %g °C", r.low, r.high)
			}
			return casetest.Values{"c": r.c, "a": r.a[:]}
		},
		"Temperature": func(t testing.TB, in casetest.Values) casetest.Values {
			mV, junction := in.Float("emf_mV"), unit.Celsius(in.Float("junction_C"))
			got, ok := couple(in).Temperature(mV, junction)
			zero, ok0 := couple(in).Temperature(mV, unit.Celsius(0))
			if !ok || !ok0 {
				t.Error("out of range")
			}
			return casetest.Values{"temperature_C": got.Celsius(), "adding_degrees_instead_C": zero.Celsius() + junction.Celsius()}
		},
		"Sensitivity": func(t testing.TB, in casetest.Values) casetest.Values {
			return casetest.Values{"microvolt_per_K": 1000 * couple(in).Sensitivity(unit.Celsius(in.Float("temperature_C")))}
		},
		"Interpolation": func(t testing.TB, in casetest.Values) casetest.Values {
			f := kiln.Fall{TimeConstant: hours(in.Float("time_constant_h")), Room: unit.Celsius(in.Float("room_C"))}
			from, step := unit.Celsius(in.Float("temperature_C")), time.Duration(in.Float("interval_s"))*time.Second
			// The line between the readings half an interval to either side.
			a := kiln.Reading{At: f.After(from, step/2), Time: step / 2}
			ahead := f.Room.Add(unit.Delta(float64(from.Sub(f.Room)) * math.Exp(step.Seconds()/2/f.TimeConstant.Seconds())))
			c, err := kiln.NewCurve([]kiln.Reading{{At: ahead, Time: -step / 2}, a})
			if err != nil {
				t.Fatal(err)
			}
			return casetest.Values{"largest_error_K": float64(c.Temp(0).Sub(from))}
		},
		"SlopeNoise": func(t testing.TB, in casetest.Values) casetest.Values {
			var r []kiln.Reading
			for i := range int(in.Float("intervals")) + 1 {
				r = append(r, kiln.Reading{At: unit.Celsius(500), Time: time.Duration(float64(i) * in.Float("interval_s") * 1e9)})
			}
			return casetest.Values{"slope_sd_K_per_h": FitRate(r, unit.Delta(in.Float("step_K"))).Error.KelvinPerHour()}
		},
		"Tolerance": func(t testing.TB, in casetest.Values) casetest.Values {
			standard, special := couple(in).Tolerance(unit.Celsius(in.Float("temperature_C")))
			return casetest.Values{"standard_C": standard.Kelvin(), "special_C": special.Kelvin()}
		},
	})
}

// The ranges of a reference function meet, and below 0 °C and above the
// freezing point of gold they give the printed tables [memory].
func TestCouple_rangesMeet(t *testing.T) {
	for c, ranges := range couples {
		for i := 1; i < len(ranges); i++ {
			at := ranges[i].low
			if low, high := ranges[i-1].at(at), ranges[i].at(at); math.Abs(low-high) > 1e-5 {
				t.Errorf("type %s at %g °C: %.6f and %.6f mV", c, at, low, high)
			}
			if low, high := ranges[i-1].slope(at), ranges[i].slope(at); math.Abs(low/high-1) > 0.01 { // type N has a kink of 0.9 % at 0 °C in the tables too
				t.Errorf("type %s at %g °C: slopes %.6f and %.6f", c, at, low, high)
			}
		}
	}
	for _, row := range []struct {
		c       Couple
		celsius float64
		mV      float64
	}{
		{TypeK, -20, -0.778}, {TypeK, -100, -3.554}, {TypeK, -200, -5.891}, {TypeK, 1300, 52.410},
		{TypeN, -20, -0.518}, {TypeN, -100, -2.407}, {TypeN, -200, -3.990}, {TypeN, 1300, 47.513},
		{TypeS, -20, -0.103}, {TypeS, 1100, 10.757}, {TypeS, 1300, 13.159}, {TypeS, 1600, 16.777},
		{TypeR, -20, -0.100}, {TypeR, 1100, 11.850}, {TypeR, 1300, 14.629}, {TypeR, 1600, 18.849},
	} {
		if got := row.c.Millivolts(unit.Celsius(row.celsius)); math.Abs(got-row.mV) > 0.00051 {
			t.Errorf("type %s at %g °C: %.4f mV, want %.3f", row.c, row.celsius, got, row.mV)
		}
	}
}

// What a temperature gives is read back as that temperature, over the whole
// range and at any junction.
func TestCouple_roundTrip(t *testing.T) {
	for c := range couples {
		low, high := c.span()
		for x := low; x <= high; x += 0.37 {
			for _, j := range []float64{-20, 0, 25, 48} {
				mV := c.Millivolts(unit.Celsius(x)) - c.Millivolts(unit.Celsius(j))
				got, ok := c.Temperature(mV, unit.Celsius(j))
				if !ok || math.Abs(got.Celsius()-x) > 1e-5 {
					t.Fatalf("type %s, %.2f °C over a junction of %g °C: got %v %v", c, x, j, got, ok)
				}
			}
		}
		for _, mV := range []float64{-50, 200, math.NaN(), math.Inf(1)} {
			if got, ok := c.Temperature(mV, unit.Celsius(20)); ok {
				t.Errorf("type %s: %g mV is %s", c, mV, got)
			}
		}
	}
}

func TestParseCouple(t *testing.T) {
	for _, text := range []string{"K", "k", " type S ", "Type n", "R"} {
		if _, err := ParseCouple(text); err != nil {
			t.Error(err)
		}
	}
	for _, text := range []string{"", "J", "KK", "0", "typ\x1b[2J"} {
		if c, err := ParseCouple(text); err == nil {
			t.Errorf("%q is %s", text, c)
		}
	}
}
