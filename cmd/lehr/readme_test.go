package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestReadme runs the console blocks of the README and compares what comes
// out, so that the README cannot lie. A line that starts with "$ " is a
// command, the lines after it are its standard output, and "$ echo $?" is
// followed by the exit status of the command before it. A block may show the
// contents of a file: "$ cat load.toml" creates it.
func TestReadme(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	script, commands := readmeScript(string(text))
	if commands == 0 {
		t.Fatal("README.md has no console block with a command")
	}
	file := filepath.Join(t.TempDir(), "readme.txtar")
	if err := os.WriteFile(file, []byte(script), 0o644); err != nil {
		t.Fatal(err)
	}
	p := scriptParams("")
	p.Files, p.UpdateScripts = []string{file}, false
	testscript.Run(t, p)
}

// readmeScript turns console blocks into a test script.
func readmeScript(text string) (script string, commands int) {
	type step struct{ command, output, status string }
	var steps []step
	inside := false
	for line := range strings.Lines(text) {
		trimmed := strings.TrimRight(line, "\r\n")
		switch {
		case trimmed == "```console":
			inside = true
		case strings.HasPrefix(trimmed, "```"):
			inside = false
		case inside && strings.HasPrefix(trimmed, "$ "):
			steps = append(steps, step{command: strings.TrimPrefix(trimmed, "$ "), status: "0"})
		case inside && len(steps) > 0:
			steps[len(steps)-1].output += line
		}
	}
	var body, files strings.Builder
	for i, s := range steps {
		switch {
		case s.command == "echo $?":
			continue
		case strings.HasPrefix(s.command, "cat "):
			fmt.Fprintf(&files, "-- %s --\n%s", strings.TrimPrefix(s.command, "cat "), s.output)
			continue
		}
		if i+1 < len(steps) && steps[i+1].command == "echo $?" {
			s.status = strings.TrimSpace(steps[i+1].output)
		}
		command := strings.Replace(s.command, "go run ./cmd/lehr", "lehr", 1)
		command = strings.ReplaceAll(command, `"`, `'`)
		fmt.Fprintf(&body, "# README: %s\nstatus %s %s\ncmp stdout want%d\n", s.command, s.status, command, i)
		fmt.Fprintf(&files, "-- want%d --\n%s", i, s.output)
		commands++
	}
	return body.String() + files.String(), commands
}

// TestReadmeScript pins how a block becomes a script.
func TestReadmeScript(t *testing.T) {
	got, n := readmeScript("text\n```console\n$ cat a.toml\nx = 1\n$ go run ./cmd/lehr plan a.toml --piece \"rod 1in\"\nover\n$ echo $?\n3\n```\n```sh\n$ not this\n```\n")
	want := "# README: go run ./cmd/lehr plan a.toml --piece \"rod 1in\"\n" +
		"status 3 lehr plan a.toml --piece 'rod 1in'\ncmp stdout want1\n" +
		"-- a.toml --\nx = 1\n-- want1 --\nover\n"
	if got != want || n != 1 {
		t.Errorf("got %d commands:\n%s\nwant:\n%s", n, got, want)
	}
}
