package kilnlog

import (
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// without leaves the lines of a log out from one minute to another.
func without(text string, from, to int) string {
	lines := strings.SplitAfter(text, "\n")
	return strings.Join(lines[:from+1], "") + strings.Join(lines[to+1:], "")
}

// An even gap on one ramp changes nothing; across the bend of the program the
// ways through it differ, enclose the truth, and the verdict is withheld.
func TestCurveBy_gaps(t *testing.T) {
	k := kiln.Default()
	k.Fall = kiln.Fall{TimeConstant: 150 * time.Minute, Room: unit.Celsius(20)}
	whole := logged(night(t), time.Minute, 0.5, 1, 1)
	size := 63.5 * unit.Millimeter
	wantPeak, wantLeft := sphere(t, size, night(t))

	l := read(t, without(whole, 80, 120), Options{}) // on the slow ramp
	if l.Account.GapCount != 1 || len(l.Decisive()) != 0 {
		t.Errorf("%+v, decisive %v", l.Account.Gaps, l.Decisive())
	}
	c, err := l.CurveBy(Even, k)
	if err != nil {
		t.Fatal(err)
	}
	if peak, left := sphere(t, size, c); math.Abs(peak/wantPeak-1) > 0.03 || math.Abs(left/wantLeft-1) > 0.01 {
		t.Errorf("even gap: %.3f and %.3f of the truth", peak/wantPeak, left/wantLeft)
	}

	// As long, but with the end of the soak within.
	if l := read(t, without(whole, 42, 82), Options{}); len(l.Decisive()) != 1 {
		t.Error("a gap of 40 min across a change of rate decides nothing")
	}

	l = read(t, without(whole, 30, 110), Options{}) // across the end of the soak
	if len(l.Decisive()) != 1 {
		t.Error("a gap across the end of the soak decides nothing")
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, way := range Ways {
		c, err := l.CurveBy(way, k)
		if err != nil {
			t.Fatal(err)
		}
		even, _ := l.CurveBy(Even, k)
		// Shortly before the end of the gap it was still hot, or already cold.
		if d := float64(c.Temp(90 * time.Minute).Sub(even.Temp(90 * time.Minute))); way == HeldThenFell && d < 5 || way == FellThenHeated && d > -5 {
			t.Errorf("way %d: %+.1f K beside the even one", way, d)
		}
		_, left := sphere(t, size, c)
		low, high = math.Min(low, left), math.Max(high, left)
		t.Logf("way %d: left %.3f MPa (truth %.3f)", way, left/1e6, wantLeft/1e6)
	}
	if !(low < wantLeft && wantLeft < high) {
		t.Errorf("%.3f to %.3f MPa do not enclose %.3f", low/1e6, high/1e6, wantLeft/1e6)
	}
	// The kiln was without power and heated again: the curve goes below both ends.
	l = read(t, "min,temp_C\n0,560\n1,560\n2,560\n3,560\n123,560\n124,560\n", Options{})
	c, err = l.CurveBy(FellThenHeated, k)
	if err != nil {
		t.Fatal(err)
	}
	if least := leastOf(c); least.Celsius() > 400 || least.Celsius() < 250 {
		t.Errorf("fell to %v", least)
	}
	if got := c.Temp(123 * time.Minute); math.Abs(got.Celsius()-560) > 1e-6 {
		t.Error(got)
	}
	for i, p := range c.Points() { // never faster than the kiln can
		if i > 0 {
			q := c.Points()[i-1]
			if rate := float64(p.At.Sub(q.At)) / (p.Time - q.Time).Seconds() * 3600; rate > 401 || rate < -220 {
				t.Errorf("%.0f °C/h at %v", rate, p.Time)
			}
		}
	}
}

func leastOf(c kiln.Curve) unit.Temp {
	least := unit.Celsius(5000)
	for _, p := range c.Points() {
		if p.At.Less(least) {
			least = p.At
		}
	}
	return least
}

// A year of nights, one reading a minute, is cut into its nights and replayed
// with a large sphere in each; without LEHR_LONG=1 in every thirtieth.
func TestNights_year(t *testing.T) {
	start := time.Now()
	l, err := Read(&yearLog{end: 365 * 1440}, "year.csv", Options{})
	if err != nil {
		t.Fatal(err)
	}
	nights := l.Nights(unit.Celsius(100))
	if len(nights) != 365 {
		t.Fatalf("%d nights", len(nights))
	}
	first := -1.0
	for i, n := range nights {
		c, err := n.Curve()
		if err != nil {
			t.Fatal(err)
		}
		if i%30 > 1 && os.Getenv("LEHR_LONG") != "1" {
			continue
		}
		_, left := sphere(t, 63.5*unit.Millimeter, c)
		if first < 0 && i > 0 {
			first = left
		}
		if i > 0 && i < 364 && math.Abs(left/first-1) > 1e-3 {
			t.Fatalf("night %d: left %.4f MPa, night 1 %.4f", i, left/1e6, first/1e6)
		}
	}
	took := time.Since(start)
	t.Logf("%d nights in %v", len(nights), took.Round(time.Millisecond))
	if took > 60*time.Second {
		t.Errorf("took %v", took)
	}
}
