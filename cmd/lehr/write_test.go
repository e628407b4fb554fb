package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// onlyFiles fails if dir holds anything but the named entries.
func onlyFiles(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Errorf("directory holds %q, want %q", got, want)
	}
}

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "a.toml")
	for _, text := range []string{"first", "", "a longer second text"} {
		if err := writeFile(name, []byte(text)); err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(name); err != nil || string(got) != text {
			t.Errorf("read %q, %v; want %q", got, err, text)
		}
	}
	onlyFiles(t, dir, "a.toml")
}

func TestWriteFile_keepsPermissionsAndLinks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("permissions and links of Unix")
	}
	dir := t.TempDir()
	name, link := filepath.Join(dir, "real"), filepath.Join(dir, "link")
	if err := os.WriteFile(name, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("real", link); err != nil {
		t.Fatal(err)
	}
	if err := writeFile(link, []byte("new")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(name)
	if err != nil || info.Mode() != 0o600 {
		t.Errorf("mode %v, %v; want 0600", info.Mode(), err)
	}
	if info, err = os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Errorf("the link became %v, %v", info.Mode(), err)
	}
	if got, _ := os.ReadFile(name); string(got) != "new" {
		t.Errorf("read %q", got)
	}
	onlyFiles(t, dir, "link", "real")
}

// TestWriteFile_refuses checks that a refused write leaves all as it was.
func TestWriteFile_refuses(t *testing.T) {
	dir := t.TempDir()
	locked := filepath.Join(dir, "locked")
	if err := os.WriteFile(locked, []byte("old"), 0o444); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "sub"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, reason := range map[string]string{
		"sub":      "is a directory",
		"none/a":   "no such file",
		"locked":   "is write-protected",
		"locked/a": "not a directory",
	} {
		err := writeFile(filepath.Join(dir, name), []byte("new"))
		if err == nil || !strings.Contains(err.Error(), reason) || strings.Contains(err.Error(), "open ") {
			t.Errorf("%s: %v, want %q", name, err, reason)
		}
	}
	if got, _ := os.ReadFile(locked); string(got) != "old" {
		t.Errorf("locked file now holds %q", got)
	}
	onlyFiles(t, dir, "locked", "sub")
}
