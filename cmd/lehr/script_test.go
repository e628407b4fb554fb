package main

import (
	"encoding/json"
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"lehr/cmd/lehr/term"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the expected output inside the scripts")

// TestMain lets scripts run this binary as lehr.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"lehr": main})
}

// TestScript runs every script of testdata/script. A script is a user's
// session: commands, files, and what must come out. Run one with
// -run 'TestScript/plan_mixed'; -update rewrites the files a cmp compares with.
func TestScript(t *testing.T) {
	testscript.Run(t, scriptParams("../../testdata/script"))
}

// scriptParams is the bench: the same environment on every machine, and the
// sample loads of testdata in testdata/loads of the script's directory.
func scriptParams(dir string) testscript.Params {
	return testscript.Params{
		Dir:                 dir,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Setup: func(env *testscript.Env) error {
			home := filepath.Join(env.WorkDir, ".home")
			if err := os.MkdirAll(home, 0o755); err != nil {
				return err
			}
			env.Setenv("HOME", home)
			env.Setenv("USERPROFILE", home)
			env.Setenv("TZ", "UTC")
			env.Setenv("LANG", "C.UTF-8")
			for _, name := range []string{"LC_ALL", "LC_CTYPE", "NO_COLOR", "TERM_PROGRAM"} {
				env.Setenv(name, "")
			}
			env.Setenv("TERM", "xterm")
			for name, days := range map[string]int{"TODAY": 0, "TOMORROW": 1, "WEEKAGO": -7, "YEARAGO": -366} {
				env.Setenv(name, time.Now().UTC().AddDate(0, 0, days).Format(time.DateOnly))
			}
			return os.CopyFS(filepath.Join(env.WorkDir, "testdata", "loads"), os.DirFS("../../testdata/loads"))
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"status":  scriptStatus,
			"columns": scriptColumns,
			"ascii":   scriptASCII,
			"json":    scriptJSON,
			"grow":    scriptGrow,
			"spoil":   scriptSpoil,
			"append":  scriptAppend,
		},
	}
}

// scriptStatus runs a program and wants exactly this exit status:
//
//	status 2 lehr plan --nonsense
func scriptStatus(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status <n> <program> [args]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%s: %v", args[1], err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

// scriptColumns wants no line of a file to be wider than n:
//
//	columns 80 stdout
func scriptColumns(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: columns <n> <file>")
	}
	n, err := strconv.Atoi(args[0])
	ts.Check(err)
	for line := range strings.Lines(ts.ReadFile(args[1])) {
		if line = strings.TrimRight(line, "\r\n"); term.Columns(line) > n {
			ts.Fatalf("%d columns: %s", term.Columns(line), line)
		}
	}
}

// scriptASCII wants a file to hold printable ASCII only.
func scriptASCII(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: ascii <file>")
	}
	for line := range strings.Lines(ts.ReadFile(args[0])) {
		for _, r := range strings.TrimRight(line, "\r\n") {
			if r < ' ' || r > '~' {
				ts.Fatalf("%q in: %s", r, line)
			}
		}
	}
}

// scriptJSON wants a file to be one JSON value and nothing else.
func scriptJSON(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: json <file>")
	}
	var v any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(args[0])), &v))
}

// scriptGrow repeats the contents of a file until it has at least n bytes:
//
//	grow 10000000 big.toml
func scriptGrow(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: grow <n> <file>")
	}
	n, err := strconv.Atoi(args[0])
	ts.Check(err)
	text := ts.ReadFile(args[1])
	if text == "" {
		ts.Fatalf("%s is empty", args[1])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(strings.Repeat(text, n/len(text)+1)), 0o644))
}

// scriptSpoil writes a zero byte at the head of a file, so that it is no text.
func scriptSpoil(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: spoil <file>")
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte("\x7f\x00"+ts.ReadFile(args[0])), 0o644))
}

// scriptAppend adds the text of one file to the end of another:
//
//	append line.txt studio.toml
func scriptAppend(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: append <from> <to>")
	}
	text := ts.ReadFile(args[1]) + ts.ReadFile(args[0])
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(text), 0o644))
}
