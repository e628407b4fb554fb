package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/topics"
)

// TestInit_allOrNothing: when the second file cannot be written, the first is
// as before.
func TestInit_allOrNothing(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, desk.StudioName), []byte("units = \"f\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, topics.LoadName), []byte("old\n"), 0o444); err != nil {
		t.Fatal(err)
	}
	if _, stderr, code := runHere("init", dir, "--force"); code != exitFail || !strings.Contains(stderr, "is write-protected") {
		t.Fatalf("exit status %d, stderr %q", code, stderr)
	}
	got, err := os.ReadFile(filepath.Join(dir, desk.StudioName))
	if err != nil || string(got) != "units = \"f\"\n" {
		t.Errorf("studio.toml is %q, %v", got, err)
	}
	names, err := filepath.Glob(filepath.Join(dir, "*"))
	if hidden, _ := filepath.Glob(filepath.Join(dir, ".*")); err != nil || len(names) != 2 || len(hidden) != 0 {
		t.Errorf("left behind: %v %v", names, hidden)
	}
}
