package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

const noticesName = "notices.txt"

// licenseFile are the names under which a module states its terms.
var licenseFile = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|patents|ofl)([-.].*)?$|^licenses/.*\.txt$`)

// noticesHead says what the texts below it are, and what their terms ask to be
// said in the documentation of a program.
const noticesHead = `lehr is free software under the terms of its license, which comes first. The
program contains the works listed after it, each under its own terms. They are
used unmodified.

Portions of this software are copyright (c) The FreeType Project
(www.freetype.org). All rights reserved. Of the two licenses that the module
github.com/golang/freetype offers, the FreeType License is the one used here.

The pictures are set in the Liberation fonts, which are embedded in the program
under the SIL Open Font License, version 1.1.

The module github.com/ajstarks/svgo, which writes SVG, is used under the
Creative Commons Attribution 4.0 International Public License.
`

// linked are the modules that end up in the program on any of the systems it is
// built for, without those that only tests need.
func linked(t *testing.T) map[string]string {
	t.Helper()
	dirs := map[string]string{}
	for _, system := range []string{"linux", "darwin", "windows"} {
		c := exec.Command("go", "list", "-deps", "-f", `{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}	{{.Dir}}{{end}}{{end}}`, ".")
		c.Env = append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=0")
		out, err := c.Output()
		if err != nil {
			t.Fatalf("go list for %s: %v", system, err)
		}
		for line := range strings.Lines(string(out)) {
			name, dir, _ := strings.Cut(strings.TrimSpace(line), "\t")
			if name != "" && dir != "" {
				dirs[name] = dir
			}
		}
	}
	return dirs
}

// gatherNotices makes the notices from the module cache and from the Go
// distribution.
func gatherNotices(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	b.WriteString(noticesHead)
	section := func(title string, texts ...string) {
		fmt.Fprintf(&b, "\n%s\n%s\n", strings.Repeat("=", 78), title)
		for _, text := range texts {
			b.WriteString("\n" + strings.Trim(text, "\n") + "\n")
		}
	}
	section("lehr", readText(t, filepath.Join(rootDir, "LICENSE")))
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	goroot := strings.TrimSpace(string(root))
	section("the Go standard library and runtime", readText(t, filepath.Join(goroot, "LICENSE")), readText(t, filepath.Join(goroot, "PATENTS")))

	dirs := linked(t)
	var names []string
	for name := range dirs {
		names = append(names, name)
	}
	slices.Sort(names)
	var texts []string // in the order of the first module that has each
	users := map[string][]string{}
	for _, name := range names {
		text := termsOf(t, name, dirs[name])
		if users[text] == nil {
			texts = append(texts, text)
		}
		users[text] = append(users[text], name)
	}
	for _, text := range texts {
		section(strings.Join(users[text], "\n"), text)
	}
	return b.String()
}

// termsOf is the texts by which a module states its terms.
func termsOf(t *testing.T, name, dir string) string {
	t.Helper()
	var b strings.Builder
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		if rel = filepath.ToSlash(rel); d.IsDir() {
			if rel != "." && rel != "licenses" {
				return fs.SkipDir
			}
			return nil
		}
		// Of the two licenses of freetype it is the FTL, not the GPL.
		if licenseFile.MatchString(rel) && !strings.Contains(rel, "gpl") {
			b.WriteString("\n" + strings.Trim(readText(t, path), "\n") + "\n")
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if b.Len() == 0 {
		t.Errorf("%s states no terms", name)
	}
	return b.String()
}

// readText reads a text, as UTF-8 and with the line ends of Unix.
func readText(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for line := range strings.Lines(strings.ToValidUTF8(strings.TrimPrefix(string(data), "\ufeff"), "?")) {
		lines = append(lines, strings.ReplaceAll(strings.TrimRight(line, " \t\r\n\f"), "\t", "        "))
	}
	return strings.ReplaceAll(strings.Join(lines, "\n"), "\f", "\n")
}

// packNotices writes the notices as the program holds them.
func packNotices(t *testing.T, text string) {
	t.Helper()
	var buf bytes.Buffer
	zip, err := gzip.NewWriterLevel(&buf, gzip.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := zip.Write([]byte(text)); err != nil {
		t.Fatal(err)
	}
	if err := zip.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("notices.gz", buf.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestNotices: the embedded notices are those of the modules that are linked.
// After a change of the modules: go test ./cmd/lehr -run TestNotices -update
func TestNotices(t *testing.T) {
	if testing.Short() {
		t.Skip("asks the go command")
	}
	want := gatherNotices(t)
	if *update && !t.Failed() {
		if err := os.WriteFile(noticesName, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		packNotices(t, want)
		return
	}
	notices, err := notices()
	if file, _ := os.ReadFile(noticesName); err != nil || notices != want || string(file) != want {
		t.Errorf("%s or what is packed of it is not what the module cache says (%v); see the comment of this test", noticesName, err)
	}
	for _, words := range []string{"Permission is hereby granted", "Creative Commons Attribution 4.0", "FreeType Project LICENSE", "SIL OPEN FONT LICENSE", "Apache License", "The Go Authors"} {
		if !strings.Contains(strings.ToLower(notices), strings.ToLower(words)) {
			t.Errorf("%s has no %q", noticesName, words)
		}
	}
	if strings.Contains(notices, "\r") {
		t.Error("a line end of another system")
	}
}

// TestNothingOfManuals: what makes the manuals stays out of the program.
func TestNothingOfManuals(t *testing.T) {
	if testing.Short() {
		t.Skip("asks the go command")
	}
	out, err := exec.Command("go", "list", "-deps", ".").Output()
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(out)) {
		if name := strings.TrimSpace(line); name == "testing" || name == "html/template" || strings.HasPrefix(name, "github.com/spf13/cobra/") {
			t.Errorf("the program contains %s", name)
		}
	}
}
