package picture

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// textAxis is the left edge of a chart of characters.
type textAxis struct{ width int }

// widen makes the edge as wide as the labels of these values.
func (a *textAxis) widen(values []float64, unit string) {
	for i, v := range values {
		label := valueLabel(v, stepOf(values))
		if i == len(values)-1 {
			label = unit + " " + label
		}
		a.width = max(a.width, utf8.RuneCountInString(label)+1)
	}
}

func stepOf(values []float64) float64 {
	if len(values) < 2 {
		return 1
	}
	return values[1] - values[0]
}

// panel writes the rows of a panel behind the values of its axis.
func (a textAxis) panel(b *strings.Builder, p *cells, values []float64, low, high float64, unit string, ascii bool) {
	labels := make([]string, p.rows)
	for i, v := range values {
		label := valueLabel(v, stepOf(values))
		if i == len(values)-1 {
			label = unit + " " + label
		}
		labels[p.row((v-low)/(high-low))] = label
	}
	for i, line := range p.lines() {
		edge := pick(ascii, '|', '│')
		if labels[i] != "" {
			edge = pick(ascii, '+', '┤')
		}
		fmt.Fprintf(b, "%s%s%c%s\n", strings.Repeat(" ", a.width-1-utf8.RuneCountInString(labels[i])), labels[i]+" ", edge, strings.TrimRight(line, " "))
	}
}

// foot writes the line under a panel, with the marks of the time if given, and
// their labels under it.
func (a textAxis) foot(b *strings.Builder, c *Curve, cols int, ticks []timeTick, ascii bool) {
	line := []rune(strings.Repeat(string(pick(ascii, '-', '─')), cols))
	labels := []rune(strings.Repeat(" ", a.width+1+cols))
	days := []rune(strings.Repeat(" ", len(labels)))
	put := func(row []rune, words string, col int) bool {
		n := utf8.RuneCountInString(words)
		start := min(max(col-n/2, 0), len(row)-n)
		for i := max(start-1, 0); i < min(start+n+1, len(row)); i++ {
			if row[i] != ' ' {
				return false
			}
		}
		copy(row[start:], []rune(words))
		return true
	}
	for _, t := range ticks {
		col := int(t.at / c.Length * float64(cols-1))
		line[col] = pick(ascii, '+', '┬')
		if put(labels, t.label, a.width+1+col) && t.day != "" {
			put(days, t.day, a.width+1+col)
		}
	}
	fmt.Fprintf(b, "%s%c%s\n", strings.Repeat(" ", a.width), pick(ascii, '+', '└'), string(line))
	for _, row := range [][]rune{labels, days} {
		if text := strings.TrimRight(string(row), " "); text != "" {
			b.WriteString(text + "\n")
		}
	}
	if ticks != nil {
		title := c.timeTitle()
		at := min(a.width+1, a.width+1+cols-utf8.RuneCountInString(title))
		fmt.Fprintf(b, "%s%s\n", strings.Repeat(" ", max(at, 0)), title)
	}
}
