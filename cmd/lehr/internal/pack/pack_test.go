package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// staged is a release of programs that do nothing.
func staged(t *testing.T) *release {
	t.Helper()
	stage := t.TempDir()
	write := func(name, text string) {
		name = filepath.Join(stage, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, system := range []string{"linux-amd64", "linux-arm64", "linux-armv7", "macos-amd64", "macos-arm64"} {
		write("bin/"+system+"/lehr", "program for "+system)
	}
	write("bin/windows-amd64/lehr.exe", "program for windows")
	write("manual/man/lehr.1", ".TH LEHR 1\n")
	write("manual/man/lehr-plan.1", ".TH LEHR-PLAN 1\n")
	for _, name := range []string{"lehr.bash", "_lehr", "lehr.fish", "lehr.ps1"} {
		write("manual/completions/"+name, "completes\n")
	}
	write("CHANGES", "lehr v1.2.0-rc1\n\nIt was so, and is so now.\n")
	return &release{version: "v1.2.0-rc1", time: time.Unix(1_790_000_000, 0).UTC(), top: "../../../..", stage: stage, out: t.TempDir(), base: "https://lehr.invalid"}
}

func names(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

// TestWrite packs a release twice, later and elsewhere, and wants the same
// bytes, all files and their sums.
func TestWrite(t *testing.T) {
	r := staged(t)
	if err := r.write(); err != nil {
		t.Fatal(err)
	}
	got := names(t, r.out)
	want := []string{"SHA256SUMS", "lehr-v1.2.0-rc1-linux-amd64.tar.gz", "lehr-v1.2.0-rc1-linux-arm64.tar.gz", "lehr-v1.2.0-rc1-linux-armv7.tar.gz",
		"lehr-v1.2.0-rc1-macos-amd64.tar.gz", "lehr-v1.2.0-rc1-macos-arm64.tar.gz", "lehr-v1.2.0-rc1-windows-amd64.zip",
		"lehr.rb", "lehr_1.2.0~rc1_amd64.deb", "lehr_1.2.0~rc1_arm64.deb", "lehr_1.2.0~rc1_armhf.deb"}
	if strings.Join(got, " ") != strings.Join(want, " ") {
		t.Fatalf("wrote %q", got)
	}
	again := staged(t)
	if err := again.write(); err != nil {
		t.Fatal(err)
	}
	for _, name := range want {
		a, err := os.ReadFile(filepath.Join(r.out, name))
		if err != nil {
			t.Fatal(err)
		}
		b, err := os.ReadFile(filepath.Join(again.out, name))
		if err != nil || !bytes.Equal(a, b) {
			t.Errorf("%s differs from one packing to the next (%v)", name, err)
		}
	}
	sums, err := os.ReadFile(filepath.Join(r.out, "SHA256SUMS"))
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(sums), "\n"); n != len(want)-1 {
		t.Errorf("%d sums", n)
	}
	if tool, err := exec.LookPath("sha256sum"); err == nil {
		c := exec.Command(tool, "-c", "SHA256SUMS")
		c.Dir = r.out
		if out, err := c.CombinedOutput(); err != nil {
			t.Errorf("sha256sum: %v\n%s", err, out)
		}
	}
	recipe, err := os.ReadFile(filepath.Join(r.out, "lehr.rb"))
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(sums)) {
		sum, name, _ := strings.Cut(strings.TrimSpace(line), "  ")
		inRecipe := strings.Contains(name, "macos") || strings.HasSuffix(name, "linux-amd64.tar.gz") || strings.HasSuffix(name, "linux-arm64.tar.gz")
		if inRecipe != strings.Contains(string(recipe), sum) {
			t.Errorf("%s in the recipe: %v", name, !inRecipe)
		}
	}
}

func TestTarGz(t *testing.T) {
	r := staged(t)
	if err := r.write(); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(r.out, "lehr-v1.2.0-rc1-linux-amd64.tar.gz"))
	if err != nil {
		t.Fatal(err)
	}
	zr, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	tr := tar.NewReader(zr)
	found := map[string]int64{}
	for {
		h, err := tr.Next()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if !h.ModTime.Equal(r.time) || h.Uid != 0 || h.Uname != "root" || !strings.HasPrefix(h.Name, "lehr-v1.2.0-rc1-linux-amd64/") {
			t.Errorf("%+v", h)
		}
		found[strings.TrimPrefix(h.Name, "lehr-v1.2.0-rc1-linux-amd64/")] = h.Mode
	}
	for name, mode := range map[string]int64{"lehr": 0o755, "LICENSE": 0o644, "NOTICES.txt": 0o644, "README.md": 0o644, "CHANGES": 0o644, "mixed.toml": 0o644,
		"man/lehr-plan.1": 0o644, "completions/_lehr": 0o644} {
		if found[name] != mode {
			t.Errorf("%s has mode %o, want %o", name, found[name], mode)
		}
	}
}

