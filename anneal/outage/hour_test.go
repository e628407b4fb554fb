package outage

import (
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/program"
	"lehr/glass/unit"
)

// TestHourOf: an hour and a half at 560 °C, 60 °C/h to 450 °C, which is 1 h 50 min,
// and on in a kiln with a time constant of 2 h: 3 h 20 min after the start it reads
// 450 °C, and so long later by the exponential that its owner measured.
func TestHourOf(t *testing.T) {
	c := night(t, 560, 400, "sphere 1in")
	st := c.Nights[0].Studio
	for _, x := range []struct {
		ran           time.Duration
		reads, read   float64
		doubts, ended bool
	}{
		{30 * time.Minute, 560, 560, false, false},
		{2 * time.Hour, 530, 530, false, false},
		{2 * time.Hour, 530, 520, false, false},
		{2 * time.Hour, 530, 560, true, false},
		{200 * time.Minute, 450, 450, false, false},
		{200 * time.Minute, 450, 560, true, false},
		{23 * time.Hour, 40, 450, true, true},
		{23 * time.Hour, 40, 40, false, true},
	} {
		h := HourOf(c.Program, st, x.ran, unit.Celsius(x.read))
		if d := h.Reads.Celsius() - x.reads; d > 0.5 || d < -0.5 || h.Doubts(unit.Celsius(x.read), 0) != x.doubts || h.Over() != x.ended {
			t.Errorf("after %s: reads %s, doubts %v of %v °C, ended %v", x.ran, h.Reads, h.Doubts(unit.Celsius(x.read), 0), x.read, h.Over())
		}
	}
	cold := program.Schedule{From: unit.Celsius(20), Segments: []program.Segment{{Purpose: program.PurposeSoak, To: unit.Celsius(560), Rate: unit.KelvinPerHour(200), Hold: time.Hour}}}
	if h := HourOf(cold, st, time.Hour, unit.Celsius(150)); h.Doubts(unit.Celsius(150), 0) || !h.Doubts(unit.Celsius(300), 0) {
		t.Error("on its way up a kiln may lag behind 220 °C, and is no hotter")
	}
	if h := HourOf(c.Program, st, 2*time.Hour, unit.Celsius(560)); h.Doubts(unit.Celsius(560), 20) {
		t.Error("a probe that may be 20 K off is doubted")
	}
}

// TestHourOf_days: 10 °C/h from 560 to 160 °C lasts 40 h, and 260 °C at 6 o'clock
// is that of the second day.
func TestHourOf_days(t *testing.T) {
	st := kiln.DefaultStudio()
	s := program.Schedule{From: unit.Celsius(560), Segments: []program.Segment{{Purpose: program.PurposeSlow, To: unit.Celsius(160), Rate: unit.KelvinPerHour(-10)}}}
	for _, x := range []struct{ reading, ran float64 }{{500, 6}, {260, 30}} {
		if h := HourOf(s, st, 6*time.Hour, unit.Celsius(x.reading)); h.Ran.Hours() != x.ran || h.Doubts(unit.Celsius(x.reading), 0) {
			t.Errorf("%v °C: ran %s", x.reading, h.Ran)
		}
	}
}
