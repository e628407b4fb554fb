package kilnlog

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// The rate through the setting range and the soak come out of noise as they
// went in, with an error that covers the miss.
func TestThroughAndAbove(t *testing.T) {
	l := read(t, logged(night(t), time.Minute, 1, 1, 5), Options{})
	p, ok := l.Through(unit.Celsius(540), unit.Celsius(470))
	if !ok {
		t.Fatal("not through")
	}
	if miss := math.Abs(p.Rate.Rate.KelvinPerHour() + 60); miss > 0.5 || miss > 4*p.Rate.Error.KelvinPerHour() {
		t.Errorf("rate %v ± %v", p.Rate.Rate, p.Rate.Error)
	}
	if got := p.Fastest.Rate.KelvinPerHour(); got > -60 || got < -64 {
		t.Errorf("fastest %v", p.Fastest.Rate)
	}
	if d := p.To - p.From; d < 68*time.Minute || d > 76*time.Minute || p.Gap != time.Minute {
		t.Errorf("took %v, gap %v", d, p.Gap)
	}
	if _, ok := l.Through(unit.Celsius(700), unit.Celsius(470)); ok {
		t.Error("through 700 °C")
	}
	s, ok := l.Above(unit.Celsius(555))
	if !ok || math.Abs(s.Mean.Celsius()-559.8) > 0.6 || s.Total < 60*time.Minute || s.Total > 68*time.Minute {
		t.Errorf("%+v", s)
	}
	if _, ok := l.Above(unit.Celsius(600)); ok {
		t.Error("above 600 °C")
	}
}

// A dip of an opened kiln neither ends the soak nor is smoothed away.
func TestOpenedKiln(t *testing.T) {
	var b strings.Builder
	b.WriteString("min,temp_C\n")
	dip := map[int]float64{40: 70, 41: 45, 42: 20, 43: 8, 44: 3}
	for m := range 120 {
		fmt.Fprintf(&b, "%d,%.0f\n", m, 560-dip[m]+float64(m%3)-1)
	}
	l := read(t, b.String(), Options{})
	c, err := l.Curve()
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Temp(40 * time.Minute).Celsius(); math.Abs(got-490) > 1.5 {
		t.Errorf("the dip to 490 °C became %.1f", got)
	}
	if got := c.Temp(20 * time.Minute).Celsius(); math.Abs(got-560) > 0.5 {
		t.Errorf("the hold became %.1f", got)
	}
	s, ok := l.Above(unit.Celsius(550))
	if !ok || s.To-s.From != 119*time.Minute || s.Total > 117*time.Minute {
		t.Errorf("%+v", s)
	}
}

