// Package casetest runs the check cases of testdata/cases: published numbers,
// tables and closed forms that a package must reproduce, each with its source,
// its status and a tolerance that is a claim about the source.
//
// A case file names its source and holds cases:
//
//	source = "carslaw1959"
//	[[case]]
//	id        = "lag-sphere-center"
//	func      = "anneal.SphereLag"
//	status    = "memory"
//	origin    = "closed-form"   # published-number | published-table | closed-form | computed-here
//	inputs    = { R_m = 0.025, rate_K_per_s = 0.01, kappa_m2_s = 4.6e-7 }
//	expected  = { center_minus_surface_K = 2.26449 }
//	tolerance = { rel = 1e-4 }
//	note      = "..."
//	known     = "prints 0.26, arithmetic gives 0.24"
//
// A case with known set must deviate: when the deviation vanishes, the test
// fails. The package is for tests only; it knows nothing of glass.
package casetest

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
)

// Values are the named numbers, lists, tables and words of a case. Keys carry
// units as the source prints them.
type Values map[string]any

// Tolerance is how far an answer may be off, absolutely or relative to what is
// expected; either is enough.
type Tolerance struct {
	Rel float64 `toml:"rel"`
	Abs float64 `toml:"abs"`
}

// Case is one check case.
type Case struct {
	ID        string    `toml:"id"`
	Func      string    `toml:"func"`   // "package.Name", default that of the file
	Source    string    `toml:"source"` // default that of the file
	Status    string    `toml:"status"`
	Origin    string    `toml:"origin"`
	Inputs    Values    `toml:"inputs"`
	Expected  Values    `toml:"expected"`
	Tolerance Tolerance `toml:"tolerance"`
	Note      string    `toml:"note"`
	Known     string    `toml:"known"` // a deviation that must persist
	File      string    `toml:"-"`
}

var (
	origins  = []string{"published-number", "published-table", "closed-form", "computed-here"}
	statuses = []string{"verified", "corroborated", "memory", "derived", "common practice"}
)

// Load returns the cases of one file of testdata/cases, named without ".toml".
// It fails the test on any fault of the file.
func Load(t testing.TB, name string) []Case {
	t.Helper()
	path := filepath.Join(dir(t), name+".toml")
	var doc struct {
		Source string `toml:"source"`
		Func   string `toml:"func"`
		Case   []Case `toml:"case"`
	}
	// Not read as a user's file is: a case may hold what must not reach a screen.
	meta, err := toml.DecodeFile(path, &doc)
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range meta.Undecoded() {
		if len(key) < 3 || key[1] != "inputs" && key[1] != "expected" {
			t.Fatalf("%s.toml: unknown key %q", name, key)
		}
	}
	seen := map[string]bool{}
	for i := range doc.Case {
		c := &doc.Case[i]
		c.File = name
		if c.Func == "" {
			c.Func = doc.Func
		}
		if c.Source == "" {
			c.Source = doc.Source
		}
		if err := c.check(); err != nil {
			t.Fatalf("%s.toml: case %d %q: %v", name, i+1, c.ID, err)
		}
		if seen[c.ID] {
			t.Fatalf("%s.toml: case %d: id %q: is there twice", name, i+1, c.ID)
		}
		seen[c.ID] = true
	}
	return doc.Case
}

func (c *Case) check() error {
	switch {
	case c.ID == "" || c.Source == "":
		return fmt.Errorf("needs an id and a source")
	case !strings.Contains(c.Func, "."):
		return fmt.Errorf(`func %q: must be "package.Name"`, c.Func)
	case !slices.Contains(statuses, c.Status):
		return fmt.Errorf("status %q: must be one of %s", c.Status, strings.Join(statuses, ", "))
	case !slices.Contains(origins, c.Origin):
		return fmt.Errorf("origin %q: must be one of %s", c.Origin, strings.Join(origins, ", "))
	case len(c.Expected) == 0:
		return fmt.Errorf("expects nothing")
	case c.Tolerance.Rel < 0 || c.Tolerance.Abs < 0:
		return fmt.Errorf("tolerance below zero")
	}
	return nil
}

// Of returns every case of testdata/cases whose func begins with the package
// name and a dot, file by file in order of name.
func Of(t testing.TB, pkg string) []Case {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir(t), "*.toml"))
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(files)
	var cases []Case
	for _, f := range files {
		for _, c := range Load(t, strings.TrimSuffix(filepath.Base(f), ".toml")) {
			if strings.HasPrefix(c.Func, pkg+".") {
				cases = append(cases, c)
			}
		}
	}
	if len(cases) == 0 {
		t.Fatalf("no case for package %s in %s", pkg, dir(t))
	}
	return cases
}

// dir returns testdata/cases of the module that the test runs in.
func dir(t testing.TB) string {
	t.Helper()
	at, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(at, "go.mod")); err == nil {
			return filepath.Join(at, "testdata", "cases")
		}
		up := filepath.Dir(at)
		if up == at {
			t.Fatal("no go.mod above the test")
		}
		at = up
	}
}
