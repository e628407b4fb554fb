package notebook

import (
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/optimize"
	"pgregory.net/rapid"
)

// The factor is where the weighted squares are least, as a general minimizer
// finds it, and its error where they are one more.
func TestFactor_least(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pairs []Pair
		for range rapid.IntRange(1, 8).Draw(t, "n") {
			p := rapid.Float64Range(10, 200).Draw(t, "p")
			pairs = append(pairs, Pair{p, p * rapid.Float64Range(0.9, 1.1).Draw(t, "m"), rapid.Float64Range(20, 40).Draw(t, "s")})
		}
		χ2 := func(f float64) (sum float64) {
			for _, x := range pairs {
				d := (x.Measured - f*x.Predicted) / x.Error
				sum += d * d
			}
			return sum
		}
		f, se, err := Factor(pairs)
		if err != nil {
			t.Fatal(err)
		}
		best, err := optimize.Minimize(optimize.Problem{Func: func(x []float64) float64 { return χ2(x[0]) }}, []float64{0.5}, nil, &optimize.NelderMead{})
		if err != nil || math.Abs(best.X[0]-f) > 1e-4 {
			t.Errorf("factor %g, least at %v, %v", f, best, err)
		}
		if math.Abs(χ2(f+se)-χ2(f)-1) > 1e-6 {
			t.Errorf("error %g: the squares grow by %g", se, χ2(f+se)-χ2(f))
		}
	})
}

func TestFactor_scatter(t *testing.T) {
	// Two pieces that cannot both be right: the error grows to hold both.
	f, se, err := Factor([]Pair{{100, 50, 1}, {100, 150, 1}})
	if err != nil || math.Abs(f-1) > 1e-12 || se < 0.4 {
		t.Errorf("%g ± %g, %v", f, se, err)
	}
	for _, p := range [][]Pair{nil, {{0, 1, 1}}, {{1, 1, 0}}, {{1, math.NaN(), 1}}} {
		if _, _, err := Factor(p); err == nil {
			t.Errorf("%v: accepted", p)
		}
	}
}

func TestDivisor(t *testing.T) {
	for _, c := range []struct {
		f, se float64
		n     int
		want  float64
	}{{1.2, 0.12, 3, 1.32}, {0.7, 0.1, 3, 1}, {0.7, 0.1, 10, 0.8}} {
		if got := Divisor(c.f, c.se, c.n); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v: got %g", c, got)
		}
	}
}

func TestSmall(t *testing.T) {
	if m := MiddleOf([]float64{3, 1, 10}); m != (Middle{3, 2, 3}) {
		t.Errorf("%+v", m)
	}
	if Same([]Piece{{What: "a"}, {What: "a", Colors: []string{"x"}}}) != "" || Same([]Piece{{What: "a"}, {What: "a"}}) != "a" {
		t.Error("twice")
	}
	now := time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)
	if CheckDate(now, now) != nil || CheckDate(now.AddDate(0, 0, 2), now) == nil {
		t.Error("date")
	}
}
