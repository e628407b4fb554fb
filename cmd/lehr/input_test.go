package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lehr/cmd/lehr/term"
)

// TestReadPipe: a pipe that never answers is said and given up; one that
// answers late is read, and can be read again.
func TestReadPipe(t *testing.T) {
	say, giveUp := sayAfter, giveUpSet
	sayAfter = 20 * time.Millisecond
	defer func() { sayAfter, giveUpSet = say, giveUp }()
	var words bytes.Buffer
	a := newApp(nil, io.Discard, &words, term.Terminal{UTF8: true})
	all := func(into *string) func(io.Reader) error {
		return func(r io.Reader) error {
			data, err := io.ReadAll(r)
			*into = string(data)
			return err
		}
	}
	var got string
	never, _ := io.Pipe()
	err := a.readPipe("never", 60*time.Millisecond, func() (io.ReadCloser, error) { return never, nil }, all(&got))
	if err == nil || err.Error() != "never: is a pipe that was silent for 60ms" {
		t.Errorf("error %v", err)
	}
	if words.String() != "lehr: waiting for never, a pipe that is silent; Ctrl-C ends this\n" {
		t.Errorf("said %q", &words)
	}
	words.Reset()
	if again := a.read("never", all(&got)); again != err || words.Len() > 0 {
		t.Errorf("asked again: %v, said %q", again, &words)
	}
	late, writer := io.Pipe()
	go func() {
		for range 5 { // silent for 200 ms at a time, for a second in all
			time.Sleep(200 * time.Millisecond)
			io.WriteString(writer, "x\n")
		}
		writer.Close()
	}()
	err = a.readPipe("late", 800*time.Millisecond, func() (io.ReadCloser, error) { return late, nil }, all(&got))
	if err != nil || got != "x\nx\nx\nx\nx\n" {
		t.Errorf("read %q, %v", got, err)
	}
	if err = a.read("late", all(&got)); err != nil || got != "x\nx\nx\nx\nx\n" {
		t.Errorf("read again %q, %v", got, err)
	}
	endless, err := os.Open(os.DevNull)
	if err != nil {
		t.Fatal(err)
	}
	defer endless.Close()
	err = a.readPipe("zeros", time.Second, func() (io.ReadCloser, error) { return io.NopCloser(zeros{}), nil }, all(&got))
	if err != nil || len(got) > 2<<20 {
		t.Errorf("read %d bytes of what never ends, %v", len(got), err)
	}
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { return len(p), nil }

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
