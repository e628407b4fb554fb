package sim

// tridiag solves A x = b for a diagonally dominant or symmetric positive
// definite tridiagonal A without pivoting. factor stores the elimination so
// that several right-hand sides share it.
type tridiag struct {
	lower, diag, upper []float64 // n values each; lower[0] and upper[n-1] unused
	inv, ratio         []float64 // after factor
}

func newTridiag(n int) *tridiag {
	buf := make([]float64, 5*n)
	cut := func(i int) []float64 { return buf[i*n : (i+1)*n : (i+1)*n] }
	return &tridiag{lower: cut(0), diag: cut(1), upper: cut(2), inv: cut(3), ratio: cut(4)}
}

func (t *tridiag) factor() {
	t.inv[0] = 1 / t.diag[0]
	for i := 1; i < len(t.diag); i++ {
		t.ratio[i] = t.lower[i] * t.inv[i-1]
		t.inv[i] = 1 / (t.diag[i] - t.ratio[i]*t.upper[i-1])
	}
}

// solve overwrites b with the solution. factor must have been called.
func (t *tridiag) solve(b []float64) {
	n := len(t.diag)
	for i := 1; i < n; i++ {
		b[i] -= t.ratio[i] * b[i-1]
	}
	b[n-1] *= t.inv[n-1]
	for i := n - 2; i >= 0; i-- {
		b[i] = (b[i] - t.upper[i]*b[i+1]) * t.inv[i]
	}
}
