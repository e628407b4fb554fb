package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"runtime"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/outfile"
	"lehr/glass/unit"
)

// app is what every command shares: the streams, the global flags, and what is
// known about the terminal. It lives for one command line.
type app struct {
	in        io.Reader
	out       *output // results; printed when the command succeeds
	err       io.Writer
	term      terminal // about out
	errTTY    bool     // err is a terminal: progress may be shown there
	errRedraw bool     // that terminal can draw a line again
	// errWidth is the columns of that terminal, 0 if there is none: messages
	// stay one line then.
	errWidth int

	files outfile.Set      // what this command line reads and writes
	outs  []*outFlag       // the flags that name a file to write
	piped map[string]piped // what came through a pipe, which speaks once

	units  systemFlag
	studio string // the file named by --studio, "" if none
	json   bool
	plain  bool
	chart  bool // plan: draw the curve, too
	why    bool // plan, verify: reasons, assumptions and sources, too
}

// system returns the unit system of this run: --units if given, else fallback
// (what the studio file says, or unit.Metric).
func (a *app) system(fallback unit.System) unit.System {
	if a.units.set {
		return a.units.system
	}
	return fallback
}

// ascii reports whether results must keep to ASCII.
func (a *app) ascii() bool { return a.plain || !a.term.utf8 }

// color reports whether results may be colored.
func (a *app) color() bool { return a.term.color && !a.plain }

// width returns the columns that tables and prose may use.
func (a *app) width() int { return a.term.width }

// print writes text to the results, in ASCII if need be.
func (a *app) print(text string) {
	if a.ascii() {
		text = toASCII(text)
	}
	io.WriteString(a.out, text)
}

// printf formats text and prints it like print.
func (a *app) printf(format string, args ...any) {
	a.print(fmt.Sprintf(format, args...))
}

// prose prints text wrapped to the width, every line indented. Paragraphs are
// separated by blank lines; a line that starts with a space stays as it is.
func (a *app) prose(indent int, text string) {
	if a.ascii() {
		text = toASCII(text)
	}
	a.print(wrapText(text, a.width(), indent, indent))
}

// item prints text wrapped to the width behind a mark such as "- " or "1. ",
// later lines aligned with the first word.
func (a *app) item(mark, text string) {
	if a.ascii() {
		mark, text = toASCII(mark), toASCII(text)
	}
	body := wrapText(text, a.width(), len([]rune(mark)), len([]rune(mark)))
	a.print(mark + string([]rune(body)[len([]rune(mark)):]))
}

// strong prints text in bold, wrapped to the width.
func (a *app) strong(text string) {
	if a.ascii() {
		text = toASCII(text)
	}
	for line := range strings.Lines(wrapText(text, a.width(), 0, 0)) {
		a.print(a.style(styleStrong, strings.TrimSuffix(line, "\n")) + "\n")
	}
}

// lead prints a marked beginning and text behind it, wrapped to the width.
func (a *app) lead(style, head, gap, text string) {
	if a.ascii() {
		head, text = toASCII(head), toASCII(text)
	}
	body := wrapText(text, a.width(), len([]rune(head+gap)), 0)
	a.print(a.style(style, head) + gap + strings.TrimLeft(body, " "))
}

// The ways a word may be marked on a terminal. Color only repeats what the
// words say.
const (
	styleGood   = "32;1" // within limits
	styleBad    = "31;1" // over a limit
	styleWarn   = "33;1"
	styleStrong = "1"
	styleFaint  = "2"
)

// style marks text on a color terminal and leaves it alone anywhere else.
func (a *app) style(style, text string) string {
	if !a.color() || text == "" {
		return text
	}
	return "\x1b[" + style + "m" + text + "\x1b[0m"
}

// globalFlags adds the flags that every command understands.
func (a *app) globalFlags(root *cobra.Command) {
	f := root.PersistentFlags()
	f.Var(&a.units, "units", "display units, c (°C, mm) or f (°F, in) (default: those of the studio file, else c)")
	f.StringVar(&a.studio, "studio", "", "kiln, controller and limits from `file` (default: ./studio.toml if it exists)")
	f.BoolVar(&a.json, "json", false, "print the answer as JSON")
	f.BoolVar(&a.plain, "plain", false, "print ASCII only, no color")
}

// systemFlag is the value of --units.
type systemFlag struct {
	system unit.System
	set    bool
}

func (f *systemFlag) String() string { return "" }
func (f *systemFlag) Type() string   { return "c|f" }

// Set accepts what unit.ParseSystem accepts.
func (f *systemFlag) Set(s string) error {
	system, err := unit.ParseSystem(s)
	if err != nil {
		return err
	}
	f.system, f.set = system, true
	return nil
}

// output collects results, so that a command that fails half-way prints no
// half answer. Flush hands them on.
type output struct {
	w     io.Writer
	buf   bytes.Buffer
	ended bool // the reader has gone
}

// Write collects p. It never fails.
func (o *output) Write(p []byte) (int, error) { return o.buf.Write(p) }

// Flush writes what was collected. A reader that has gone away had enough:
// that is no error, and the rest is dropped.
func (o *output) Flush() error {
	defer o.buf.Reset()
	if o.ended || o.buf.Len() == 0 {
		return nil
	}
	_, err := o.w.Write(o.buf.Bytes())
	if isBrokenPipe(err) {
		o.ended = true
		return nil
	}
	if err != nil {
		return fmt.Errorf("standard output: %w", cause(err))
	}
	return nil
}

// isBrokenPipe reports whether the reading end of a pipe was closed.
func isBrokenPipe(err error) bool {
	var number syscall.Errno
	if !errors.As(err, &number) {
		return false
	}
	if runtime.GOOS == "windows" {
		return number == 109 || number == 232 // ERROR_BROKEN_PIPE, ERROR_NO_DATA
	}
	return number == syscall.EPIPE
}
