package main

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/program"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/topics"
	"lehr/glass"
)

// exampleOf returns the indented file of a command's help that begins with a
// comment naming it.
func exampleOf(t *testing.T, name string, words ...string) string {
	t.Helper()
	help, stderr, code := runHere(append([]string{"help"}, words...)...)
	if code != 0 {
		t.Fatalf("help %v: %s", words, stderr)
	}
	_, rest, found := strings.Cut(help, "  # "+name)
	if !found {
		t.Fatalf("help %v shows no %s", words, name)
	}
	text, _, _ := strings.Cut("  # "+name+rest, "\n\n")
	file := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(file, []byte(text+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// TestHelpVerify_example: the schedule that help shows can be verified as it
// stands, and it shows every key that such a file takes.
func TestHelpVerify_example(t *testing.T) {
	file := exampleOf(t, "tonight.toml", "verify")
	studio := filepath.Join(t.TempDir(), "studio.toml")
	if err := os.WriteFile(studio, []byte("[kiln]\ncooling_time_constant = \"3 h\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	stdout, stderr, code := runHere("verify", file, "--studio", studio, "--glass", "borosilicate-33", "--piece", "sphere 20mm", "--into", "cold kiln")
	if code != 0 || !strings.HasPrefix(stdout, "Within limits") {
		t.Errorf("exit status %d, stderr %q\n%s", code, stderr, stdout)
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range program.ScheduleKeys() {
		if !regexp.MustCompile(`(?m)^  ` + key + ` *= `).Match(text) {
			t.Errorf("help verify does not show the key %s", key)
		}
	}
}

// TestHelpGlass_example: the glass that help shows is read, and everything it
// does not give is that of the glass it is like.
func TestHelpGlass_example(t *testing.T) {
	file := exampleOf(t, "my-glass.toml", "glass")
	a := &app{desk.New(nil, nil, nil, term.Terminal{})}
	table, err := flags.GlassTable(a.App, file)
	if err != nil {
		t.Fatal(err)
	}
	mine, err := table.Find("my-boro")
	if err != nil {
		t.Fatal(err)
	}
	like, err := table.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	if mine.Strain.Temp().Celsius() != 515 || mine.Anneal.Temp().Celsius() != 560 || mine.Soften.Temp().Celsius() != 825 {
		t.Errorf("points %v %v %v", mine.Strain.Text, mine.Anneal.Text, mine.Soften.Text)
	}
	if !reflect.DeepEqual(mine.Young.Number, like.Young.Number) || mine.Conductivity.At == nil {
		t.Error("does not take the rest from the glass it is like")
	}
	stdout, stderr, code := runHere("plan", "--glass-file", file, "--glass", "my-boro", "--piece", "sphere 2in")
	if code != 0 || !strings.HasPrefix(stdout, "Within limits") {
		t.Errorf("exit status %d, stderr %q\n%s", code, stderr, stdout)
	}
}

// TestHelpGlass_everyKey: the file with every key is read and planned with, and
// it shows the keys that the parser takes, all of them.
func TestHelpGlass_everyKey(t *testing.T) {
	file := exampleOf(t, "every-key.toml", "glass")
	a := &app{desk.New(nil, nil, nil, term.Terminal{})}
	if _, err := flags.GlassTable(a.App, file); err != nil {
		t.Fatal(err)
	}
	taken := glass.FileKeys()
	if len(taken) < 40 || !slices.Contains(taken, "garage") || !slices.Contains(taken, "viscosity.T0") {
		t.Errorf("keys of a glass file: %v", taken)
	}
	for _, key := range taken {
		_, inner, within := strings.Cut(key, ".")
		if !within {
			inner = key
		}
		if !regexp.MustCompile(`(?m)(?:^ +|[{,] )` + inner + ` *= `).MatchString(topics.GlassKeys + "\n" + topics.SpectraExample) {
			t.Errorf("help glass does not show the key %s", key)
		}
	}
	stdout, stderr, code := runHere("plan", "--glass-file", file, "--glass", "north-clear", "--piece", "sphere 2in textbook")
	if code == exitFail || code == exitUsage || !strings.Contains(stdout, "north-clear") {
		t.Errorf("exit status %d, stderr %q", code, stderr)
	}
}

// TestHelpStudio_everyKey: the studio that help shows has the keys that the
// parser takes, all of them and no other, in both systems, and can be read.
func TestHelpStudio_everyKey(t *testing.T) {
	for _, sys := range []string{"c", "f"} {
		file := exampleOf(t, "studio.toml", "studio", "--units", sys)
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		shown := keysOf(regexp.MustCompile(`(?m)^ +#(\w+ *= )`).ReplaceAllString(string(text), "$1"))
		want := append(kiln.StudioKeys(), "session")
		for _, k := range want {
			if !slices.Contains(shown, k) {
				t.Errorf("help studio --units %s does not show %s", sys, k)
			}
		}
		for _, k := range shown {
			if !slices.Contains(want, k) {
				t.Errorf("help studio --units %s shows %s, which no studio file takes", sys, k)
			}
		}
		if _, stderr, code := runHere("plan", "--studio", file, "--piece", "sphere 1in"); code != 0 {
			t.Errorf("exit status %d, stderr %q", code, stderr)
		}
	}
}

// TestStart_examplesWork: each line that lehr alone shows is one that works.
func TestStart_examplesWork(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	if _, stderr, code := runHere("plan", "--glass", "borosilicate-33", "--piece", "6 x sphere 2.5in", "-o", "tonight.toml"); code != 0 {
		t.Fatal(stderr)
	}
	stdout, _, _ := runHere()
	for _, j := range jobs {
		if !strings.Contains(stdout, j.line) {
			t.Errorf("lehr alone does not show %s", j.line)
		}
		var args []string
		for _, m := range regexp.MustCompile(`"([^"]*)"|(\S+)`).FindAllStringSubmatch(strings.TrimPrefix(j.line, "lehr "), -1) {
			args = append(args, m[1]+m[2])
		}
		if _, stderr, code := runHere(args...); code == exitFail || code == exitUsage {
			t.Errorf("%s: exit status %d, %s", j.line, code, stderr)
		}
	}
}

// TestHelp_inTheOrderOfWork: every command is listed once, what is wrong now
// among them, and a plan before the notebook.
func TestHelp_inTheOrderOfWork(t *testing.T) {
	stdout, _, _ := runHere("help")
	at := -1
	for _, name := range []string{"init", "plan", "verify", "safety", "wrong", "polariscope", "version"} {
		next := strings.Index(stdout, "\n  "+name+" ")
		if next <= at {
			t.Errorf("%s stands at %d, after %d", name, next, at)
		}
		at = next
	}
	for _, c := range availableCommands(newRootCommand(&app{desk.New(nil, nil, nil, term.Terminal{})})) {
		if n := strings.Count(stdout, "\n  "+c.Name()+" "); n != 1 {
			t.Errorf("%s is listed %d times", c.Name(), n)
		}
	}
}
