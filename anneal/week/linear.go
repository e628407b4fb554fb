package week

// best returns the x ≥ 0 with Ax ≤ 1 for which c·x is greatest, by the simplex
// method with the rule that takes the first of what is possible, which ends. ok is
// false where c·x has no end, or where spend, told of the numbers that each turn
// changes, answers so.
//
// The method is the one of every textbook. The libraries that have it bring a
// third of a megabyte of matrix code, for what are here fifteen unknowns; one of
// them is what the tests hold it against.
//
// Source: Bland (1977), Mathematics of Operations Research 2, 103 [memory]
func best(c []float64, a [][]float64, spend func(int) bool) (x []float64, ok bool) {
	const tiny = 1e-10
	n, m := len(c), len(a)
	// A row for each inequality and one for c; the last column is what is left of
	// the 1. Unknowns 0 to n-1 are x, those beyond what a row has to spare.
	rows := make([][]float64, m+1)
	out, in := make([]int, n), make([]int, m) // unknowns that are zero, and those that are not
	for j := range out {
		out[j] = j
	}
	for i, row := range a {
		rows[i] = append(append(make([]float64, 0, n+1), row...), 1)
		in[i] = n + i
	}
	rows[m] = make([]float64, n+1)
	for j, v := range c {
		rows[m][j] = -v
	}
	for {
		enter := -1
		for j, v := range rows[m][:n] {
			if v < -tiny && (enter < 0 || out[j] < out[enter]) {
				enter = j
			}
		}
		if enter < 0 {
			break
		}
		leave, least := -1, 0.0
		for i := range in {
			if p := rows[i][enter]; p > tiny {
				if q := rows[i][n] / p; leave < 0 || q < least-tiny || q < least+tiny && in[i] < in[leave] {
					leave, least = i, q
				}
			}
		}
		if leave < 0 || !spend(len(rows)*(n+1)) {
			return nil, false
		}
		pivot(rows, leave, enter)
		out[enter], in[leave] = in[leave], out[enter]
	}
	x = make([]float64, n)
	for i, v := range in {
		if v < n {
			x[v] = max(0, rows[i][n])
		}
	}
	return x, true
}

// pivot solves row r for the unknown of column c and puts it into all others.
func pivot(rows [][]float64, r, c int) {
	p := rows[r][c]
	for j := range rows[r] {
		rows[r][j] /= p
	}
	rows[r][c] = 1 / p
	for i, row := range rows {
		if f := row[c]; i != r && f != 0 {
			row[c] = 0
			for j, v := range rows[r] {
				row[j] -= f * v
			}
		}
	}
}
