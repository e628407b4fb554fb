package cost

import (
	"math"
	"strings"
	"testing"

	"lehr/glass/unit"
)

func TestReadLog(t *testing.T) {
	for text, want := range map[string]float64{
		"time,power_W\n2026-11-25T20:00:00Z,1800\n2026-11-25T22:00:00Z,600\n2026-11-26T00:00:00Z,0\n": 4.8,
		"\ufefftime_h;power [kW]\r\n0;1.8\r\n2;0.6\r\n4;0\r\n":                                        4.8,
		"time_min,duty_%\n0,100\n120,50\n240,0\n":                                                     5.4,
		"s,note,W\n0,x,3600\n1000,y,0\n":                                                              1,
	} {
		l, err := ReadLog(strings.NewReader(text), "x.csv", 1800)
		if err != nil || math.Abs(KWh(l.Steps)-want) > 1e-9 {
			t.Errorf("%q: got %g, %v, want %g", text, KWh(l.Steps), err, want)
		}
	}
	l, err := ReadLog(strings.NewReader("time,W\n2026-11-25T20:15:00-05:00,1800\n2026-11-25T22:00:00-05:00,600\n"), "x", 0)
	if err != nil || !l.Timed || l.Start != unit.Clock(20*60+15) || l.Seconds() != 6300 || l.Greatest != 1800 {
		t.Errorf("%+v, %v", l, err)
	}
	for want, text := range map[string]string{
		"no heading":            "",
		"names no time and":     "a,b\n1,2\n",
		"two columns of power":  "time_h,W,kW\n",
		"two columns of time":   "time_h,time_min,W\n",
		"has not two readings":  "time_h,W\n0,1\n",
		"x.csv:3: the time":     "time_h,W\n1,1\n1,2\n",
		"x.csv:2: 5 pm":         "time,W\n5 pm,1\n",
		"is no power":           "time_h,W\n0,---\n",
		"not as many fields":    "time_h,W\n0\n",
		"x.csv:2: is no CSV":    "time,%\n0000\"0",
		"more than a week":      "time_h,W\n0,1\n1e9,1\n",
		"is more than 100":      "time_h,duty_%\n0,1800\n",
		"x.csv:2: NaN: is no t": "time_h,W\nNaN,1\n",
	} {
		if l, err := ReadLog(strings.NewReader(text), "x.csv", 1500); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %+v, %v, want %q", text, l, err, want)
		}
	}
	if _, err := ReadLog(strings.NewReader("time_h,duty_%\n0,1\n"), "x.csv", 0); err == nil || !strings.Contains(err.Error(), "not given") {
		t.Error(err)
	}
}
