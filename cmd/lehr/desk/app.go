// Package desk is what every command works at: the streams and the terminal, the
// flags that all commands have, the files they read and write, the studio, and the
// errors by which they end. It knows no command and computes nothing.
package desk

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// App is what every command shares: the streams, the global flags, and what is
// known about the terminal. It lives for one command line.
type App struct {
	term.Screen // where results are printed; they appear when the command succeeds
	In          io.Reader
	results     *output // what the screen writes to
	Err         io.Writer
	ErrTerm     term.Terminal // about Err

	Files outfile.Set      // what this command line reads and writes
	Outs  []*OutFlag       // the flags that name a file to write
	piped map[string]piped // what came through a pipe, which speaks once

	Ended <-chan struct{} // closed when nothing is to be waited for any more; nil for never

	Args   []string // the command line, without the name of the program
	units  SystemFlag
	Studio string // the file named by --studio, "" if none
	JSON   bool
	Chart  bool // plan: draw the curve, too
	Shows  report.Drawn
	Why    bool // plan, verify: reasons, assumptions and sources, too
}

// New returns what a command line shares that reads and writes these streams;
// t is the terminal that out is.
func New(in io.Reader, out, err io.Writer, t term.Terminal) *App {
	results := &output{w: out}
	return &App{Screen: term.Screen{Out: results, Term: t}, In: in, results: results, Err: err}
}

// Again returns the same streams for one more command line, which has no input.
func (a *App) Again() *App {
	b := New(strings.NewReader(""), a.results.w, a.Err, a.Term)
	b.ErrTerm = a.ErrTerm
	return b
}

// System returns the unit system of this run: --units if given, else fallback
// (what the studio file says, or unit.Metric).
func (a *App) System(fallback unit.System) unit.System {
	if a.units.set {
		return a.units.system
	}
	return fallback
}

// View is where the report of this run is printed.
func (a *App) View() *report.View {
	return &report.View{Screen: &a.Screen, Why: a.Why, Chart: a.Chart, Drawn: a.Shows}
}

// Flush hands on what was printed so far.
func (a *App) Flush() error { return a.results.Flush() }

// GlobalFlags adds the flags that every command understands.
func (a *App) GlobalFlags(root *cobra.Command) {
	f := root.PersistentFlags()
	f.Var(&a.units, "units", "display units, c (°C, mm) or f (°F, in) (default: those of the studio file, else c)")
	f.StringVar(&a.Studio, "studio", "", "kiln, controller and limits from `file` (default: ./studio.toml if it exists)")
	f.BoolVar(&a.JSON, "json", false, "print the answer as JSON")
	f.BoolVar(&a.Plain, "plain", false, "print ASCII only, no color")
}

// SystemFlag is the value of --units.
type SystemFlag struct {
	system unit.System
	set    bool
}

func (f *SystemFlag) String() string { return "" }
func (f *SystemFlag) Type() string   { return "c|f" }

// Set accepts what unit.ParseSystem accepts.
func (f *SystemFlag) Set(s string) error {
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

// Interruptible returns a context that ends at the first interrupt; a second
// one kills. Only a command that watches the context should ask for it: the
// others end at once on an interrupt, as usual. Call the returned function
// when the work is over.
func Interruptible(ctx context.Context) (context.Context, context.CancelFunc) {
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	return ctx, stop
}
