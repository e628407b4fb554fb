package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
)

// eachCommand calls f with every command of the tree a user can see.
func eachCommand(f func(c *cobra.Command)) {
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		f(c)
		for _, child := range availableCommands(c) {
			walk(child)
		}
	}
	walk(newRootCommand(&app{desk.New(nil, nil, nil, term.Terminal{})}))
}

// commandWords returns the command line that calls c.
func commandWords(c *cobra.Command) []string { return strings.Fields(c.CommandPath())[1:] }

// exitConstants reads the exit constants from the source.
func exitConstants(t *testing.T) map[string]int {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "main.go", nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]int{}
	ast.Inspect(file, func(n ast.Node) bool {
		spec, ok := n.(*ast.ValueSpec)
		if ok && strings.HasPrefix(spec.Names[0].Name, "exit") {
			if lit, ok := spec.Values[0].(*ast.BasicLit); ok {
				found[spec.Names[0].Name], _ = strconv.Atoi(lit.Value)
			}
		}
		return true
	})
	return found
}

// TestHelp checks what every help must have: eighty columns at most, an
// example, and an EXIT STATUS section that names exactly the constants.
func TestHelp(t *testing.T) {
	constants := exitConstants(t)
	if len(constants) != 4 {
		t.Fatalf("main.go has %d exit constants, want 4", len(constants))
	}
	line := regexp.MustCompile(`(?m)^  (\d+)  \S`)
	eachCommand(func(c *cobra.Command) {
		for _, args := range [][]string{append(commandWords(c), "--help"), append([]string{"help"}, commandWords(c)...)} {
			stdout, stderr, code := runHere(args...)
			if code != 0 || stderr != "" {
				t.Errorf("%v: exit status %d, stderr %q", args, code, stderr)
			}
			_, section, ok := strings.Cut(stdout, "\nEXIT STATUS\n")
			if !ok {
				t.Errorf("%v: no EXIT STATUS", args)
			}
			shown := line.FindAllStringSubmatch(section, -1)
			if len(shown) != len(constants) {
				t.Errorf("%v: %d exit statuses, want %d", args, len(shown), len(constants))
			}
			for _, m := range shown {
				known := false
				for _, value := range constants {
					known = known || m[1] == strconv.Itoa(value)
				}
				if !known {
					t.Errorf("%v: exit status %s is no constant", args, m[1])
				}
			}
			for l := range strings.SplitSeq(stdout, "\n") {
				if term.Columns(l) > term.MaxWidth {
					t.Errorf("%v: %d columns: %s", args, term.Columns(l), l)
				}
			}
		}
		if c.Short == "" || strings.HasSuffix(c.Short, ".") {
			t.Errorf("%s: Short %q: one clause without a full stop", c.CommandPath(), c.Short)
		}
	})
}

// TestExamples wants an example for every command, and every example to be run
// by a script or by the README.
func TestExamples(t *testing.T) {
	run := map[string]bool{}
	files, err := filepath.Glob("../../testdata/script/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	prefix, background := regexp.MustCompile(`^(\[long\] )?(! )?(exec( sh \w+\.sh)?|status \d+) `), regexp.MustCompile(` &\w+&$`)
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.SplitSeq(string(text), "\n") {
			if prefix.MatchString(line) {
				run[strings.TrimSpace(background.ReplaceAllString(prefix.ReplaceAllString(line, ""), ""))] = true
			}
		}
	}
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	script, _ := readmeScript(readmeSteps(string(readme)))
	for line := range strings.SplitSeq(script, "\n") {
		run[prefix.ReplaceAllString(line, "")] = true
	}
	eachCommand(func(c *cobra.Command) {
		if c.Example == "" {
			t.Errorf("%s: no example", c.CommandPath())
		}
		for line := range strings.SplitSeq(c.Example, "\n") {
			line = strings.TrimSpace(line)
			if !strings.HasPrefix(line, "lehr") {
				if line != "" && !strings.HasPrefix(line, "#") {
					t.Errorf("%s: example %q does not start with lehr", c.CommandPath(), line)
				}
				continue
			}
			command, _, _ := strings.Cut(line, " > ")
			command, _, _ = strings.Cut(command, " | ")
			command = strings.ReplaceAll(strings.TrimSpace(command), `"`, `'`)
			if !run[command] {
				t.Errorf("%s: no script runs the example: %s", c.CommandPath(), line)
			}
		}
	})
}

// TestReadmeExitStatus compares the README's list with the help.
func TestReadmeExitStatus(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range exitStatuses() {
		row := "| `" + strconv.Itoa(s.code) + "` | " + s.when + " |"
		if !strings.Contains(string(text), row) {
			t.Errorf("README.md: no line %q", row)
		}
	}
}

// TestOneTestCommand wants the README, DEVELOPERS and the checks of a change
// to run the same tests.
func TestOneTestCommand(t *testing.T) {
	for _, name := range []string{"README.md", "DEVELOPERS.md", ".ci/run"} {
		text, err := os.ReadFile(filepath.Join(rootDir, name))
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), "go test ./...") {
			t.Errorf("%s: does not run go test ./...", name)
		}
	}
}