func program(t testing.TB, points ...float64) kiln.Curve {
	t.Helper()
	var r []kiln.Reading
	for i := 0; i < len(points); i += 2 {
		r = append(r, kiln.Reading{At: unit.Celsius(points[i+1]), Time: time.Duration(points[i] * float64(time.Minute))})
	}
	c, err := kiln.NewCurve(r)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// A log that began 25 minutes before the program is aligned by the first ramp;
// where the kiln then cannot follow is found.
func TestCompare(t *testing.T) {
	nominal := program(t, 0, 560, 60, 560, 170, 450, 200, 350, 260, 50)
	fall := kiln.Fall{TimeConstant: 150 * time.Minute, Room: unit.Celsius(20)}
	began := program(t, -25, 560, 60, 560, 170, 450, 200, 350)
	did := began.Then(fall.Curve(unit.Celsius(350), hours(4)))
	l := read(t, logged(did, time.Minute, 1, 1, 3), Options{})
	f := l.Compare(nominal, 5)
	if !f.Aligned || math.Abs(f.Shift.Minutes()-25) > 1 {
		t.Errorf("shift %v", f.Shift)
	}
	if f.Left.Nominal.IsZero() || f.Left.At < 224*time.Minute || f.Left.At > 230*time.Minute {
		t.Errorf("left at %v: %v told %v", f.Left.At, f.Left.Read, f.Left.Nominal)
	}
	if by := f.Hottest.By(); by < 150 || by > 250 {
		t.Errorf("hottest by %v", by)
	}
	if f.Coldest.By() < -4 || f.Under > 3*time.Minute || f.Over < 50*time.Minute {
		t.Errorf("coldest by %v, over %v, under %v", f.Coldest.By(), f.Over, f.Under)
	}
	if n := len(f.Arrivals); n != 3 {
		t.Fatal(f.Arrivals)
	}
	for i, want := range []bool{true, true, false} {
		a := f.Arrivals[i]
		if a.Reached != want || want && math.Abs(a.Late.Minutes()) > 2 {
			t.Errorf("arrival %d: %+v", i, a)
		}
	}
	if f.OtherScale != NoUnit {
		t.Error(f.OtherScale)
	}
	if !f.Behind.Nominal.IsZero() { // this program only falls
		t.Errorf("behind by %v", f.Behind.By())
	}
	// A kiln that follows a ramp of 200 °C/h with a time constant of 6 min lags
	// 20 K behind it, less while it starts.
	up := program(t, 0, 50, 150, 550, 210, 550)
	var lags []float64
	for m := 0.0; m <= 150; m += 10 {
		lags = append(lags, m, 50+m/60*200-20*(1-math.Exp(-m/6)))
	}
	for m := 2.0; m <= 40; m += 2 {
		lags = append(lags, 150+m, 550-20*math.Exp(-m/6))
	}
	f = read(t, logged(program(t, lags...), time.Minute, 1, 1, 3), Options{}).Compare(up, 0)
	// A steady lag on the first ramp looks like a start 6 min late; what is left of
	// it then is 20 K/e, at the end of the ramp.
	if math.Abs(f.Shift.Minutes()-6) > 0.5 || math.Abs(float64(f.Behind.By())+20/math.E) > 1.5 { // read in whole degrees
		t.Errorf("behind by %v after a shift of %s", f.Behind.By(), f.Shift)
	}
	// A program without a ramp begins with the log.
	if f := l.Compare(program(t, 0, 560, 60, 560), 5); f.Aligned || f.Shift != 0 || !f.Left.Nominal.IsZero() {
		t.Errorf("%+v", f)
	}
}

// 1040 °C beside a program of 560 °C: the log is most likely in °F, and the
// person is asked.
func TestCompare_otherScale(t *testing.T) {
	nominal := program(t, 0, 560, 60, 560, 170, 450)
	l := read(t, "time,temp_C\n2026-11-25T22:15:00Z,1040\n2026-11-25T22:16:00Z,1038\n", Options{})
	if f := l.Compare(nominal, 0); f.OtherScale != Fahrenheit {
		t.Error(f.OtherScale)
	}
	l = read(t, "time,temp_F\n2026-11-25T22:15:00Z,560\n2026-11-25T22:16:00Z,558\n", Options{})
	if f := l.Compare(nominal, 0); f.OtherScale != Celsius {
		t.Error(f.OtherScale)
	}
	l = read(t, "time,temp_C\n2026-11-25T22:15:00Z,700\n2026-11-25T22:16:00Z,700\n", Options{})
	if f := l.Compare(nominal, 0); f.OtherScale != NoUnit {
		t.Error(f.OtherScale)
	}
}

// The time constant comes out of the natural fall at the end of a noisy night,
// within its spread, and in lines that the studio file reads.
func TestFall(t *testing.T) {
	for seed := range uint64(5) {
		l := read(t, logged(night(t), 5*time.Minute, 1, 1, seed), Options{})
		n, err := l.Fall(unit.Celsius(20), unit.Temp{})
		if err != nil {
			t.Fatal(err)
		}
		miss := math.Abs(n.Fall.TimeConstant.Minutes() - 150)
		if miss > 5 || miss > 4*n.Error.Minutes() || n.Error > 8*time.Minute {
			t.Errorf("τ %v ± %v", n.Fall.TimeConstant, n.Error)
		}
		if at := n.From.At.Celsius(); at < 290 || at > 400 { // the ramp above 350 °C is as steep as the fall there
			t.Errorf("the fall begins at %.0f °C", at)
		}
		t.Log(n.Fall.TimeConstant.Round(time.Second), n.Error.Round(time.Second), n.From.At, n.Fall.RMS, n.StudioLines())
	}
	// A kiln that falls faster while hot is given by points.
	bent := kiln.Fall{TimeConstant: 2 * time.Hour, Room: unit.Celsius(20), Power: 1.6}
	l := read(t, logged(bent.Curve(unit.Celsius(560), hours(12)), time.Minute, 0.5, 0.1, 1), Options{})
	n, err := l.Fall(unit.Celsius(20), unit.Temp{})
	if err != nil || n.Fall.Power < 1.3 {
		t.Fatalf("%+v %v", n, err)
	}
	lines := n.StudioLines()
	text := strings.TrimSuffix(strings.TrimPrefix(lines[0], `cooling_points = "`), `"`)
	points, err := kiln.ParseReadings(text)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	if f, err := kiln.FitFall(points, unit.Celsius(20)); err != nil || math.Abs(f.TimeConstant.Minutes()-120) > 12 {
		t.Errorf("read back as %v, %v", f.TimeConstant, err)
	}
	t.Log(lines)
	// Opened at 80 °C: what comes after says nothing of the kiln.
	whole := night(t)
	var kept []kiln.Reading
	for _, p := range whole.Points() {
		if p.At.Celsius() > 82 {
			kept = append(kept, p)
		}
	}
	last := kept[len(kept)-1].Time
	opened, err := kiln.NewCurve(append(kept, kiln.Reading{At: unit.Celsius(35), Time: last + 10*time.Minute}, kiln.Reading{At: unit.Celsius(25), Time: last + time.Hour}))
	if err != nil {
		t.Fatal(err)
	}
	n, err = read(t, logged(opened, time.Minute, 1, 1, 2), Options{}).Fall(unit.Celsius(20), unit.Celsius(85))
	if err != nil || math.Abs(n.Fall.TimeConstant.Minutes()-150) > 5 {
		t.Errorf("τ %v, %v", n.Fall.TimeConstant, err)
	}
	// A ramp to the end is no fall, nor is a hold.
	for _, c := range []kiln.Curve{program(t, 0, 560, 300, 60), program(t, 0, 560, 60, 560, 600, 350), program(t, 0, 560, 600, 560), program(t, 0, 20, 600, 560)} {
		l := read(t, logged(c, time.Minute, 1, 1, 1), Options{})
		n, err := l.Fall(unit.Celsius(20), unit.Temp{})
		var none *NoFallError
		if !errors.As(err, &none) {
			t.Errorf("a program to %v: %v, %v", c.Points()[len(c.Points())-1].At, n.Fall.TimeConstant, err)
		}
	}
}
