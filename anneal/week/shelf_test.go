package week

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lehr/glass/unit"
)

// lay puts n circles in offset rows and returns their centers.
func lay(f Foot, width, gap unit.Length, n int) (x, y []float64) {
	pitch := float64(f.Across + gap)
	a := f.row(width, gap)
	b := a - 1
	if (float64(a)+0.5)*pitch <= float64(width+gap)+hair {
		b = a
	}
	for row := 0; len(x) < n; row++ {
		in, shift := a, 0.0
		if row%2 == 1 {
			in, shift = b, pitch/2
		}
		for i := 0; i < in && len(x) < n; i++ {
			x = append(x, shift+(float64(i)+0.5)*pitch)
			y = append(y, pitch/2+float64(row)*pitch*math.Sqrt(3)/2)
		}
	}
	return x, y
}

// What is said to fit does: no two circles nearer than the gap, none beyond
// the edge.
func TestOffsetRows_laid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := unit.Length(rapid.Float64Range(20, 120).Draw(t, "d")) * mm
		gap := unit.Length(rapid.Float64Range(0, 30).Draw(t, "gap")) * mm
		width := unit.Length(rapid.Float64Range(130, 500).Draw(t, "width")) * mm
		n := rapid.IntRange(1, 40).Draw(t, "n")
		f := Foot{Across: d, Along: d, Round: true}
		deep := offsetRows(f, width, gap, n)
		if f.row(width, gap) < 2 {
			return
		}
		x, y := lay(f, width, gap, n)
		pitch := float64(d + gap)
		for i := range x {
			// Each circle owns half a gap around it; the last gap hangs over the edge.
			if x[i]+pitch/2 > float64(width+gap)+1e-6 || y[i]+pitch/2 > deep+1e-6 {
				t.Fatalf("circle %d at %g %g leaves the shelf of %g × %g", i, x[i], y[i], float64(width), deep)
			}
			for j := range i {
				if math.Hypot(x[i]-x[j], y[i]-y[j]) < pitch-1e-6 {
					t.Fatalf("circles %d and %d are too near", i, j)
				}
			}
		}
	})
}

func TestBand_rectangles(t *testing.T) {
	// Rods 10 × 200 mm, gap 10 mm, on 300 mm: 15 side by side, one row.
	f := Foot{Across: 10 * mm, Along: 200 * mm}
	if got := f.band(300*mm, 10*mm, 15); math.Abs(got-0.210) > 1e-9 {
		t.Errorf("got %g", got)
	}
	// One lies across: 200 of 300 mm, 20 mm deep.
	if got := f.band(300*mm, 10*mm, 1); math.Abs(got-0.020) > 1e-9 {
		t.Errorf("got %g", got)
	}
	if got := f.band(300*mm, 10*mm, 0); got != 0 {
		t.Errorf("got %g", got)
	}
	if got := f.band(5*mm, 0, 1); !math.IsInf(got, 1) {
		t.Errorf("got %g", got)
	}
}

// More pieces never take less.
func TestBand_monotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := Foot{Across: unit.Length(rapid.Float64Range(10, 90).Draw(t, "across")) * mm, Along: unit.Length(rapid.Float64Range(10, 90).Draw(t, "along")) * mm, Round: rapid.Bool().Draw(t, "round")}
		if f.Round {
			f.Along = f.Across
		}
		last := 0.0
		for n := 1; n < 30; n++ {
			d := f.band(200*mm, 10*mm, n)
			if d < last {
				t.Fatalf("%d take %g, one fewer %g", n, d, last)
			}
			last = d
		}
	})
}

// TestFits_toAHair: pieces that fill a shelf to its edge lie on it, however their sizes
// are rounded: 31, 49 and 50 mm with 10 mm between them on 150 mm.
func TestFits_toAHair(t *testing.T) {
	kinds := []Kind{ball(31, 1), ball(49, 1), ball(50, 1)}
	for _, c := range []struct {
		wide float64
		fits bool
	}{{150, true}, {149.9, false}, {151, true}} {
		free, ok := fits(kinds, []int{1, 1, 1}, shelf("a", 60, c.wide, 9), 10*mm)
		if ok != c.fits || free < 0 || free > 0.01 {
			t.Errorf("on %g mm: %v, free %g", c.wide, ok, free)
		}
	}
}
