package program

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

func readSchedule(text string) (Schedule, error) {
	return Read(strings.NewReader(text), "tonight.toml")
}

func TestReadSchedule(t *testing.T) {
	s, err := readSchedule(`
name = "the usual"
from = "1040 °F"
[[segment]]
purpose = "soak"
hold    = "75 min"
[[segment]]
rate = "30 °C/h"
to   = "480 °C"
[[segment]]
rate = "-120 °C/h"
to   = "60 °C"
hold = "1h30m"
[[segment]]
full = true
to   = "100 °C"
`)
	if err != nil {
		t.Fatal(err)
	}
	near := func(a, b float64) bool { return scalar.EqualWithinAbs(a, b, 1e-9) }
	if !near(s.From.Celsius(), 560) || len(s.Segments) != 4 {
		t.Fatalf("%+v", s)
	}
	for i, want := range []struct {
		purpose  Purpose
		rate, to float64
		hold     time.Duration
		full     bool
	}{
		{"soak", 0, 560, 75 * time.Minute, false},
		{"cooling", -30, 480, 0, false},                // the sign follows from the temperatures
		{"cooling", -120, 60, 90 * time.Minute, false}, // or is written
		{"heating", 0, 100, 0 * time.Minute, true},     // as fast as the kiln can, which is not known yet
	} {
		g := s.Segments[i]
		if g.Purpose != want.purpose || !near(g.To.Celsius(), want.to) || g.Hold != want.hold || g.Full != want.full ||
			!near(g.Rate.KelvinPerHour(), want.rate) {
			t.Errorf("segment %d: %+v, want %+v", i+1, g, want)
		}
	}
}

func TestReadSchedule_refusals(t *testing.T) {
	const head = "from = \"560 °C\"\n[[segment]]\n"
	for _, c := range []refusal{
		{"", 0, "from: is missing", `write from = "560 °C"`},
		{"from = 560\n", 1, "from 560: has no unit", `"560 °C"`},
		{"from = \"560 °C\"\n", 0, "no segments", ""},
		{head + "purpose = \"soak\"\n", 2, "a segment without rate or hold", `hold = "75 min"`},
		{head + "hold = 75\n", 3, "hold 75: has no unit", `"75 min"`},
		{head + "hold = \"-5 min\"\n", 3, "hold", ""},
		{head + "rate = \"30 °C/h\"\n", 3, "a rate without the temperature it goes to", `to = "480 °C"`},
		{head + "to = \"480 °C\"\n", 3, "a temperature without the rate that leads there", `rate = "30 °C/h"`},
		{head + "rate = \"30 °C\"\nto = \"480 °C\"\n", 3, "rate 30 °C:", ""},
		{head + "rate = 30\nto = \"480 °C\"\n", 3, "rate 30: has no unit", ""},
		{head + "rate = \"0 °C/h\"\nto = \"480 °C\"\n", 3, "must not be zero", ""},
		{head + "rate = \"-30 °C/h\"\nto = \"600 °C\"\n", 3, "cools, but the segment goes up to", ""},
		{head + "rate = \"30 °C/h\"\nto = \"1800 °C\"\n", 0, "must be from -50 °C to 1500 °C", ""},
		{head + "rate = \"30 °C/h\"\nto = \"-100 °C\"\n", 0, "must be from -50 °C to 1500 °C", ""},
		{head + "rate = \"0.001 °C/h\"\nto = \"20 °C\"\n", 0, "at most 400 are simulated", ""},
		{head + "ramp = 114\nto = \"480 °C\"\n", 3, "ramp 114: has no unit", ""},
		{head + "ramp = \"114 min\"\n", 3, "a ramp without another temperature that it goes to", `ramp = "114 min" and to`},
		{head + "ramp = \"0 min\"\nto = \"480 °C\"\n", 3, "must be above 0", ""},
		{head + "ramp = \"114 min\"\nrate = \"30 °C/h\"\nto = \"480 °C\"\n", 3, "rate is given too", ""},
		{head + "ramp = \"114 min\"\nfull = true\nto = \"480 °C\"\n", 3, "leaves the ramp to the kiln", ""},
		{head + "rate = nan\nto = \"20 °C\"\n", 3, "rate: must be a finite number", ""},
		{head + "hold = inf\n", 3, "hold: must be a finite number", ""},
		{head + "hodl = \"1 h\"\n", 3, "hodl: is not a key", "did you mean hold?"},
		{head + "rate = \"0 °C/h\"\nto = \"560 °C\"\n", 0, "takes no time", ""},
	} {
		_, err := readSchedule(c.text)
		c.check(t, "tonight.toml", err)
	}
}

