// Package casetest poses the check cases of testdata/cases (package cases) in
// tests, from the files as they stand. It is for tests only.
package casetest

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"lehr/glass/cases"
)

// The types of package cases, by the names that tests use.
type (
	Values  = cases.Values
	Case    = cases.Case
	Compute = cases.Compute
)

// Load returns the cases of one file of testdata/cases, named without ".toml".
// It fails the test on any fault of the file.
func Load(t testing.TB, name string) []Case {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir(t), name+".toml"))
	if err != nil {
		t.Fatal(err)
	}
	list, err := cases.Parse(name, text)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// Of returns every case of testdata/cases whose func begins with the package
// name and a dot, file by file in order of name.
func Of(t testing.TB, pkg string) []Case {
	t.Helper()
	var out []Case
	for _, name := range files(t) {
		for _, c := range Load(t, name) {
			if strings.HasPrefix(c.Func, pkg+".") {
				out = append(out, c)
			}
		}
	}
	if len(out) == 0 {
		t.Fatalf("no case for package %s in %s", pkg, dir(t))
	}
	return out
}

// files returns the names of all case files, in order.
func files(t testing.TB) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(dir(t), "*.toml"))
	if err != nil || len(paths) == 0 {
		t.Fatal("no case files", err)
	}
	slices.Sort(paths)
	for i, p := range paths {
		paths[i] = strings.TrimSuffix(filepath.Base(p), ".toml")
	}
	return paths
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

// Summary counts what a test has checked.
type Summary struct {
	Published    int // numbers and tables of a source
	ClosedForm   int
	GeneralCode  int // a general-purpose code, run on the same problem
	ComputedHere int // guards against change, proves nothing
	Known        int // deviations that persist, among all of these
}

// String reports the counts, with those that prove nothing apart.
func (s Summary) String() string {
	return fmt.Sprintf("%d published, %d closed-form cases and %d of a general-purpose code; apart from these %d computed here, which prove nothing; %d known deviations",
		s.Published, s.ClosedForm, s.GeneralCode, s.ComputedHere, s.Known)
}

func (s *Summary) count(c Case) {
	switch c.Origin {
	case "published-number", "published-table":
		s.Published++
	case "closed-form":
		s.ClosedForm++
	case "general-code":
		s.GeneralCode++
	case "computed-here":
		s.ComputedHere++
	}
	if c.Known != "" {
		s.Known++
	}
}

// Run checks every case of a package (see [Of]), each in a subtest, and logs a
// [Summary]. compute has one entry for each func of the cases, without the
// package name; an entry that no case uses, or a case without an entry, fails.
func Run(t *testing.T, pkg string, compute map[string]Compute) {
	t.Helper()
	RunCases(t, Of(t, pkg), compute)
}

// RunCases is [Run] for cases of the test's own choosing.
func RunCases(t *testing.T, list []Case, compute map[string]Compute) {
	t.Helper()
	var sum Summary
	unused := maps.Clone(compute)
	for _, c := range list {
		_, name := c.Package()
		delete(unused, name)
		sum.count(c)
		t.Run(c.File+"/"+c.ID, func(t *testing.T) {
			f, ok := compute[name]
			if !ok {
				t.Fatalf("case %s of %s.toml: nothing computes %s", c.ID, c.File, c.Func)
			}
			if msg := c.Judge(f(t, c.Inputs)); msg != "" {
				t.Error(msg)
			}
		})
	}
	for _, name := range slices.Sorted(maps.Keys(unused)) {
		t.Errorf("no case uses %s", name)
	}
	t.Log(sum)
}
