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
	n := len(t.diag)
	lower, upper, inv, ratio := t.lower[:n], t.upper[:n], t.inv[:n], t.ratio[:n]
	last := 1 / t.diag[0]
	inv[0] = last
	for i := 1; i < n; i++ {
		r := lower[i] * last
		ratio[i] = r
		last = 1 / (t.diag[i] - r*upper[i-1])
		inv[i] = last
	}
}

// solve overwrites b with the solution. factor must have been called.
func (t *tridiag) solve(b []float64) {
	n := len(t.diag)
	b, upper, inv, ratio := b[:n], t.upper[:n], t.inv[:n], t.ratio[:n]
	x := b[0]
	for i := 1; i < n; i++ {
		x = b[i] - ratio[i]*x
		b[i] = x
	}
	x *= inv[n-1]
	b[n-1] = x
	for i := n - 2; i >= 0; i-- {
		x = (b[i] - upper[i]*x) * inv[i]
		b[i] = x
	}
}
