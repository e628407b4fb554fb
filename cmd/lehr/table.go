package main

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// column is one column of a table. Its unit stands in the heading.
type column struct {
	head   string
	number bool // numbers stand right-aligned
	wrap   bool // long text: broken into lines when the table would be too wide
}

// text, number and long make the three kinds of column.
func textColumn(head string) column   { return column{head: head} }
func numberColumn(head string) column { return column{head: head, number: true} }
func longColumn(head string) column   { return column{head: head, wrap: true} }

// table prints a table: light lines on a terminal, no borders and one line
// under the heading in a pipe. It never gets wider than the output if its
// wrapping columns can give way.
func (a *app) table(cols []column, rows [][]string) error {
	text, err := a.renderTable(cols, rows)
	if err != nil {
		return err
	}
	a.print(text)
	return nil
}

// renderTable returns what table prints.
func (a *app) renderTable(cols []column, rows [][]string) (string, error) {
	header := make([]string, len(cols))
	align := make([]tw.Align, len(cols))
	for i, c := range cols {
		header[i], align[i] = a.cell(c.head), tw.AlignLeft
		if c.number {
			align[i] = tw.AlignRight
		}
	}
	body := make([][]string, len(rows))
	for i, row := range rows {
		if len(row) != len(cols) {
			panic(fmt.Sprintf("lehr: table row %d has %d cells, want %d", i, len(row), len(cols)))
		}
		body[i] = make([]string, len(row))
		for j, s := range row {
			body[i][j] = a.cell(s)
		}
	}
	a.fit(cols, header, body)

	style, borders := tw.StyleLight, tw.Border{Left: tw.On, Right: tw.On, Top: tw.On, Bottom: tw.On}
	padding := tw.PaddingDefault
	between := tw.On
	if !a.boxed() {
		borders, between = tw.BorderNone, tw.Off
		padding = tw.Padding{Left: tw.Empty, Right: "  ", Overwrite: true}
	}
	if a.ascii() {
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
		if !a.boxed() && strings.Trim(line, "-─") == "" {
			r := []rune(line)
			line = string(r[:max(0, len(r)-2)]) // the gap after the last column
		}
		out.WriteString(line + "\n")
	}
	return out.String(), nil
}

// boxed reports whether tables have lines around them.
func (a *app) boxed() bool { return a.term.tty && !a.plain }

// cell prepares text for a table: no control characters but color marks of
// our own, ASCII if need be.
func (a *app) cell(s string) string {
	if a.ascii() {
		s = toASCII(s)
	}
	return s
}

// fit wraps the cells of wrapping columns so that the table keeps to the
// width. The widest column gives way first.
func (a *app) fit(cols []column, header []string, body [][]string) {
	width := make([]int, len(cols))
	for i := range cols {
		width[i] = widest(header[i])
		for _, row := range body {
			width[i] = max(width[i], widest(row[i]))
		}
	}
	around := 2 * len(cols) // the gap after each column
	if a.boxed() {
		around = 3*len(cols) + 1
	} else {
		around -= 2
	}
	total := around
	for _, w := range width {
		total += w
	}
	narrowed := map[int]bool{}
	// First without breaking words, then down to ten columns.
	for _, floor := range []func(i int) int{func(i int) int { return longestWord(header, body, i) }, func(int) int { return 10 }} {
		for total > a.width() {
			at := -1
			for i, c := range cols {
				if c.wrap && width[i] > floor(i) && (at < 0 || width[i] > width[at]) {
					at = i
				}
			}
			if at < 0 {
				break
			}
			width[at]--
			total--
			narrowed[at] = true
		}
	}
	for i := range narrowed {
		header[i] = breakCell(header[i], width[i])
		for _, row := range body {
			row[i] = breakCell(row[i], width[i])
		}
	}
}

// longestWord returns the width of the longest word in column i, ten at least.
func longestWord(header []string, body [][]string, i int) int {
	n := 10
	cells := []string{header[i]}
	for _, row := range body {
		cells = append(cells, row[i])
	}
	for _, cell := range cells {
		for _, word := range strings.Fields(cell) {
			n = max(n, columns(word))
		}
	}
	return n
}

// widest returns the columns of the longest line.
func widest(s string) int {
	n := 0
	for line := range strings.SplitSeq(s, "\n") {
		n = max(n, columns(line))
	}
	return n
}

// breakCell wraps each line of a cell that is too long.
func breakCell(s string, width int) string {
	var lines []string
	for line := range strings.SplitSeq(s, "\n") {
		if columns(line) <= width {
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