// drawSchedule draws a program that a controller of the system could hold.
func drawSchedule(t *rapid.T, sys unit.System) Schedule {
	temp := func(name string) unit.Temp {
		n := rapid.IntRange(40, 700).Draw(t, name)
		if sys == unit.US {
			return unit.Fahrenheit(float64(n) * 2)
		}
		return unit.Celsius(float64(n))
	}
	s := Schedule{From: temp("from")}
	at := s.From
	for range rapid.IntRange(1, 8).Draw(t, "segments") {
		seg := Segment{Purpose: Purpose(rapid.String().Draw(t, "purpose")), To: temp("to"), Hold: time.Duration(rapid.IntRange(0, 600).Draw(t, "minutes")) * time.Minute}
		if d := seg.To.Sub(at); d == 0 {
			seg.Hold += time.Minute
		} else {
			r := float64(rapid.IntRange(60, 9000).Draw(t, "rate")) / float64(rapid.SampledFrom([]int{1, 7, 60}).Draw(t, "part"))
			rate := unit.KelvinPerHour(r)
			if sys == unit.US {
				rate = unit.FahrenheitPerHour(r)
			}
			seg.Rate = unit.Rate(math.Copysign(float64(rate), float64(d)))
			seg.Full = rapid.IntRange(0, 9).Draw(t, "full") == 0
		}
		s.Segments = append(s.Segments, seg)
		at = seg.To
	}
	return s
}

// TestWriteSchedule_readsBack: the file that -o writes is the program that was
// verified, to within one part in 10⁸ of a rate that is no whole number.
func TestWriteSchedule_readsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sys := rapid.SampledFrom([]unit.System{unit.Metric, unit.US}).Draw(t, "units")
		s := drawSchedule(t, sys)
		name := rapid.String().Draw(t, "name")
		var buf bytes.Buffer
		if err := WriteFor(&buf, s, name, kiln.Controller{Units: sys}); err != nil {
			t.Fatal(err)
		}
		got, err := Read(bytes.NewReader(buf.Bytes()), "x.toml")
		if err != nil {
			t.Fatalf("%v\n%s", err, buf.String())
		}
		same := func(a, b unit.Temp) bool { return scalar.EqualWithinAbs(a.Kelvin(), b.Kelvin(), 1e-9) }
		if !same(got.From, s.From) || len(got.Segments) != len(s.Segments) {
			t.Fatalf("%+v\nread back as\n%+v\n%s", s, got, buf.String())
		}
		for i, a := range s.Segments {
			b := got.Segments[i]
			if !same(a.To, b.To) || a.Hold != b.Hold || a.Full != b.Full || !scalar.EqualWithinRel(float64(a.Rate), float64(b.Rate), 1e-8) && a.Rate != b.Rate {
				t.Fatalf("segment %d: %+v\nread back as\n%+v\n%s", i+1, a, b, buf.String())
			}
		}
	})
}

