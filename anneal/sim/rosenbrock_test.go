package sim

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// TestRosenbrockConditions checks the coefficients, which were not seen in
// print, against the conditions of a W-method of third order (Hairer and
// Wanner, Solving Ordinary Differential Equations II, sec. IV.7 [memory]),
// which hold whatever matrix takes the place of the Jacobian.
func TestRosenbrockConditions(t *testing.T) {
	a, g, b, hat := publishedAlpha, publishedGamma, publishedB, publishedBHat
	row := func(m [4][4]float64) (out [4]float64) {
		for i := range m {
			for j := range m {
				out[i] += m[i][j]
			}
		}
		return out
	}
	times := func(m [4][4]float64, x [4]float64) (out [4]float64) {
		for i := range m {
			for j := range m {
				out[i] += m[i][j] * x[j]
			}
		}
		return out
	}
	dot := func(x, y [4]float64) (s float64) {
		for i := range x {
			s += x[i] * y[i]
		}
		return s
	}
	ones := [4]float64{1, 1, 1, 1}
	ra, rg := row(a), row(g)
	square := [4]float64{}
	for i := range ra {
		square[i] = ra[i] * ra[i]
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"Σ b", dot(b, ones), 1},
		{"Σ b α", dot(b, ra), 1.0 / 2},
		{"Σ b γ", dot(b, rg), 0},
		{"Σ b α²", dot(b, square), 1.0 / 3},
		{"Σ b α α", dot(b, times(a, ra)), 1.0 / 6},
		{"Σ b α γ", dot(b, times(a, rg)), 0},
		{"Σ b γ α", dot(b, times(g, ra)), 0},
		{"Σ b γ γ", dot(b, times(g, rg)), 0},
		{"Σ b̂", dot(hat, ones), 1},
		{"Σ b̂ α", dot(hat, ra), 1.0 / 2},
		{"Σ b̂ γ", dot(hat, rg), 0},
	} {
		near(t, c.name, c.got, c.want, 0, 1e-12)
	}
	// Stable at infinity: R(∞) = 1 − b (α+γ)⁻¹ 1 = 0.
	beta := mat.NewDense(4, 4, nil)
	for i := range a {
		for j := range a {
			beta.Set(i, j, a[i][j]+g[i][j])
		}
	}
	var x mat.VecDense
	if err := x.SolveVec(beta, mat.NewVecDense(4, ones[:])); err != nil {
		t.Fatal(err)
	}
	r := 1.0
	for i := range b {
		r -= b[i] * x.AtVec(i)
	}
	near(t, "R(∞)", r, 0, 0, 1e-12)
}

// TestTridiag checks the hand-written solve against a library.
func TestTridiag(t *testing.T) {
	const n = 30
	a := newTridiag(n)
	b := make([]float64, n)
	for i := range n {
		a.diag[i], b[i] = 3+math.Sin(float64(i)), math.Cos(float64(3*i))
		if i > 0 {
			a.lower[i] = -1 - 0.3*math.Sin(float64(7*i))
		}
		if i < n-1 {
			a.upper[i] = -1 + 0.2*math.Cos(float64(5*i))
		}
	}
	lib := mat.NewTridiag(n, append([]float64(nil), a.lower[1:]...), append([]float64(nil), a.diag...), append([]float64(nil), a.upper[:n-1]...))
	var want mat.VecDense
	if err := lib.SolveVecTo(&want, false, mat.NewVecDense(n, append([]float64(nil), b...))); err != nil {
		t.Fatal(err)
	}
	a.factor()
	a.solve(b)
	for i, got := range b {
		near(t, "x", got, want.AtVec(i), 1e-12, 1e-12)
	}
}
