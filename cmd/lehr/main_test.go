package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/topics"
	"lehr/glass/unit"
)

func TestExitCode(t *testing.T) {
	for _, c := range []struct {
		err  error
		want int
	}{
		{nil, exitDone},
		{errors.New("x"), exitFail},
		{desk.Usagef("", "x"), exitUsage},
		{fmt.Errorf("a: %w", desk.Usagef("", "x")), exitUsage},
		{desk.AsUsage("--piece", errors.New("x")), exitUsage},
		{desk.ErrOverLimit, exitOver},
		{fmt.Errorf("a: %w", desk.ErrOverLimit), exitOver},
		{context.Canceled, exitFail},
	} {
		if got := exitCode(c.err); got != c.want {
			t.Errorf("exitCode(%v) = %d, want %d", c.err, got, c.want)
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
		{desk.ErrOverLimit, "so far", "", exitOver},
		{errors.New("x.toml: broken"), "", "lehr: error: x.toml: broken\n", exitFail},
		{context.Canceled, "", "lehr: error: interrupted\n", exitFail},
	} {
		var out, words bytes.Buffer
		a := &app{desk.New(strings.NewReader(""), &out, &words, term.Terminal{Width: term.MaxWidth, UTF8: true})}
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
	ctx, stop := desk.Interruptible(context.Background())
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

// TestHiddenCharacters: no answer and no file shows a name raw.
func TestHiddenCharacters(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	load := `name = "shore\u001b[31m red\u0007 \u202egnp"
glass = "borosilicate-33"
[[piece]]
what = "sphere 20mm"
note = "\u2066turned"
`
	if err := os.WriteFile(at("load.toml"), []byte(load), 0o644); err != nil {
		t.Fatal(err)
	}
	raw := "\x1b\x07\u202e\u2066"
	for _, args := range [][]string{
		{"plan", at("load.toml"), "-o", at("p.toml"), "--svg", at("c.svg"), "--sheet", at("s.html")},
		{"plan", at("load.toml"), "--json"},
		{"share", at("load.toml")},
		{"safety", at("load.toml"), "--all"},
		{"plan", "--glass", "borosilicate-33", "--piece", "sphere 1in\x1b[31m"},
		{"plan", at("none\x1b[31m\u202e.toml")},
		{"safety", "--fact", "ven\x1bt=\u202efan"},
		{"glass", "boro\x1b[31m"},
		{"pla\x1bn"},
	} {
		stdout, stderr, _ := runHere(args...)
		if text := stdout + stderr; strings.ContainsAny(text, raw) {
			t.Errorf("%q prints hidden characters: %.300q", args, text)
		}
	}
	for _, name := range []string{"p.toml", "c.svg", "s.html"} {
		data, err := os.ReadFile(at(name))
		if err != nil {
			t.Fatal(err)
		}
		if strings.ContainsAny(string(data), raw) {
			t.Errorf("%s holds hidden characters", name)
		}
	}
	page, _ := os.ReadFile(at("s.html"))
	if !strings.Contains(string(page), "shore&lt;U+001B&gt;[31m red&lt;U+0007&gt; &lt;U+202E&gt;gnp") {
		t.Error("the sheet does not show the marks")
	}
}

// TestMessagesAreBrief: whatever is typed, a message stays short.
func TestMessagesAreBrief(t *testing.T) {
	long := strings.Repeat("g", 200_000)
	words := strings.Repeat("very long ", 20_000)
	dir := t.TempDir()
	write := func(name, text string) string {
		name = filepath.Join(dir, name)
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return name
	}
	for _, args := range [][]string{
		{"plan", "--glass", "borosilicate-33", "--piece", long},
		{"plan", "--glass", "borosilicate-33", "--piece", "sphere " + words},
		{"plan", "--glass", long, "--piece", "sphere 1in"},
		{"plan", "--glass", "borosilicate-33", "--piece", "sphere 1in", "--start", long},
		{"plan", "--glass", "borosilicate-33", "--piece", "sphere 1in", "--into", words},
		{"plan", "--" + long}, {long}, {"help", long}, {"glass", words},
		{"safety", "--fact", long}, {"safety", "--at", words},
		{"plan", write("a.toml", "0="+long[:4000])},
		{"plan", write("b.toml", "glass = \"borosilicate-33\"\n[[piece]]\nwhat = \""+long+"\"\n")},
		{"plan", write("c.toml", "glass = \"borosilicate-33\"\n[[piece]]\nwhat = \""+words+"\"\n")},
		{"plan", write("d.toml", "glass = \""+words+"\"\n[[piece]]\nwhat = \"sphere 1in\"\n")},
		{"plan", write("e.toml", long+" = 1\n")},
		{"verify", write("f.toml", "from = \""+long+"\"\n"), "--glass", "borosilicate-33", "--piece", "sphere 1in"},
		{"verify", write("g.toml", "from = \"560 °C\"\n[[segment]]\nrate = \""+words+"\"\n"), "--glass", "borosilicate-33", "--piece", "sphere 1in"},
		{"safety", write("h.toml", "glass = \"borosilicate-33\"\n[session]\nvent = \""+words+"\"\n[[piece]]\nwhat = \"sphere 1in\"\n")},
	} {
		_, stderr, code := runHere(args...)
		if code != exitFail && code != exitUsage {
			t.Errorf("%.60q: exit status %d", args, code)
		}
		for line := range strings.Lines(stderr) {
			if len(line) > 1000 {
				t.Errorf("%.60q: a line of %d bytes: %.200q", args, len(line), line)
			}
		}
		if len(stderr) > 3000 {
			t.Errorf("%.60q: %d bytes of messages", args, len(stderr))
		}
	}
}

func TestTopics(t *testing.T) {
	if topic, ok := topics.Find("accessibility"); !ok || topic.Short == "" || topic.Text(unit.Metric) == "" {
		t.Error("no help on accessibility")
	}
	if _, ok := topics.Find("plan"); ok {
		t.Error("a command is no topic")
	}
}
