package term

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// Column is one column of a table. Its unit stands in the heading.
type Column struct {
	Head   string
	Number bool // numbers stand right-aligned
	wrap   bool // long text: broken into lines when the table would be too wide
}

// TextColumn makes a column of words.
func TextColumn(head string) Column { return Column{Head: head} }

// NumberColumn makes a column of numbers.
func NumberColumn(head string) Column { return Column{Head: head, Number: true} }

// LongColumn makes a column of texts that may be broken into lines.
func LongColumn(head string) Column { return Column{Head: head, wrap: true} }

// Table prints a table: light lines on a terminal, no borders and one line
// under the heading in a pipe, or on a terminal that is too narrow for them. It
// never gets wider than the output: columns give way, then the lines around it,
// then the gaps.
func (s *Screen) Table(cols []Column, rows [][]string) error {
	text, err := s.renderTable(cols, rows)
	if err != nil {
		return err
	}
	s.Print(text)
	return nil
}

// renderTable returns what table prints.
func (s *Screen) renderTable(cols []Column, rows [][]string) (string, error) {
	header := make([]string, len(cols))
	align := make([]tw.Align, len(cols))
	for i, c := range cols {
		header[i], align[i] = s.cell(c.Head), tw.AlignLeft
		if c.Number {
			align[i] = tw.AlignRight
		}
	}
	body := make([][]string, len(rows))
	for i, row := range rows {
		if len(row) != len(cols) {
			panic(fmt.Sprintf("lehr: table row %d has %d cells, want %d", i, len(row), len(cols)))
		}
		body[i] = make([]string, len(row))
		for j, text := range row {
			body[i][j] = s.cell(text)
		}
	}
	look := s.fit(cols, header, body)

	style, borders := tw.StyleLight, tw.Border{Left: tw.On, Right: tw.On, Top: tw.On, Bottom: tw.On}
	padding := tw.PaddingDefault
	between := tw.On
	if !look.boxed {
		borders, between = tw.BorderNone, tw.Off
		padding = tw.Padding{Left: tw.Empty, Right: strings.Repeat(" ", look.gap), Overwrite: true}
	}
	if s.ASCII() {
		style = tw.StyleASCII
	}
	cells := func() tw.CellConfig {
		return tw.CellConfig{
			Formatting: tw.CellFormatting{AutoWrap: tw.WrapNone, AutoFormat: tw.Off},
			Alignment:  tw.CellAlignment{Global: tw.AlignLeft, PerColumn: align},
			Padding:    tw.CellPadding{Global: padding},
		}
	}
	var buf bytes.Buffer
	t := tablewriter.NewTable(&buf,
		tablewriter.WithRenderer(renderer.NewBlueprint(tw.Rendition{
			Borders: borders,
			Symbols: tw.NewSymbols(style),
			Settings: tw.Settings{
				Separators: tw.Separators{ShowHeader: tw.On, ShowFooter: tw.Off, BetweenRows: tw.Off, BetweenColumns: between},
				Lines:      tw.Lines{ShowTop: tw.On, ShowBottom: tw.On, ShowHeaderLine: tw.On, ShowFooterLine: tw.Off},
			},
		})),
		tablewriter.WithConfig(tablewriter.Config{Header: cells(), Row: cells()}),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithRowAutoFormat(tw.Off),
		tablewriter.WithEastAsian(tw.Off),
	)
	t.Header(header)
	if err := t.Bulk(body); err != nil {
		return "", err
	}
	if err := t.Render(); err != nil {
		return "", err
	}
	var out strings.Builder
	for line := range strings.Lines(buf.String()) {
		line = strings.TrimRight(line, " \n")
		if !look.boxed && strings.Trim(line, "-─") == "" {
			r := []rune(line)
			line = string(r[:max(0, len(r)-look.gap)]) // the gap after the last column
		}
		out.WriteString(line + "\n")
	}
	return out.String(), nil
}

// boxed reports whether tables have lines around them.
func (s *Screen) boxed() bool { return s.Term.TTY && !s.Plain }

// cell prepares text for a table: no control characters but color marks of
// our own, ASCII if need be.
func (s *Screen) cell(text string) string {
	if s.ASCII() {
		text = ToASCII(text)
	}
	return text
}

// look is how a table is drawn: lines around it, or a gap after each column.
type look struct {
	boxed bool
	gap   int
}

