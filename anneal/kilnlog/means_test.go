package kilnlog

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

// quick logs a kiln four times a second, with bell-shaped noise.
func quick(hours, noise float64, at func(s float64) float64) string {
	rnd := rand.New(rand.NewPCG(1, 7))
	var b strings.Builder
	b.WriteString("s,temp_C\n")
	for i := range int(hours * 4 * 3600) {
		s := float64(i) / 4
		fmt.Fprintf(&b, "%.2f,%.2f\n", s, at(s)+noise*rnd.NormFloat64())
	}
	return b.String()
}

// TestRead_quickMeans: a log of four readings a second becomes a curve of as few
// points as the kiln has bends, which keeps to the kiln, and a dip of ten seconds
// stands as deep as it was.
func TestRead_quickMeans(t *testing.T) {
	const noise = 0.7
	kilnAt := func(s float64) float64 { // two hours held, then 60 °C/h
		return 560 - math.Max(0, s-7200)/60
	}
	l := read(t, quick(5, noise, kilnAt), Options{})
	if n := len(l.Readings); l.Account.Means != 10*time.Second || n != 1802 || l.Account.Kept() != 72000 || l.Account.Interval != 250*time.Millisecond {
		t.Errorf("%d readings, %d kept, one every %v, means of %v", n, l.Account.Kept(), l.Account.Interval, l.Account.Means)
	}
	if l.Readings[0].Time != 0 || l.Length() != 5*time.Hour-250*time.Millisecond {
		t.Errorf("from %v to %v", l.Readings[0].Time, l.Length())
	}
	c, err := l.Curve()
	if err != nil {
		t.Fatal(err)
	}
	if n := len(c.Points()); n > 100 {
		t.Errorf("%d points", n)
	}
	for s := 0.0; s < 5*3600-1; s += 60 {
		if off := c.Temp(time.Duration(s*1e9)).Celsius() - kilnAt(s); math.Abs(off) > 0.5 {
			t.Errorf("at %.0f s: %.2f K off", s, off)
		}
	}
	for _, from := range []float64{5000, 5003, 5008} { // wherever it falls among the means
		door := func(s float64) float64 {
			return kilnAt(s) - 50*math.Max(0, 1-math.Abs(s-from-5)/5)
		}
		l := read(t, quick(2, noise, door), Options{})
		c, err := l.Curve()
		if err != nil {
			t.Fatal(err)
		}
		if got := c.Temp(time.Duration((from + 5) * 1e9)).Celsius(); math.Abs(got-510) > 4 {
			t.Errorf("a dip to 510 °C at %.0f s became %.1f", from+5, got)
		}
	}
}

// TestRead_slowAsItIs: a log of a reading every 10 s or slower is not thinned.
func TestRead_slowAsItIs(t *testing.T) {
	for _, every := range []time.Duration{10 * time.Second, time.Minute} {
		l := read(t, logged(night(t), every, 1, 0, 1), Options{})
		if len(l.Readings) != l.Account.Kept() || l.Account.Means != 0 {
			t.Errorf("every %v: %d of %d readings, means of %v", every, len(l.Readings), l.Account.Kept(), l.Account.Means)
		}
	}
}

// TestRead_carriageReturns: lines that end in a carriage return alone are lines.
func TestRead_carriageReturns(t *testing.T) {
	text := logged(night(t), time.Minute, 1, 1, 1)
	want := read(t, text, Options{})
	got := read(t, strings.ReplaceAll(text, "\n", "\r"), Options{})
	if len(got.Readings) != len(want.Readings) || got.Account.Lines != want.Account.Lines {
		t.Fatalf("%d readings in %d lines, want %d in %d", len(got.Readings), got.Account.Lines, len(want.Readings), want.Account.Lines)
	}
	for i, r := range got.Readings {
		if r != want.Readings[i] {
			t.Fatalf("reading %d: %v, want %v", i, r, want.Readings[i])
		}
	}
}
