package axial

import "math"

// skyline is a symmetric positive definite matrix of which each row is stored
// from its first entry to the diagonal. factor turns it into its Cholesky factor
// in place. It is the inner loop: with its solutions more than half of a run of
// 24 × 24 cells.
type skyline struct {
	first []int     // column of the first entry of each row
	at    []int     // where column 0 of each row would stand in value
	value []float64 // rows one after the other, the diagonal last
	inv   []float64 // 1/diagonal of the factor
}

// newSkyline takes the first column of each row.
func newSkyline(first []int) *skyline {
	s := &skyline{first: first, at: make([]int, len(first)), inv: make([]float64, len(first))}
	size := 0
	for i, f := range first {
		s.at[i] = size - f
		size += i - f + 1
	}
	s.value = make([]float64, size)
	return s
}

// add adds to entry i, j.
func (s *skyline) add(i, j int, x float64) {
	if j > i {
		i, j = j, i
	}
	s.value[s.at[i]+j] += x
}

// factor reports whether the matrix was positive definite.
func (s *skyline) factor() bool {
	ok := true
	for i, f := range s.first {
		row := s.value[s.at[i]+f : s.at[i]+i+1]
		j := f
		for ; j+3 < i; j += 4 {
			s.four(row, f, j)
		}
		for ; j < i; j++ {
			k := max(f, s.first[j])
			a, b := row[k-f:j-f], s.value[s.at[j]+k:s.at[j]+j]
			row[j-f] = (row[j-f] - dot(a, b)) * s.inv[j]
		}
		d := row[i-f] - dot(row[:i-f], row[:i-f])
		if !(d > 0) {
			ok = false
			d = math.NaN()
		}
		d = math.Sqrt(d)
		row[i-f], s.inv[i] = d, 1/d
	}
	return ok
}

// four does columns j to j+3 of a row that begins at column f.
func (s *skyline) four(row []float64, f, j int) {
	k := max(f, s.first[j], s.first[j+1], s.first[j+2], s.first[j+3])
	a := row[k-f : j-f+4]
	n := j - k // columns the four have in common, before j
	if n < 0 { // a row below begins beyond j
		for c := j; c < j+4; c++ {
			k := max(f, s.first[c])
			row[c-f] = (row[c-f] - dot(row[k-f:c-f], s.value[s.at[c]+k:s.at[c]+c])) * s.inv[c]
		}
		return
	}
	b0, b1 := s.value[s.at[j]+k:][:n], s.value[s.at[j+1]+k:][:n+1]
	b2, b3 := s.value[s.at[j+2]+k:][:n+2], s.value[s.at[j+3]+k:][:n+3]
	var x [4]float64
	for c := range x {
		// columns before k, which not all four have
		from := max(f, s.first[j+c])
		if from < k {
			x[c] = dot(row[from-f:k-f], s.value[s.at[j+c]+from:s.at[j+c]+k])
		}
	}
	x0, x1, x2, x3 := x[0], x[1], x[2], x[3]
	for l, v := range a[:n] {
		x0 += v * b0[l]
		x1 += v * b1[l]
		x2 += v * b2[l]
		x3 += v * b3[l]
	}
	l0 := (a[n] - x0) * s.inv[j]
	l1 := (a[n+1] - x1 - l0*b1[n]) * s.inv[j+1]
	l2 := (a[n+2] - x2 - l0*b2[n] - l1*b2[n+1]) * s.inv[j+2]
	l3 := (a[n+3] - x3 - l0*b3[n] - l1*b3[n+1] - l2*b3[n+2]) * s.inv[j+3]
	a[n], a[n+1], a[n+2], a[n+3] = l0, l1, l2, l3
}

func dot(a, b []float64) float64 {
	var x, y float64
	b = b[:len(a)]
	i := 0
	for ; i+1 < len(a); i += 2 {
		x += a[i] * b[i]
		y += a[i+1] * b[i+1]
	}
	if i < len(a) {
		x += a[i] * b[i]
	}
	return x + y
}

// solve overwrites b with the solution; factor must have been called.
func (s *skyline) solve(b []float64) {
	for i, f := range s.first {
		row := s.value[s.at[i]+f : s.at[i]+i]
		b[i] = (b[i] - dot(row, b[f:i])) * s.inv[i]
	}
	for i := len(b) - 1; i >= 0; i-- {
		f := s.first[i]
		x := b[i] * s.inv[i]
		b[i] = x
		below := b[f:i]
		for k, v := range s.value[s.at[i]+f : s.at[i]+i] {
			below[k] -= v * x
		}
	}
}
