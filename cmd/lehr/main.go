// Command lehr turns a load of hot glass into a kiln program and proves it.
//
// This package holds the commands, their flags and the texts of their help, and no
// physics: what a command answers is the matter of a room beside it.
package main

import (
	"context"
	"errors"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
)

// The exit statuses, documented in every command's help (see exitStatuses).
const (
	exitDone  = 0 // done, and within limits
	exitFail  = 1 // could not
	exitUsage = 2 // wrong usage
	exitOver  = 3 // done, but a limit is exceeded
)

// app is one command line of lehr: what every command shares, and the commands.
type app struct{ *desk.App }

func main() {
	spendMemory()
	os.Exit(run())
}

// spendMemory has memory collected a quarter as often, which saves a tenth of the
// time of a search, as long as little is in use. Who sets GOGC or GOMEMLIMIT
// decides alone.
func spendMemory() {
	const percent, limit = 400, 256 << 20
	if os.Getenv("GOGC") != "" || os.Getenv("GOMEMLIMIT") != "" {
		return
	}
	debug.SetGCPercent(percent)
	debug.SetMemoryLimit(limit)
}

// run runs the command line once and returns the exit status.
func run() int {
	// A reader that stops early (lehr glass | head -1) then shows as an error
	// of the write, which output takes as "enough", not as death by signal.
	signal.Ignore(syscall.SIGPIPE)
	a := &app{desk.New(os.Stdin, os.Stdout, os.Stderr, term.LookAt(os.Stdout, os.Getenv))}
	a.ErrTerm = term.LookAt(os.Stderr, os.Getenv)
	return a.run(context.Background(), os.Args[1:])
}

// run runs one command line with the streams of a.
func (a *app) run(ctx context.Context, args []string) int {
	a.Args = args
	return a.execute(ctx, newRootCommand(a), args)
}

// execute runs one command line of a tree and prints what it has to say.
func (a *app) execute(ctx context.Context, root *cobra.Command, args []string) int {
	root.SetArgs(args)
	root.SetOut(a.Out)
	root.SetErr(a.Err)
	err := root.ExecuteContext(ctx)
	if errors.Is(err, context.Canceled) {
		err = errors.New("interrupted")
	}
	code := exitCode(err)
	if code == exitDone || code == exitOver {
		if failed := a.Commit(); failed != nil {
			err, code = failed, exitCode(failed)
		}
	}
	if code == exitDone || code == exitOver {
		if flushErr := a.Flush(); flushErr != nil {
			err, code = flushErr, exitFail
		}
	}
	if code == exitFail || code == exitUsage {
		a.ReportError(err)
	}
	return code
}

// exitCode is the one place where an error becomes an exit status.
func exitCode(err error) int {
	var usage *desk.UsageError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, desk.ErrOverLimit):
		return exitOver
	case errors.As(err, &usage):
		return exitUsage
	default:
		return exitFail
	}
}
