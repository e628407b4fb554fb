package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"runtime"
	"syscall"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// app is what every command shares: the streams, the global flags, and what is
// known about the terminal. It lives for one command line.
type app struct {
	in        io.Reader
	out       *output // results; printed when the command succeeds
	err       io.Writer
	term      term.Terminal // about out
	errTTY    bool          // err is a terminal: progress may be shown there
	errRedraw bool          // that terminal can draw a line again
	// errWidth is the columns of that terminal, 0 if there is none: messages
	// stay one line then.
	errWidth int

	files outfile.Set      // what this command line reads and writes
	outs  []*outFlag       // the flags that name a file to write
	piped map[string]piped // what came through a pipe, which speaks once

	args   []string // the command line, without the name of the program
	units  systemFlag
	studio string // the file named by --studio, "" if none
	json   bool
	plain  bool
	chart  bool // plan: draw the curve, too
	shows  report.Drawn
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

// screen is where the results of this run are printed.
func (a *app) screen() *term.Screen { return &term.Screen{Out: a.out, Term: a.term, Plain: a.plain} }

// view is where the report of this run is printed.
func (a *app) view() *report.View {
	return &report.View{Screen: a.screen(), Why: a.why, Chart: a.chart, Drawn: a.shows}
}

// ascii reports whether results must keep to ASCII.
func (a *app) ascii() bool { return a.screen().ASCII() }

// width returns the columns that tables and prose may use.
func (a *app) width() int { return a.screen().Width() }

// The commands print by these, each of which is the one of its screen.
func (a *app) print(text string)                          { a.screen().Print(text) }
func (a *app) printf(format string, args ...any)          { a.screen().Printf(format, args...) }
func (a *app) prose(indent int, text string)              { a.screen().Prose(indent, text) }
func (a *app) item(mark, text string)                     { a.screen().Item(mark, text) }
func (a *app) strong(text string)                         { a.screen().Strong(text) }
func (a *app) lead(style, head, gap, text string)         { a.screen().Lead(style, head, gap, text) }
func (a *app) style(style, text string) string            { return a.screen().Style(style, text) }
func (a *app) hanging(column int, text string)            { a.screen().Hanging(column, text) }
func (a *app) section(title string)                       { a.screen().Section(title) }
func (a *app) list(head string, items []string)           { a.screen().List(head, items) }
func (a *app) table(cols []column, rows [][]string) error { return a.screen().Table(cols, rows) }

// column is one column of a table, see term.Column.
type column = term.Column

func textColumn(head string) column   { return term.TextColumn(head) }
func numberColumn(head string) column { return term.NumberColumn(head) }
func longColumn(head string) column   { return term.LongColumn(head) }

// short and whole write numbers, see term.Short and term.Whole.
func short(x float64) string { return term.Short(x) }
func whole(x float64) string { return term.Whole(x) }

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
