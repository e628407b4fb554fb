package week

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
	"pgregory.net/rapid"
)

// TestBest_againstLibrary: the greatest value is the one that a general-purpose
// library finds, and what is returned keeps every inequality.
func TestBest_againstLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 8).Draw(t, "unknowns"), rapid.IntRange(1, 20).Draw(t, "rows")
		c := make([]float64, n)
		for j := range c {
			c[j] = float64(rapid.IntRange(-3, 12).Draw(t, "c"))
		}
		rows := make([][]float64, m)
		for i := range rows {
			for range n {
				rows[i] = append(rows[i], float64(rapid.IntRange(-1, 9).Draw(t, "a")))
			}
		}
		// The library's form: equalities, with what each row has to spare.
		a := mat.NewDense(m, n+m, nil)
		cost, one, spare := make([]float64, n+m), make([]float64, m), make([]int, m)
		for i := range rows {
			for j, v := range rows[i] {
				a.Set(i, j, v)
			}
			a.Set(i, n+i, 1)
			one[i], spare[i] = 1, n+i
		}
		for j, v := range c {
			cost[j] = -v
		}
		want, _, err := lp.Simplex(cost, a, one, 1e-10, spare)
		x, ok := best(c, rows, func(int) bool { return true })
		if err == lp.ErrUnbounded || !ok {
			if ok || err == nil {
				t.Fatalf("c %v rows %v: library %v, ours %v", c, rows, err, ok)
			}
			return
		}
		if err != nil {
			t.Skip(err)
		}
		value := 0.0
		for j, v := range x {
			value += c[j] * v
		}
		if math.Abs(value+want) > 1e-6*(1+math.Abs(want)) {
			t.Errorf("c %v rows %v: %g, library %g", c, rows, value, -want)
		}
		for _, row := range rows {
			sum := 0.0
			for j, v := range row {
				sum += v * x[j]
			}
			if sum > 1+1e-7 {
				t.Errorf("a row sums to %g", sum)
			}
		}
	})
}
