package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

const readmeName = "../../README.md"

// readmeStep is a command of a console block with the output that is shown.
type readmeStep struct {
	command, output, status string
}

// TestReadme runs the console blocks of the README and compares what comes
// out, so that the README cannot lie. A line that starts with "$ " is a
// command, the lines after it are its standard output, and "$ echo $?" is
// followed by the exit status of the command before it. "$ cat load.toml" shows
// a file and creates it. A line "..." stands for any lines; there may be one for
// each command. With -update the README is rewritten from what comes out.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile(readmeName)
	if err != nil {
		t.Fatal(err)
	}
	steps := readmeSteps(string(text))
	script, commands := readmeScript(steps)
	if commands == 0 {
		t.Fatal("README.md has no console block with a command")
	}
	file := filepath.Join(t.TempDir(), "readme.txtar")
	if err := os.WriteFile(file, []byte(script), 0o644); err != nil {
		t.Fatal(err)
	}
	shown := map[string]string{}
	p := scriptParams("")
	p.Files, p.UpdateScripts = []string{file}, false
	p.Cmds["shows"] = func(ts *testscript.TestScript, neg bool, args []string) {
		want, got := ts.ReadFile(args[0]), ts.ReadFile("stdout")
		if elided(want, got) == want {
			return
		}
		if *update {
			shown[args[0]] = elided(toParagraph(want, got), got)
			return
		}
		ts.Fatalf("README.md shows\n%s\nbut it prints\n%s", want, elided(want, got))
	}
	t.Run("console", func(t *testing.T) { testscript.Run(t, p) })
	if len(shown) > 0 {
		for i := range steps {
			if output, ok := shown[fmt.Sprintf("want%d", i)]; ok {
				steps[i].output = output
			}
		}
		if err := os.WriteFile(readmeName, []byte(rewriteReadme(string(text), steps)), 0o644); err != nil {
			t.Fatal(err)
		}
		t.Log("README.md updated")
	}
}

// elided returns what want would show of got: as many lines before and after
// "..." as want has.
func elided(want, got string) string {
	lines := strings.SplitAfter(want, "\n")
	all := strings.SplitAfter(got, "\n")
	for i, line := range lines {
		if line == "...\n" {
			after := len(lines) - i - 1 // with the empty rest behind the last line
			if i+after >= len(all) {
				return got
			}
			return strings.Join(all[:i], "") + line + strings.Join(all[len(all)-after:], "")
		}
	}
	return got
}

// toParagraph gives want as many lines before "..." as bring what it shows of
// got to the end of a paragraph.
func toParagraph(want, got string) string {
	head, tail, found := strings.Cut(want, "...\n")
	if !found {
		return want
	}
	all := strings.Split(got, "\n")
	for i := strings.Count(head, "\n"); i > 0 && i < len(all) && all[i] != ""; i++ {
		head += "\n"
	}
	return head + "...\n" + tail
}

// readmeLines calls f with each line, and the number of the step it is output
// of or -1.
func readmeLines(text string, f func(line string, command bool, step int)) {
	inside, step := false, -1
	for line := range strings.Lines(text) {
		trimmed := strings.TrimRight(line, "\r\n")
		switch {
		case trimmed == "```console":
			inside = true
			f(line, false, -1)
		case strings.HasPrefix(trimmed, "```"):
			inside = false
			f(line, false, -1)
		case inside && strings.HasPrefix(trimmed, "$ "):
			step++
			f(line, true, step)
		case inside:
			f(line, false, step)
		default:
			f(line, false, -1)
		}
	}
}

// readmeSteps reads the console blocks.
func readmeSteps(text string) (steps []readmeStep) {
	readmeLines(text, func(line string, command bool, step int) {
		switch {
		case command:
			steps = append(steps, readmeStep{command: strings.TrimSpace(strings.TrimPrefix(line, "$ ")), status: "0"})
		case step >= 0:
			steps[step].output += line
		}
	})
	for i := 1; i < len(steps); i++ {
		if steps[i].command == "echo $?" {
			steps[i-1].status = strings.TrimSpace(steps[i].output)
		}
	}
	return steps
}

// rewriteReadme puts the outputs of steps into the text.
func rewriteReadme(text string, steps []readmeStep) string {
	var b strings.Builder
	readmeLines(text, func(line string, command bool, step int) {
		switch {
		case command:
			b.WriteString(line + steps[step].output)
		case step < 0:
			b.WriteString(line)
		}
	})
	return b.String()
}

// readmeScript turns the steps into a test script.
func readmeScript(steps []readmeStep) (script string, commands int) {
	var body, files strings.Builder
	for i, s := range steps {
		if s.command == "echo $?" {
			continue
		}
		if name, ok := strings.CutPrefix(s.command, "cat "); ok {
			fmt.Fprintf(&files, "-- %s --\n%s", name, s.output)
			continue
		}
		command := strings.Replace(s.command, "go run ./cmd/lehr", "lehr", 1)
		command = strings.ReplaceAll(command, `"`, `'`)
		fmt.Fprintf(&body, "# %s\nstatus %s %s\nshows want%d\n", s.command, s.status, command, i)
		fmt.Fprintf(&files, "-- want%d --\n%s", i, s.output)
		commands++
	}
	return body.String() + files.String(), commands
}

// TestReadmeBlocks pins how a block becomes a script and how it is rewritten.
func TestReadmeBlocks(t *testing.T) {
	text := "text\n```console\n$ cat a.toml\nx = 1\n$ go run ./cmd/lehr plan a.toml --piece \"rod 1in\"\nover\n...\nend\n$ echo $?\n3\n```\n```sh\n$ not this\n```\n"
	steps := readmeSteps(text)
	got, n := readmeScript(steps)
	want := "# go run ./cmd/lehr plan a.toml --piece \"rod 1in\"\n" +
		"status 3 lehr plan a.toml --piece 'rod 1in'\nshows want1\n" +
		"-- a.toml --\nx = 1\n-- want1 --\nover\n...\nend\n"
	if got != want || n != 1 {
		t.Errorf("got %d commands:\n%s\nwant:\n%s", n, got, want)
	}
	if got := rewriteReadme(text, steps); got != text {
		t.Errorf("rewritten without a change:\n%s", got)
	}
	steps[1].output = "new\n"
	if got, want := rewriteReadme(text, steps), strings.Replace(text, "over\n...\nend\n", "new\n", 1); got != want {
		t.Errorf("rewritten:\n%s\nwant:\n%s", got, want)
	}
	if got, want := toParagraph("1\n...\nz\n", "a\nb\n\nc\nd\n"), "1\n\n...\nz\n"; got != want {
		t.Errorf("toParagraph = %q, want %q", got, want)
	}
	for _, c := range [][3]string{
		{"a\n", "b\n", "b\n"},
		{"x\n...\n", "a\nb\nc\n", "a\n...\n"},
		{"x\n...\ny\n", "a\nb\nc\nd\n", "a\n...\nd\n"},
		{"x\n...\ny\n", "a\n", "a\n"},
	} {
		if got := elided(c[0], c[1]); got != c[2] {
			t.Errorf("elided(%q, %q) = %q, want %q", c[0], c[1], got, c[2])
		}
	}
}
