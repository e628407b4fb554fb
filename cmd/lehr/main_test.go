package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/term"
)

func TestExitCode(t *testing.T) {
	for _, c := range []struct {
		err  error
		want int
	}{
		{nil, exitDone},
		{errors.New("x"), exitFail},
		{usagef("", "x"), exitUsage},
		{fmt.Errorf("a: %w", usagef("", "x")), exitUsage},
		{asUsage("--piece", errors.New("x")), exitUsage},
		{errOverLimit, exitOver},
		{fmt.Errorf("a: %w", errOverLimit), exitOver},
		{context.Canceled, exitFail},
	} {
		if got := exitCode(c.err); got != c.want {
			t.Errorf("exitCode(%v) = %d, want %d", c.err, got, c.want)
		}
	}
}

// brokenWriter fails like the writing end of a pipe nobody reads, or like a
// full disk.
type brokenWriter struct{ err error }

func (w brokenWriter) Write([]byte) (int, error) { return 0, &os.PathError{Op: "write", Err: w.err} }

func TestOutput(t *testing.T) {
	gone := syscall.EPIPE
	if runtime.GOOS == "windows" {
		gone = 109
	}
	for _, c := range []struct {
		err  error
		want string
	}{{gone, "<nil>"}, {syscall.ENOSPC, "standard output: " + syscall.ENOSPC.Error()}} {
		o := &output{w: brokenWriter{c.err}}
		fmt.Fprint(o, "text")
		if got := fmt.Sprint(o.Flush()); got != c.want {
			t.Errorf("%v: %s, want %s", c.err, got, c.want)
		}
		if err := o.Flush(); err != nil {
			t.Errorf("%v: the second flush says %v", c.err, err)
		}
	}
}

// TestRun_noHalfAnswer checks that a command that fails prints none of what it
// had so far, and that one over a limit prints all.
func TestRun_noHalfAnswer(t *testing.T) {
	for _, c := range []struct {
		err            error
		stdout, stderr string
		code           int
	}{
		{nil, "so far", "", exitDone},
		{errOverLimit, "so far", "", exitOver},
		{errors.New("x.toml: broken"), "", "lehr: error: x.toml: broken\n", exitFail},
		{context.Canceled, "", "lehr: error: interrupted\n", exitFail},
	} {
		var out, words bytes.Buffer
		a := newApp(strings.NewReader(""), &out, &words, term.Terminal{Width: term.MaxWidth, UTF8: true})
		root := newRootCommand(a)
		root.AddCommand(&cobra.Command{Use: "try", RunE: func(*cobra.Command, []string) error {
			a.Print("so far")
			return c.err
		}})
		if code := a.execute(context.Background(), root, []string{"try"}); code != c.code || out.String() != c.stdout || words.String() != c.stderr {
			t.Errorf("%v: status %d, %q, %q", c.err, code, out.String(), words.String())
		}
	}
}

func TestInterruptible(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a process cannot interrupt itself on Windows")
	}
	ctx, stop := interruptible(context.Background())
	defer stop()
	self, err := os.FindProcess(os.Getpid())
	if err != nil {
		t.Fatal(err)
	}
	if err := self.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	select {
	case <-ctx.Done():
	case <-time.After(10 * time.Second):
		t.Fatal("the context does not end at an interrupt")
	}
	if !errors.Is(ctx.Err(), context.Canceled) {
		t.Errorf("%v, want canceled", ctx.Err())
	}
}