// TestSchedule_minutesPerRamp: a controller that takes minutes gets them in the
// file, and the file is the same program.
func TestSchedule_minutesPerRamp(t *testing.T) {
	c := kiln.DefaultController()
	c.Minutes, c.Units = true, unit.US
	minutes, rate := c.RampMinutes(unit.Fahrenheit(1040), unit.Fahrenheit(896), unit.KelvinPerHour(42.3))
	if minutes != 114 {
		t.Fatalf("%d min", minutes)
	}
	s := Schedule{From: unit.Fahrenheit(1040), Segments: []Segment{{Purpose: "slow cooling", Rate: rate, To: unit.Fahrenheit(896)}}}
	var buf bytes.Buffer
	if err := WriteFor(&buf, s, "", c); err != nil {
		t.Fatal(err)
	}
	if text := buf.String(); !strings.Contains(text, "ramp = \"114 min\"\n") || strings.Contains(text, "rate") {
		t.Errorf("wrote\n%s", text)
	}
	back, err := Read(&buf, "x.toml")
	if err != nil {
		t.Fatal(err)
	}
	if seg := back.Segments[0]; !scalar.EqualWithinRel(float64(seg.Rate), float64(rate), 1e-9) || !scalar.EqualWithinAbs(back.As(nil).Total().Minutes(), 114, 1e-6) {
		t.Errorf("read back %+v, %s", seg, back.As(nil).Total())
	}
}

// TestTimeline_nominal: a kiln that obeys follows straight lines.
func TestTimeline_nominal(t *testing.T) {
	const h = 3600.0
	s := Schedule{From: unit.Celsius(20), Segments: []Segment{
		{Rate: unit.KelvinPerHour(270), To: unit.Celsius(560), Hold: time.Hour},
		{Rate: unit.KelvinPerHour(-40), To: unit.Celsius(480)},
		{To: unit.Celsius(480), Hold: 30 * time.Minute},
		{Rate: unit.KelvinPerHour(-100), To: unit.Celsius(30)},
	}}
	tl := s.As(nil)
	for _, c := range []struct{ hours, celsius float64 }{
		{-1, 20}, {0, 20}, {1, 290}, {2, 560}, {2.5, 560}, {3, 560}, {4, 520}, {5, 480}, {5.3, 480}, {5.5, 480}, {7.5, 280}, {10, 30}, {99, 30},
	} {
		if got := tl.At(c.hours*h) - 273.15; !scalar.EqualWithinAbs(got, c.celsius, 1e-6) {
			t.Errorf("%g h: %.6f °C, want %g", c.hours, got, c.celsius)
		}
	}
	if got := tl.Total(); got.Round(time.Second) != 10*time.Hour {
		t.Errorf("takes %s, want 10 h", got)
	}
	for i, want := range [][3]float64{{0, 2, 3}, {3, 5, 5}, {5, 5, 5.5}, {5.5, 10, 10}} {
		sp := tl.Spans[i]
		for j, got := range []float64{sp.Start, sp.RampEnds, sp.End} {
			if !scalar.EqualWithinAbs(got, want[j]*h, 1e-6) {
				t.Errorf("span %d: %+v, want %v h", i+1, sp, want)
			}
		}
		if sp.ByItself || sp.Overshoots {
			t.Errorf("span %d: the kiln obeys, but %+v", i+1, sp)
		}
	}
}

