package picture

import (
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// The rows of the panels of a chart of characters.
const (
	upperRows = 13
	lowerRows = 5
	minText   = 40
	maxText   = 120
)

// cells is a panel of characters. Dots are drawn at a finer grid where the
// characters allow it: two by four in a braille pattern, one in ASCII.
type cells struct {
	cols, rows int
	dx, dy     int // dots per character
	dots       []bool
	text       []rune // what lies over the dots, 0 for nothing
	ground     []rune // what lies under them
	mark       rune   // an ASCII dot
}

func newCells(cols, rows int, ascii bool) *cells {
	c := &cells{cols: cols, rows: rows, dx: 2, dy: 4, mark: '*'}
	if ascii {
		c.dx, c.dy = 1, 1
	}
	c.dots = make([]bool, cols*c.dx*rows*c.dy)
	c.text = make([]rune, cols*rows)
	c.ground = make([]rune, cols*rows)
	return c
}

// dot sets the dot at x from 0 (left) to 1 and y from 0 (bottom) to 1.
func (c *cells) dot(x, y float64) {
	i := int(math.Round(x * float64(c.cols*c.dx-1)))
	j := int(math.Round((1 - y) * float64(c.rows*c.dy-1)))
	if i >= 0 && i < c.cols*c.dx && j >= 0 && j < c.rows*c.dy {
		c.dots[j*c.cols*c.dx+i] = true
	}
}

// line draws points, given from 0 to 1, as an unbroken line.
func (c *cells) line(points []Point) { c.dashed(points, 0) }

// dashed draws them as dashes of that many dots, with gaps as long; 0 for a line.
func (c *cells) dashed(points []Point, dashes float64) {
	far := 0.0
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		n := 1 + int(math.Max(math.Abs(b.Time-a.Time)*float64(c.cols*c.dx), math.Abs(b.Value-a.Value)*float64(c.rows*c.dy)))
		for k := range n + 1 {
			w := float64(k) / float64(n)
			if along := far + w*float64(n); dashes > 0 && math.Mod(along, 2*dashes) >= dashes {
				continue
			}
			c.dot(a.Time+w*(b.Time-a.Time), a.Value+w*(b.Value-a.Value))
		}
		far += float64(n)
	}
}

// row returns the row of characters in which a height from 0 to 1 lies.
func (c *cells) row(y float64) int {
	return min(max(int(math.Round((1-y)*float64(c.rows*c.dy-1)))/c.dy, 0), c.rows-1)
}

// drawn reports whether a dot or a letter is in a cell.
func (c *cells) drawn(col, row int) bool {
	if c.text[row*c.cols+col] != 0 {
		return true
	}
	for j := range c.dy {
		for i := range c.dx {
			if c.dots[(row*c.dy+j)*c.cols*c.dx+col*c.dx+i] {
				return true
			}
		}
	}
	return false
}

// write puts words into a row, as far right as they meet nothing drawn; it
// answers false when there is no such place.
func (c *cells) write(row int, words string) bool {
	n := utf8.RuneCountInString(words)
	if row < 0 || row >= c.rows {
		return false
	}
search:
	for start := c.cols - n - 1; start >= 1; start-- {
		for col := start - 1; col < start+n+1; col++ {
			if c.drawn(col, row) {
				continue search
			}
		}
		for i, r := range []rune(words) {
			c.text[row*c.cols+start+i] = r
		}
		if start > 0 { // a space before the words, also on a ground
			c.text[row*c.cols+start-1] = ' '
		}
		return true
	}
	return false
}

