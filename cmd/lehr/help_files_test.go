package main

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"lehr/anneal/program"
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
	a := &app{out: &output{}}
	table, err := a.glassTable(file)
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