// TestTimeline_kilnThatLags compares with the closed form of natural cooling
// toward a room, T = T₀ + (T₁ − T₀) exp(−t/τ), which the ramp follows from the
// temperature at which the kiln falls as fast as programmed.
func TestTimeline_kilnThatLags(t *testing.T) {
	k := kiln.Default()
	k.Heating, k.HeatingAt = unit.KelvinPerHour(200), nil
	k.Fall = kiln.Fall{TimeConstant: 4 * time.Hour, Room: unit.Celsius(20)}
	s := Schedule{From: unit.Celsius(20), Segments: []Segment{
		{Rate: unit.KelvinPerHour(500), To: unit.Celsius(520)},  // heats at 200: 2.5 h
		{Rate: unit.KelvinPerHour(-75), To: unit.Celsius(60)},   // obeys down to 320 °C
		{Rate: unit.KelvinPerHour(-9000), To: unit.Celsius(40)}, // by itself
	}}
	tl := s.As(&k)
	for i, want := range []float64{
		500.0 / 200,
		200.0/75 + 4*math.Log(300.0/40),
		4 * math.Log(40.0/20),
	} {
		sp := tl.Spans[i]
		if got := (sp.End - sp.Start) / 3600; !scalar.EqualWithinRel(got, want, 1e-6) {
			t.Errorf("segment %d takes %.6f h, want %.6f", i+1, got, want)
		}
		if sp.Overshoots != (i == 0) || sp.ByItself != (i > 0) {
			t.Errorf("segment %d: %+v", i+1, sp)
		}
	}
	// Half way down the exponential, between the knots of a chord.
	at := tl.Spans[1].Start + (200.0/75+4*math.Log(300.0/100))*3600
	if got := tl.At(at) - 273.15; !scalar.EqualWithinAbs(got, 120, 1) {
		t.Errorf("%.2f °C where the exponential is at 120", got)
	}
	// Below the room a program is taken to be obeyed: it takes its time.
	below := Schedule{From: unit.Celsius(24), Segments: []Segment{
		{Rate: unit.KelvinPerHour(-4), To: unit.Celsius(16)},
		{Rate: unit.KelvinPerHour(-400), To: unit.Celsius(0), Full: true},
	}}
	if got := below.As(&k).Total().Hours(); !scalar.EqualWithinAbs(got, 2.04, 1e-6) {
		t.Errorf("below the room: %.4f h, told 2.04", got)
	}
	// No program makes a kiln wait forever.
	cold := Schedule{From: unit.Celsius(520), Segments: []Segment{{Rate: unit.KelvinPerHour(-60), To: unit.Celsius(10)}}}
	if got := cold.As(&k).Total(); got < 8*time.Hour || got > 72*time.Hour {
		t.Errorf("down to below the room in %s", got)
	}
}

// TestTimeline_neverFaster: a kiln is never ahead of what it is told.
func TestTimeline_neverFaster(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSchedule(t, unit.Metric)
		for i := range s.Segments {
			s.Segments[i].Full = false
		}
		k := kiln.Default()
		k.Fall.TimeConstant = time.Duration(rapid.IntRange(10, 900).Draw(t, "τ min")) * time.Minute
		nominal, actual := s.As(nil), s.As(&k)
		for i := range nominal.Spans {
			a, b := nominal.Spans[i], actual.Spans[i]
			if b.RampEnds-b.Start < (a.RampEnds-a.Start)*(1-1e-9)-1e-6 {
				t.Fatalf("segment %d: the kiln takes %g s for a ramp of %g s", i+1, b.RampEnds-b.Start, a.RampEnds-a.Start)
			}
			if !scalar.EqualWithinAbs(b.End-b.RampEnds, a.End-a.RampEnds, 1e-6) {
				t.Fatalf("segment %d: the hold changed", i+1)
			}
		}
		if x := actual.Total().Hours(); math.IsInf(x, 0) || math.IsNaN(x) || x < 0 {
			t.Fatalf("total %v h", x)
		}
	})
}

func FuzzSchedule(f *testing.F) {
	f.Add("from = \"560 °C\"\n[[segment]]\npurpose = \"soak\"\nhold = \"75 min\"\n[[segment]]\nrate = \"30 °C/h\"\nto = \"480 °C\"\n[[segment]]\nfull = true\nto = \"40 °C\"\n")
	f.Add("from = \"1000 °F\"\n[[segment]]\nrate = \"1 °F/h\"\nto = \"1000 °F\"\n[[segment]]\noff = true\nto = \"100 °F\"\n")
	f.Add("from = \"0 K\"\n[[segment]]\nhold = \"1:30\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := readSchedule(text)
		if err != nil {
			checkMessage(t, text, err)
			return
		}
		k := kiln.Default()
		for _, tl := range []Timeline{s.As(nil), s.As(&k)} {
			// A kiln that starts colder than its room has nothing to fall.
			if h := tl.Total().Hours(); !(h >= 0) || h > 1e5 {
				t.Fatalf("%q: takes %g h", text, h)
			}
		}
		var buf bytes.Buffer
		if err := WriteFor(&buf, s, "x", kiln.Controller{Units: unit.US}); err != nil {
			t.Fatal(err)
		}
		again, err := Read(&buf, "again.toml")
		if err != nil || len(again.Segments) != len(s.Segments) {
			t.Fatalf("%q: written and read again: %v", text, err)
		}
	})
}
