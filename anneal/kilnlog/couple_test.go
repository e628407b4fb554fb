package kilnlog

import (
	"math"
	"testing"

	"lehr/glass/unit"
)

// The ranges of a reference function meet, and below 0 °C and above the
// freezing point of gold they give the printed tables [memory].
func TestCouple_rangesMeet(t *testing.T) {
	for c, ranges := range couples {
		for i := 1; i < len(ranges); i++ {
			at := ranges[i].low
			if low, high := ranges[i-1].at(at), ranges[i].at(at); math.Abs(low-high) > 1e-5 {
				t.Errorf("type %c at %g °C: %.6f and %.6f mV", c, at, low, high)
			}
			if low, high := ranges[i-1].slope(at), ranges[i].slope(at); math.Abs(low/high-1) > 0.01 { // type N has a kink of 0.9 % at 0 °C in the tables too
				t.Errorf("type %c at %g °C: slopes %.6f and %.6f", c, at, low, high)
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
		if got := row.c.millivolts(unit.Celsius(row.celsius)); math.Abs(got-row.mV) > 0.00051 {
			t.Errorf("type %c at %g °C: %.4f mV, want %.3f", row.c, row.celsius, got, row.mV)
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
				mV := c.millivolts(unit.Celsius(x)) - c.millivolts(unit.Celsius(j))
				got, ok := c.temperature(mV, unit.Celsius(j))
				if !ok || math.Abs(got.Celsius()-x) > 1e-5 {
					t.Fatalf("type %c, %.2f °C over a junction of %g °C: got %v %v", c, x, j, got, ok)
				}
			}
		}
		for _, mV := range []float64{-50, 200, math.NaN(), math.Inf(1)} {
			if got, ok := c.temperature(mV, unit.Celsius(20)); ok {
				t.Errorf("type %c: %g mV is %s", c, mV, got)
			}
		}
	}
}

func TestCouple_letters(t *testing.T) {
	for _, text := range []string{"K", "k", " type S ", "Type n", "R"} {
		if err := new(Couple).UnmarshalText([]byte(text)); err != nil {
			t.Error(err)
		}
	}
	for _, text := range []string{"", "J", "KK", "0", "typ\x1b[2J"} {
		var c Couple
		if c.UnmarshalText([]byte(text)) == nil {
			t.Errorf("%q is %c", text, c)
		}
	}
}
