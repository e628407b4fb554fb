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
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// app is what every command shares: the streams, the global flags, and what is
// known about the terminal. It lives for one command line.
type app struct {
	term.Screen // where results are printed; they appear when the command succeeds
	in          io.Reader
	results     *output // what the screen writes to
	err         io.Writer
	errTerm     term.Terminal // about err

	files outfile.Set      // what this command line reads and writes
	outs  []*outFlag       // the flags that name a file to write
	piped map[string]piped // what came through a pipe, which speaks once

	args   []string // the command line, without the name of the program
	units  systemFlag
	studio string // the file named by --studio, "" if none
	json   bool
	chart  bool // plan: draw the curve, too
	why    bool // plan, verify: reasons, assumptions and sources, too
}

// newApp returns what a command line shares that reads and writes these streams;
// t is the terminal that out is.
func newApp(in io.Reader, out, err io.Writer, t term.Terminal) *app {
	results := &output{w: out}
	return &app{Screen: term.Screen{Out: results, Term: t}, in: in, results: results, err: err}
}

// again returns the same streams for one more command line, which has no input.
func (a *app) again() *app {
	b := newApp(strings.NewReader(""), a.results.w, a.err, a.Term)
	b.errTerm = a.errTerm
	return b
}

// system returns the unit system of this run: --units if given, else fallback
// (what the studio file says, or unit.Metric).
func (a *app) system(fallback unit.System) unit.System {
	if a.units.set {
		return a.units.system
	}
	return fallback
}

// view is where the report of this run is printed.
func (a *app) view() *report.View {
	return &report.View{Screen: &a.Screen, Why: a.why, Chart: a.chart}
}

// flush hands on what was printed so far.
func (a *app) flush() error { return a.results.Flush() }

// globalFlags adds the flags that every command understands.
func (a *app) globalFlags(root *cobra.Command) {
	f := root.PersistentFlags()
	f.Var(&a.units, "units", "display units, c (°C, mm) or f (°F, in) (default: those of the studio file, else c)")
	f.StringVar(&a.studio, "studio", "", "kiln, controller and limits from `file` (default: ./studio.toml if it exists)")
	f.BoolVar(&a.json, "json", false, "print the answer as JSON")
	f.BoolVar(&a.Plain, "plain", false, "print ASCII only, no color")
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
