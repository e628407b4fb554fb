// Command lehr turns a load of hot glass into a kiln program and proves it.
//
// This package holds flags, files and words, and no physics: it reads what the
// person names, asks the packages below it, and prints the answer.
package main

import (
	"context"
	"errors"
	"os"
	"os/signal"
	"syscall"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/term"
)

// The exit statuses, documented in every command's help (see exitStatuses).
const (
	exitDone  = 0 // done, and within limits
	exitFail  = 1 // could not
	exitUsage = 2 // wrong usage
	exitOver  = 3 // done, but a limit is exceeded
)

// errOverLimit is returned by a command that did its work and printed an
// answer in which a limit is exceeded. It prints nothing and exits 3.
var errOverLimit = errors.New("a limit is exceeded")

func main() {
	os.Exit(run())
}

// run runs the command line once and returns the exit status.
func run() int {
	// A reader that stops early (lehr glass | head -1) then shows as an error
	// of the write, which output takes as "enough", not as death by signal.
	signal.Ignore(syscall.SIGPIPE)
	a := newApp(os.Stdin, os.Stdout, os.Stderr, term.LookAt(os.Stdout, os.Getenv))
	a.errTerm = term.LookAt(os.Stderr, os.Getenv)
	return a.run(context.Background(), os.Args[1:])
}

// run runs one command line with the streams of a.
func (a *app) run(ctx context.Context, args []string) int {
	a.args = args
	return a.execute(ctx, newRootCommand(a), args)
}

// execute runs one command line of a tree and prints what it has to say.
func (a *app) execute(ctx context.Context, root *cobra.Command, args []string) int {
	root.SetArgs(args)
	root.SetOut(a.Out)
	root.SetErr(a.err)
	err := root.ExecuteContext(ctx)
	if errors.Is(err, context.Canceled) {
		err = errors.New("interrupted")
	}
	code := exitCode(err)
	if code == exitDone || code == exitOver {
		if failed := a.commit(); failed != nil {
			err, code = failed, exitCode(failed)
		}
	}
	if code == exitDone || code == exitOver {
		if flushErr := a.flush(); flushErr != nil {
			err, code = flushErr, exitFail
		}
	}
	if code == exitFail || code == exitUsage {
		a.printError(err)
	}
	return code
}

// exitCode is the one place where an error becomes an exit status.
func exitCode(err error) int {
	var usage *usageError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errOverLimit):
		return exitOver
	case errors.As(err, &usage):
		return exitUsage
	default:
		return exitFail
	}
}

// interruptible returns a context that ends at the first interrupt; a second
// one kills. Only a command that watches the context should ask for it: the
// others end at once on an interrupt, as usual. Call the returned function
// when the work is over.
func interruptible(ctx context.Context) (context.Context, context.CancelFunc) {
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	return ctx, stop
}