// brailleBit is the dot of a braille pattern by row and column.
var brailleBit = [4][2]rune{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

// lines returns the rows as text.
func (c *cells) lines() []string {
	out := make([]string, c.rows)
	for row := range c.rows {
		var b strings.Builder
		for col := range c.cols {
			at := row*c.cols + col
			pattern := rune(0)
			for j := range c.dy {
				for i := range c.dx {
					if c.dots[(row*c.dy+j)*c.cols*c.dx+col*c.dx+i] {
						pattern |= brailleBit[j][i]
					}
				}
			}
			switch {
			case c.text[at] != 0:
				b.WriteRune(c.text[at])
			case pattern != 0 && c.dx == 1:
				b.WriteRune(c.mark)
			case pattern != 0:
				b.WriteRune(0x2800 + pattern)
			case c.ground[at] != 0:
				b.WriteRune(c.ground[at])
			default:
				b.WriteRune(' ')
			}
		}
		out[row] = b.String()
	}
	return out
}

// Text returns the curve in characters, at most width columns wide (40 to 120):
// the kiln above, with the soak range dotted; below it for each piece that is
// shown how far its middle is from its surface, and its tension as a share of the
// limit; the clock under all. Another program is dashed. With spell, which spells
// words in ASCII, it keeps to ASCII. It is long because all panels share one axis
// and one set of scales.
func (c *Curve) Text(width int, spell func(string) string) string {
	width = min(max(width, minText), maxText)
	ascii := spell != nil
	if ascii {
		c = c.spelled(spell)
	}
	low, high := c.temperatures()
	low = math.Min(0, low)
	high += (high - low) * 0.04
	diffLow, diffHigh := c.differences()
	diffHigh = math.Max(diffHigh, 1e-3) + (diffHigh-diffLow)*0.05
	most := 100 * math.Max(1, c.most()) * 1.15

	temps, diffs, shares := valueTicks(low, high, 6), valueTicks(diffLow, diffHigh, 3), valueTicks(0, most, 2)
	axis := textAxis{}
	axis.widen(temps, c.TempUnit)
	axis.widen(diffs, c.DiffUnit)
	axis.widen(shares, "%")
	cols := width - axis.width - 1

	var b strings.Builder
	upper := newCells(cols, upperRows, ascii)
	share := func(v, low, high float64) float64 { return (v - low) / (high - low) }
	within := func(points []Point, low, high float64) []Point {
		out := make([]Point, len(points))
		for i, p := range points {
			out[i] = Point{p.Time / c.Length, share(p.Value, low, high)}
		}
		return out
	}
	upper.line(within(c.Kiln, low, high))
	dashes := 3.0
	if ascii {
		dashes = 1
	}
	if c.Other != nil {
		upper.dashed(within(c.Other.Kiln, low, high), dashes)
		b.WriteString(cut("line: "+c.Name+"; dashes: "+c.Other.Name, width))
	}
	left := c.textBands(upper, func(v float64) float64 { return share(v, low, high) }, ascii) // words that found no room
	if c.End != "" {
		last := c.Kiln[len(c.Kiln)-1]
		row := upper.row(share(last.Value, low, high))
		for _, r := range []int{row, row - 1, row + 1, row - 2, row + 2, row + 3} {
			if upper.write(r, c.End) {
				break
			}
		}
	}
	axis.panel(&b, upper, temps, low, high, c.TempUnit, ascii)
	for i, s := range c.Pieces[:max(1, min(c.InText, len(c.Pieces)))] {
		other := s
		if c.Other != nil {
			other = c.Pieces[i+len(c.Pieces)/2]
		}
		axis.foot(&b, c, cols, nil, ascii)
		b.WriteString(cut(s.Label+": "+strings.ToLower(diffTitle[:1])+diffTitle[1:]+c.DiffUnit, width))
		panel := newCells(cols, lowerRows, ascii)
		panel.line(within(s.Difference, diffLow, diffHigh))
		if other.Other {
			panel.dashed(within(other.Difference, diffLow, diffHigh), dashes)
		}
		axis.panel(&b, panel, diffs, diffLow, diffHigh, c.DiffUnit, ascii)
		axis.foot(&b, c, cols, nil, ascii)

		b.WriteString(cut(s.Label+": "+strings.ToLower(shareTitle[:1])+shareTitle[1:], width))
		panel = newCells(cols, lowerRows, ascii)
		percent := func(points []Point) []Point { return within(points, 0, most/100) }
		panel.line(percent(s.Share))
		if other.Other {
			panel.dashed(percent(other.Share), dashes)
		}
		limit := panel.row(100 / most)
		if !panel.write(limit, s.Limit) && !panel.write(limit+1, s.Limit) {
			left = append(left, s.Limit)
		}
		for col := range cols {
			if at := limit*cols + col; panel.text[at] == 0 {
				panel.ground[at] = pick(ascii, '-', '╌')
			}
		}
		row := panel.row(100 * farthest(s.Share).Value / most)
		rows := []int{row - 1, row + 1, row - 2, row + 2}
		free := func(r int) bool { return r != limit && (r > limit) == (row > limit) && panel.write(r, s.Greatest) } // on its side of the limit
		if !slices.ContainsFunc(rows, free) {
			left = append(left, s.Greatest)
		}
		axis.panel(&b, panel, shares, 0, most, "%", ascii)
	}
	axis.foot(&b, c, cols, c.timeTicks(9/float64(cols)), ascii)
	for _, words := range left {
		if utf8.RuneCountInString(words) <= width {
			b.WriteString(words + "\n")
		}
	}
	return b.String()
}

// cut is a line of words, cut where it is too wide.
func cut(words string, width int) string {
	if r := []rune(words); len(r) > width {
		words = strings.TrimRight(string(r[:width]), " ")
	}
	return words + "\n"
}

// spelled returns a copy whose words are spelled by f.
func (c *Curve) spelled(f func(string) string) *Curve {
	d := *c
	d.Pieces = slices.Clone(c.Pieces)
	words := []*string{&d.TempUnit, &d.DiffUnit, &d.End, &d.Soak.Label, &d.Strain.Label, &d.Name}
	for i := range d.Pieces {
		words = append(words, &d.Pieces[i].Label, &d.Pieces[i].Limit, &d.Pieces[i].Greatest)
	}
	if c.Other != nil {
		other := *c.Other
		d.Other = &other
		words = append(words, &other.Name)
	}
	for _, s := range words {
		*s = f(*s)
	}
	return &d
}

// textBands grounds the rows of the soak range and names both ranges; it
// returns the names that found no room.
func (c *Curve) textBands(p *cells, y func(float64) float64, ascii bool) (left []string) {
	for i, b := range []Band{c.Soak, c.Strain} {
		top, bottom := p.row(y(b.High)), p.row(y(b.Low))
		if y(b.High) <= 0 || y(b.Low) >= 1 {
			continue
		}
		if i == 1 && top == p.row(y(c.Soak.Low)) && top < bottom {
			top++ // the row is the soak range's
		}
		if i == 0 {
			for row := top; row <= bottom; row++ {
				for col := range p.cols {
					if col%2 == 1 {
						p.ground[row*p.cols+col] = pick(ascii, '.', '·')
					}
				}
			}
		}
		placed := false
		for row := top; row <= bottom && !placed; row++ {
			placed = p.write(row, b.Label)
		}
		if !placed {
			left = append(left, b.Label)
		}
	}
	return left
}

func pick(ascii bool, a, b rune) rune {
	if ascii {
		return a
	}
	return b
}
