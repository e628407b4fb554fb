package kiln

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/glass/unit"
)

func TestCurve(t *testing.T) {
	c := mustCurve([]Reading{{unit.Celsius(560), -time.Hour}, {unit.Celsius(560), 0}, {unit.Celsius(460), time.Hour}, {unit.Celsius(60), 3 * time.Hour}})
	for _, row := range []struct {
		at   time.Duration
		want float64
	}{{-2 * time.Hour, 560}, {-time.Hour, 560}, {0, 560}, {30 * time.Minute, 510}, {time.Hour, 460}, {2 * time.Hour, 260}, {9 * time.Hour, 60}} {
		if got := c.Temp(row.at).Celsius(); math.Abs(got-row.want) > 1e-9 {
			t.Errorf("at %v: %g °C, want %g", row.at, got, row.want)
		}
	}
	if k := c.Kinks(); len(k) != 2 || k[0] != 3600 || k[1] != 10800 {
		t.Error(k)
	}
	f := c.From(30 * time.Minute)
	if f.Start() != 0 || f.End() != 150*time.Minute || math.Abs(f.At(0)-unit.Celsius(510).Kelvin()) > 1e-9 || math.Abs(f.At(5400)-c.At(7200)) > 1e-9 {
		t.Error(f.points)
	}
	next := mustCurve([]Reading{{unit.Celsius(100), 0}, {unit.Celsius(20), time.Hour}})
	if j := c.Then(next); j.End() != 4*time.Hour || math.Abs(j.Temp(3*time.Hour+time.Second).Celsius()-100) > 1e-9 || len(j.points) != 6 {
		t.Error(j.points)
	}
	for _, bad := range [][]Reading{nil, {{unit.Celsius(1), 0}}, {{unit.Celsius(1), 0}, {unit.Celsius(1), 0}}, {{unit.Temp{}, 0}, {unit.Celsius(1), 1}},
		{{unit.Kelvin(math.NaN()), 0}, {unit.Celsius(1), 1}}} {
		if _, err := NewCurve(bad); err == nil {
			t.Errorf("accepted %v", bad)
		}
	}
}

// A thinned curve stays within its tolerance everywhere, ends where it did, and
// straight lines cost two points.
func TestCurve_thin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 200).Draw(t, "points")
		tol := rapid.Float64Range(0, 5).Draw(t, "tolerance")
		at, x := time.Duration(0), 500.0
		var points []Reading
		for range n {
			at += time.Duration(rapid.IntRange(1, 600).Draw(t, "step")) * time.Second
			x += rapid.Float64Range(-4, 4).Draw(t, "rise")
			points = append(points, Reading{unit.Celsius(x), at})
		}
		c := mustCurve(points)
		thin := c.Thin(unit.Delta(tol))
		if thin.Start() != c.Start() || thin.End() != c.End() || len(thin.points) > n {
			t.Fatal(thin.points)
		}
		for i, s := range c.seconds {
			if d := math.Abs(thin.At(s) - c.kelvin[i]); d > tol+1e-9 {
				t.Fatalf("off by %g K, more than %g", d, tol)
			}
		}
	})
	var line []Reading
	for i := range 1000 {
		line = append(line, Reading{unit.Celsius(560 - float64(i)/10), time.Duration(i) * time.Minute})
	}
	if thin := mustCurve(line).Thin(0.01); len(thin.points) != 2 {
		t.Errorf("a straight line keeps %d points", len(thin.points))
	}
}

func TestFall_curve(t *testing.T) {
	for _, f := range []Fall{{TimeConstant: time.Hour, Room: unit.Celsius(20)}, {TimeConstant: 4 * time.Hour, Room: unit.Celsius(25), Power: 1.4}} {
		from := unit.Celsius(560)
		c := f.Curve(from, 12*time.Hour)
		for m := range 12 * 60 {
			at := time.Duration(m) * time.Minute
			if d := float64(c.Temp(at).Sub(f.After(from, at))); math.Abs(d) > 0.6 {
				t.Fatalf("%v: off by %g K", at, d)
			}
		}
		if len(c.points) > 200 {
			t.Errorf("%d points", len(c.points))
		}
		// The way back: the time to get there.
		to := f.After(from, 3*time.Hour)
		if s := f.Time(from, to, unit.Rate(math.Inf(1))); math.Abs(s-3*3600) > 1e-3 {
			t.Errorf("%g s, want 3 h", s)
		}
	}
}
