package casetest

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
)

// Compute answers the inputs of a case under the names that the case expects;
// other answers are ignored. An answer is a number or a list of numbers.
type Compute func(t testing.TB, in Values) Values

// Summary counts what a test has checked.
type Summary struct {
	Published    int // numbers and tables of a source
	ClosedForm   int
	ComputedHere int // guards against change, proves nothing
	Known        int // deviations that persist, among all of these
}

// String reports the counts, with those that prove nothing apart.
func (s Summary) String() string {
	return fmt.Sprintf("%d published and %d closed-form cases; apart from these %d computed here, which prove nothing; %d known deviations",
		s.Published, s.ClosedForm, s.ComputedHere, s.Known)
}

func (s *Summary) count(c Case) {
	switch c.Origin {
	case "published-number", "published-table":
		s.Published++
	case "closed-form":
		s.ClosedForm++
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
func RunCases(t *testing.T, cases []Case, compute map[string]Compute) {
	t.Helper()
	var sum Summary
	unused := maps.Clone(compute)
	for _, c := range cases {
		_, name, _ := strings.Cut(c.Func, ".")
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

// Judge compares answers with what the case expects and returns what is wrong,
// or "". The text gives case, got, want, tolerance and source.
func (c Case) Judge(got Values) string {
	var wrong []string
	for _, name := range slices.Sorted(maps.Keys(c.Expected)) {
		want := numbers(name, c.Expected[name])
		if !got.Has(name) {
			return c.describe(fmt.Sprintf("%s: nothing computes it", name))
		}
		have := numbers(name, got[name])
		if len(have) != len(want) {
			wrong = append(wrong, fmt.Sprintf("%s: got %d numbers, want %d", name, len(have), len(want)))
			continue
		}
		for i := range want {
			if !c.Tolerance.equal(have[i], want[i]) {
				wrong = append(wrong, fmt.Sprintf("%s[%d]: got %.7g, want %.7g", name, i, have[i], want[i]))
			}
		}
	}
	switch {
	case c.Known != "" && len(wrong) == 0:
		return c.describe(fmt.Sprintf("the known deviation %q has vanished: remove it", c.Known))
	case c.Known != "" || len(wrong) == 0:
		return ""
	}
	return c.describe(strings.Join(wrong, "; "))
}

func (c Case) describe(what string) string {
	return fmt.Sprintf("case %s in %s.toml: %s (tolerance rel %g abs %g; source %s, %s)",
		c.ID, c.File, what, c.Tolerance.Rel, c.Tolerance.Abs, c.Source, c.Status)
}

// equal allows for the rounding of the arithmetic on top of the tolerance.
func (tol Tolerance) equal(have, want float64) bool {
	const rounding = 1e-12
	return scalar.EqualWithinAbsOrRel(have, want, tol.Abs+rounding, tol.Rel+rounding)
}
