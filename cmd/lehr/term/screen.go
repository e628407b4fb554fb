// Package term prints results on a terminal or into a pipe: width, color, ASCII,
// wrapping, tables, numbers, and the messages of errors.
package term

import (
	"fmt"
	"io"
	"strings"
)

// Screen is where results are printed: as wide as the terminal, in ASCII if
// need be, with color where the terminal shows it.
type Screen struct {
	Out   io.Writer
	Term  Terminal // about Out
	Plain bool     // ASCII only and no color, as the person asked for
}

// ASCII reports whether results must keep to ASCII.
func (s *Screen) ASCII() bool { return s.Plain || !s.Term.UTF8 }

// color reports whether results may be colored.
func (s *Screen) color() bool { return s.Term.color && !s.Plain }

// Width returns the columns that tables and prose may use.
func (s *Screen) Width() int { return s.Term.Width }

// Print writes text to the results, in ASCII if need be.
func (s *Screen) Print(text string) {
	if s.ASCII() {
		text = ToASCII(text)
	}
	io.WriteString(s.Out, text)
}

// Printf formats text and prints it like Print.
func (s *Screen) Printf(format string, args ...any) {
	s.Print(fmt.Sprintf(format, args...))
}

// Prose prints text wrapped to the width, every line indented. Paragraphs are
// separated by blank lines; a line that starts with a space stays as it is.
func (s *Screen) Prose(indent int, text string) {
	if s.ASCII() {
		text = ToASCII(text)
	}
	s.Print(Wrap(text, s.Width(), indent, indent))
}

// Item prints text wrapped to the width behind a mark such as "- " or "1. ",
// later lines aligned with the first word.
func (s *Screen) Item(mark, text string) {
	if s.ASCII() {
		mark, text = ToASCII(mark), ToASCII(text)
	}
	body := Wrap(text, s.Width(), len([]rune(mark)), len([]rune(mark)))
	s.Print(mark + string([]rune(body)[len([]rune(mark)):]))
}

// Strong prints text in bold, wrapped to the width.
func (s *Screen) Strong(text string) {
	if s.ASCII() {
		text = ToASCII(text)
	}
	for line := range strings.Lines(Wrap(text, s.Width(), 0, 0)) {
		s.Print(s.Style(Bold, strings.TrimSuffix(line, "\n")) + "\n")
	}
}

// Lead prints a marked beginning and text behind it, wrapped to the width.
func (s *Screen) Lead(style, head, gap, text string) {
	if s.ASCII() {
		head, text = ToASCII(head), ToASCII(text)
	}
	body := Wrap(text, s.Width(), len([]rune(head+gap)), 0)
	s.Print(s.Style(style, head) + gap + strings.TrimLeft(body, " "))
}

// The ways a word may be marked on a terminal. Color only repeats what the
// words say.
const (
	Good  = "32;1" // within limits
	Bad   = "31;1" // over a limit
	Warn  = "33;1"
	Bold  = "1"
	Faint = "2"
)

// Style marks text on a color terminal and leaves it alone anywhere else.
func (s *Screen) Style(style, text string) string {
	if !s.color() || text == "" {
		return text
	}
	return "\x1b[" + style + "m" + text + "\x1b[0m"
}

// Hanging prints text that begins in the given column, later lines below it.
func (s *Screen) Hanging(column int, text string) {
	if s.ASCII() {
		text = ToASCII(text)
	}
	s.Print(Wrap(text, s.Width(), column, column)[column:])
}

// Section prints a heading below a blank line.
func (s *Screen) Section(title string) {
	s.Print("\n")
	s.Strong(title)
}

// List prints a heading and its items, nothing if there are none.
func (s *Screen) List(head string, items []string) {
	if len(items) == 0 {
		return
	}
	s.Section(head)
	for _, text := range items {
		s.Item("- ", text)
	}
}
