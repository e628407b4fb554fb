package axial

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// TestSkyline holds factor and solution against gonum's dense Cholesky, with
// rows that begin anywhere.
func TestSkyline(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{1, 2, 3, 5, 8, 30, 61} {
		for trial := range 20 {
			first := make([]int, n)
			for i := range first {
				first[i] = max(0, i-r.IntN(1+trial))
				if trial%5 == 4 && i%7 == 6 {
					first[i] = 0
				}
			}
			s := newSkyline(first)
			dense := mat.NewSymDense(n, nil)
			for i, f := range first {
				for j := f; j < i; j++ {
					x := r.NormFloat64()
					s.add(j, i, x)
					dense.SetSym(i, j, x)
				}
				s.add(i, i, 3*float64(n))
				dense.SetSym(i, i, 3*float64(n))
			}
			b := make([]float64, n)
			for i := range b {
				b[i] = r.NormFloat64()
			}
			var chol mat.Cholesky
			if !chol.Factorize(dense) {
				t.Fatal("not positive definite")
			}
			var want mat.VecDense
			if err := chol.SolveVecTo(&want, mat.NewVecDense(n, append([]float64(nil), b...))); err != nil {
				t.Fatal(err)
			}
			if !s.factor() {
				t.Fatal("not positive definite")
			}
			s.solve(b)
			for i := range b {
				near(t, "solution", b[i], want.AtVec(i), 0, 1e-12)
			}
		}
	}
	s := newSkyline([]int{0, 0})
	s.add(0, 0, 1)
	s.add(1, 0, 2)
	s.add(1, 1, 1)
	if s.factor() {
		t.Error("factored what is not positive definite")
	}
	if b := []float64{1, 1}; !math.IsNaN(func() float64 { s.solve(b); return b[1] }()) {
		t.Error("solved it, too")
	}
}
