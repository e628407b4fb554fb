// Package cases reads the check cases of testdata/cases and judges answers to
// them: published numbers, tables and closed forms that a package must
// reproduce, each with its source, its status and a tolerance that is a claim
// about the source.
//
// A case file names its source and holds cases:
//
//	source = "carslaw1959"
//	[[case]]
//	id        = "lag-sphere-center"
//	func      = "anneal.SphereLag"
//	status    = "memory"
//	origin    = "closed-form"   # see [origins]
//	inputs    = { R_m = 0.025, rate_K_per_s = 0.01, kappa_m2_s = 4.6e-7 }
//	expected  = { center_minus_surface_K = 2.26449 }
//	tolerance = { rel = 1e-4 }
//	note      = "..."
//	known     = "prints 0.26, arithmetic gives 0.24"
//	cause     = "misprint"
//	found     = "2026-11-25"
//
// A case with known set must deviate: when the deviation vanishes, it fails.
// A case with bound = "at least" expects no less than its numbers; one with
// bound = "between" gives the middle of a range, and its half as the tolerance.
//
// A package answers its own cases in its function Cases, for tests and for the
// program alike. The package knows nothing of glass.
package cases

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// Values are the named numbers, lists, tables and words of a case. Keys carry
// units as the source prints them.
type Values map[string]any

// T is the part of a test that poses a case: what cannot be answered is told to
// it. testing.TB is one.
type T interface {
	Helper()
	Error(...any)
	Errorf(string, ...any)
	Fatal(...any)
	Fatalf(string, ...any)
}

// Compute answers the inputs of a case under the names that the case expects;
// other answers are ignored. An answer is a number or a list of numbers.
type Compute func(t T, in Values) Values

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
	Origin    string    `toml:"origin"` // default that of the file
	Inputs    Values    `toml:"inputs"`
	Expected  Values    `toml:"expected"`
	Tolerance Tolerance `toml:"tolerance"`
	Bound     string    `toml:"bound"` // AtLeast, Between or nothing
	Note      string    `toml:"note"`
	Known     string    `toml:"known"` // a deviation that must persist
	Cause     string    `toml:"cause"` // of that deviation, in a few words
	Found     string    `toml:"found"` // the day it was found
	File      string    `toml:"-"`
}

// origins are where expected numbers come from: printed in a text (number or
// table), a closed form worked out, a general-purpose code run on the same
// problem, or a computation of this project, which guards against change and
// proves little.
var origins = []string{"published-number", "published-table", "closed-form", "general-code", "computed-here"}

// What a case may expect instead of a number.
const (
	AtLeast = "at least" // an answer may be greater
	Between = "between"  // the middle of a range, whose half is the tolerance
)

var statuses = []string{"verified", "corroborated", "memory", "derived", "common practice"}

// Parse reads one file of cases, called name.
func Parse(name string, text []byte) ([]Case, error) {
	var doc struct {
		Source string `toml:"source"`
		Func   string `toml:"func"`
		Origin string `toml:"origin"`
		Case   []Case `toml:"case"`
	}
	// Not read as a user's file is: a case may hold what must not reach a screen.
	meta, err := toml.NewDecoder(bytes.NewReader(text)).Decode(&doc)
	if err != nil {
		return nil, err
	}
	for _, key := range meta.Undecoded() {
		if len(key) < 3 || key[1] != "inputs" && key[1] != "expected" {
			return nil, fmt.Errorf("%s.toml: unknown key %q", name, key)
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
		if c.Origin == "" {
			c.Origin = doc.Origin
		}
		if err := c.check(); err != nil {
			return nil, fmt.Errorf("%s.toml: case %d %q: %w", name, i+1, c.ID, err)
		}
		if seen[c.ID] {
			return nil, fmt.Errorf("%s.toml: case %d: id %q: is there twice", name, i+1, c.ID)
		}
		seen[c.ID] = true
	}
	return doc.Case, nil
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
	case c.Bound != "" && c.Bound != AtLeast && c.Bound != Between:
		return fmt.Errorf(`bound %q: must be %q or %q`, c.Bound, AtLeast, Between)
	case c.Bound == Between && c.Tolerance.Abs == 0:
		return fmt.Errorf("a range needs an absolute tolerance")
	case (c.Known == "") != (c.Cause == "") || (c.Known == "") != (c.Found == ""):
		return fmt.Errorf("a known deviation needs a cause and the day it was found")
	}
	return nil
}

// Package returns the part of the func before its dot, and the name behind it.
func (c *Case) Package() (pkg, name string) {
	pkg, name, _ = strings.Cut(c.Func, ".")
	return pkg, name
}
