// Package near finds the name that a misspelled word most likely meant. It is
// the one place that measures how far apart two words are.
package near

// Word returns the name that a misspelled word most likely meant, or "" when
// none is close. Close means that at most a third of its letters, and at most
// three, must be changed, added, dropped or swapped with their neighbor. Of
// equally close names the first wins.
func Word(word string, names []string) string {
	best, least := "", 4
	for _, name := range names {
		limit := min(3, max(1, (max(len([]rune(word)), len([]rune(name)))+1)/3))
		if d := distance(word, name); d <= limit && d < least {
			best, least = name, d
		}
	}
	return best
}

// distance counts the changes between two words, a swap of neighbors as one
// (optimal string alignment).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x) > 80 || len(y) > 80 {
		return 80
	}
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(x)][len(y)]
}