// around returns the columns that a look takes beside those of n cells.
func (l look) around(n int) int {
	if l.boxed {
		return 3*n + 1
	}
	return l.gap * (n - 1)
}

// The ways in which columns give way, each more than the one before.
const (
	wrapLong  = iota // long columns, without breaking words
	wrapHeads        // the headings of the others too
	wrapAll          // every cell
	breakLong        // long columns down to ten, words broken
	breakAll         // every column down to four, long ones to six, no number broken
	ways
)

// try is a look and a way for it.
type try struct {
	look look
	way  int
}

// tries lists what is tried, the best first.
func tries(boxed bool) []try {
	var out []try
	if boxed {
		out = append(out, try{look{boxed: true}, wrapLong}, try{look{boxed: true}, wrapHeads})
	}
	for way := range ways {
		out = append(out, try{look{gap: 2}, way}, try{look{gap: 1}, way})
	}
	return out
}

// fit wraps cells so that the table keeps to the width, and returns the look
// that lets it. The widest column gives way first.
func (s *Screen) fit(cols []Column, header []string, body [][]string) look {
	natural := make([]int, len(cols))
	for i := range cols {
		natural[i] = widest(header[i])
		for _, row := range body {
			natural[i] = max(natural[i], widest(row[i]))
		}
	}
	var width []int
	var chosen look
	for _, t := range tries(s.boxed()) {
		chosen = t.look
		var ok bool
		if width, ok = narrowed(cols, header, body, natural, t.way, max(s.Width(), s.Term.wide)-chosen.around(len(cols))); ok {
			break
		}
	}
	for i := range cols {
		if width[i] >= natural[i] {
			continue
		}
		header[i] = breakCell(header[i], width[i])
		for _, row := range body {
			row[i] = breakCell(row[i], width[i])
		}
	}
	return chosen
}

// narrowed takes from the widest columns until all fit into room. It answers
// false if they cannot.
func narrowed(cols []Column, header []string, body [][]string, natural []int, way, room int) ([]int, bool) {
	width, least, total := slices.Clone(natural), make([]int, len(cols)), 0
	for i, c := range cols {
		total += width[i]
		least[i] = floorOf(c, header[i], cellsOf(body, i), natural[i], way)
	}
	for total > room {
		at := -1
		for i := range cols {
			if width[i] > least[i] && (at < 0 || width[i] > width[at]) {
				at = i
			}
		}
		if at < 0 {
			return width, false
		}
		width[at]--
		total--
	}
	return width, true
}

// floorOf returns the columns that a column keeps when it gives way.
func floorOf(c Column, header string, cells []string, natural, way int) int {
	switch {
	case c.wrap && way == breakLong:
		return min(natural, 10)
	case c.wrap && way == breakAll:
		return min(natural, 6)
	case way == breakAll && c.Number:
		return min(natural, max(4, longestWord(cells)))
	case way == breakAll:
		return min(natural, 4)
	case c.wrap:
		return max(10, longestWord(append(cells, header)))
	case way == wrapLong:
		return natural
	case way == wrapHeads:
		n := longestWord([]string{header})
		for _, cell := range cells {
			n = max(n, widest(cell))
		}
		return n
	}
	return longestWord(append(cells, header))
}

func cellsOf(body [][]string, i int) []string {
	var cells []string
	for _, row := range body {
		cells = append(cells, row[i])
	}
	return cells
}

// longestWord returns the width of the longest word, a number with its unit
// taken for one.
func longestWord(cells []string) int {
	n := 1
	for _, cell := range cells {
		for _, word := range joinUnits(strings.Fields(cell), len(cell)) {
			n = max(n, Columns(word))
		}
	}
	return n
}

// widest returns the columns of the longest line.
func widest(s string) int {
	n := 0
	for line := range strings.SplitSeq(s, "\n") {
		n = max(n, Columns(line))
	}
	return n
}

// breakCell wraps each line of a cell that is too long.
func breakCell(s string, width int) string {
	var lines []string
	for line := range strings.SplitSeq(s, "\n") {
		if Columns(line) <= width {
			lines = append(lines, line)
			continue
		}
		for _, part := range wrapWords(strings.Fields(line), width, width) {
			for r := []rune(part); ; r = r[width:] { // a word that is too long
				if len(r) <= width {
					lines = append(lines, string(r))
					break
				}
				lines = append(lines, string(r[:width]))
			}
		}
	}
	return strings.Join(lines, "\n")
}
