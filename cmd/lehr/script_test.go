package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"lehr/cmd/lehr/term"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the expected output inside the scripts")

// scriptPrograms are the programs that this binary is for a script.
var scriptPrograms = map[string]func(){"lehr": main}

// TestMain lets scripts run this binary as lehr, and more of them beside each other
// than there are processors: some wait for a file or a server.
func TestMain(m *testing.M) {
	if err := flag.Set("test.parallel", strconv.Itoa(2*runtime.GOMAXPROCS(0))); err != nil {
		panic(err)
	}
	testscript.Main(m, scriptPrograms)
}

// TestScript runs every script of testdata/script. A script is a user's
// session: commands, files, and what must come out. Run one with
// -run 'TestScript/plan_mixed'; -update rewrites the files a cmp compares with.
// What begins with [long] takes seconds and runs with LEHR_LONG=1 or -update; what
// begins with [campaign] is another row of a kind of which one is [long], and runs with
// LEHR_CAMPAIGN=1 or -update.
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
		Condition: func(cond string) (bool, error) {
			all := *update || os.Getenv("LEHR_CAMPAIGN") == "1"
			switch cond {
			case "campaign":
				return all, nil
			case "long":
				return all || os.Getenv("LEHR_LONG") == "1", nil
			}
			return false, fmt.Errorf("no condition %q", cond)
		},
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
			"values":  scriptValues,
			"grow":    scriptGrow,
			"spoil":   scriptSpoil,
			"append":  scriptAppend,
			"alike":   scriptAlike,
		},
	}
}

// scriptStatus runs a program and wants exactly this exit status; where it is 1 or
// 2, which no answer has, nothing may be on standard output:
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
	if out := ts.ReadFile("stdout"); (got == 1 || got == 2) && args[1] == "lehr" && out != "" {
		ts.Fatalf("exit status %d, with an answer: %s", got, out)
	}
}

// made is when a sheet was made, to the minute, and the sum of it that it ends with.
var made = regexp.MustCompile(`(Made|Planned) \w{3} \w{3} \d+, \d{4}, \d\d:\d\d|wrote this sheet.*\([0-9a-f]+\)`)

// scriptAlike wants two sheets to be the same but for the minute:
//
//	alike stdout sheet.html
func scriptAlike(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: alike <sheet> <sheet>")
	}
	a, b := ts.ReadFile(args[0]), ts.ReadFile(args[1])
	if !made.MatchString(a) || made.ReplaceAllString(a, "") != made.ReplaceAllString(b, "") {
		ts.Fatalf("%s and %s differ by more than when they were made", args[0], args[1])
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

// scriptValues wants a file to be one JSON value in which each path (keys and
// indices, with dots between) leads to something that the pattern after it matches
// as a whole: a text without its quotes, anything else as compact JSON.
//
//	values stdout verdict 'over limit' pieces.0.peak_tension_MPa '1\.\d+'
func scriptValues(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 || len(args)%2 == 0 {
		ts.Fatalf("usage: values <file> (<path> <pattern>)...")
	}
	var whole any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(args[0])), &whole))
	for pair := range slices.Chunk(args[1:], 2) {
		v := whole
		for _, key := range strings.Split(pair[0], ".") {
			switch x := v.(type) {
			case map[string]any:
				next, ok := x[key]
				if !ok {
					ts.Fatalf("%s: no key %s", pair[0], key)
				}
				v = next
			case []any:
				i, err := strconv.Atoi(key)
				if err != nil || i < 0 || i >= len(x) {
					ts.Fatalf("%s: no element %s of %d", pair[0], key, len(x))
				}
				v = x[i]
			default:
				ts.Fatalf("%s: nothing below %v", pair[0], v)
			}
		}
		got, isText := v.(string)
		if !isText {
			b, err := json.Marshal(v)
			ts.Check(err)
			got = string(b)
		}
		want, err := regexp.Compile("(?s)^(?:" + pair[1] + ")$")
		ts.Check(err)
		if !want.MatchString(got) {
			ts.Fatalf("%s: %s, want %s", pair[0], got, pair[1])
		}
	}
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