func TestZip(t *testing.T) {
	r := staged(t)
	if err := r.write(); err != nil {
		t.Fatal(err)
	}
	zr, err := zip.OpenReader(filepath.Join(r.out, "lehr-v1.2.0-rc1-windows-amd64.zip"))
	if err != nil {
		t.Fatal(err)
	}
	defer zr.Close()
	found := map[string]bool{}
	for _, f := range zr.File {
		found[f.Name] = true
	}
	for name, want := range map[string]bool{"lehr.exe": true, "NOTICES.txt": true, "completions/lehr.ps1": true, "man/lehr.1": false} {
		if found["lehr-v1.2.0-rc1-windows-amd64/"+name] != want {
			t.Errorf("%s: want %v", name, want)
		}
	}
}

// TestDeb has the package read by the tools of Debian where they are at hand.
func TestDeb(t *testing.T) {
	r := staged(t)
	if err := r.write(); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(r.out, "lehr_1.2.0~rc1_armhf.deb")
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(data, []byte("!<arch>\ndebian-binary   ")) {
		t.Errorf("begins with %q", data[:40])
	}
	tool, err := exec.LookPath("dpkg-deb")
	if err != nil {
		t.Skip("no dpkg-deb here")
	}
	for _, c := range []struct{ flag, want string }{
		{"--field", "Package: lehr\nVersion: 1.2.0~rc1\nArchitecture: armhf\n"},
		{"--contents", "./usr/bin/lehr"},
		{"--contents", "./usr/share/man/man1/lehr-plan.1.gz"},
		{"--contents", "./usr/share/doc/lehr/copyright"},
		{"--contents", "./usr/share/bash-completion/completions/lehr"},
	} {
		out, err := exec.Command(tool, c.flag, name).CombinedOutput()
		if err != nil || !strings.Contains(string(out), c.want) {
			t.Errorf("dpkg-deb %s: %v, no %q in\n%s", c.flag, err, c.want, out)
		}
	}
	dir := t.TempDir()
	if out, err := exec.Command(tool, "--extract", name, dir).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
	if got, err := os.ReadFile(filepath.Join(dir, "usr", "bin", "lehr")); err != nil || string(got) != "program for linux-armv7" {
		t.Errorf("%q, %v", got, err)
	}
}

// TestWrite_missing: a release that lacks something is none.
func TestWrite_missing(t *testing.T) {
	for _, gone := range []string{"bin", "CHANGES", "manual/man", "manual/completions", "bin/linux-arm64/lehr"} {
		r := staged(t)
		if err := os.RemoveAll(filepath.Join(r.stage, filepath.FromSlash(gone))); err != nil {
			t.Fatal(err)
		}
		if err := r.write(); err == nil {
			t.Errorf("without %s: no error, %s", gone, fmt.Sprint(names(t, r.out)))
		}
	}
}
