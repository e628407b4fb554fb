package casetest

import (
	"path/filepath"
	"strings"
	"testing"
)

func TestAllFilesAreSound(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(dir(t), "*.toml"))
	if err != nil || len(files) == 0 {
		t.Fatal("no case files", err)
	}
	for _, f := range files {
		if cases := Load(t, strings.TrimSuffix(filepath.Base(f), ".toml")); len(cases) == 0 {
			t.Errorf("%s has no cases", f)
		}
	}
}

func TestJudge(t *testing.T) {
	c := Case{ID: "x", Source: "book", Status: "verified", Expected: Values{"a": 2.0, "b": []any{1.0, int64(2)}}, Tolerance: Tolerance{Rel: 0.01}}
	right := Values{"a": 2.01, "b": []float64{1, 2}, "other": 5.0}
	wrong := Values{"a": 4.0, "b": []float64{1, 2}}
	if msg := c.Judge(right); msg != "" {
		t.Error(msg)
	}
	msg := c.Judge(wrong)
	for _, part := range []string{"x", "got 4", "want 2", "rel 0.01", "book", "verified"} {
		if !strings.Contains(msg, part) {
			t.Errorf("%q lacks %q", msg, part)
		}
	}
	for name, got := range map[string]Values{
		"missing":    {"a": 2.0},
		"short list": {"a": 2.0, "b": []float64{1}},
		"in list":    {"a": 2.0, "b": []float64{1, 3}},
	} {
		if c.Judge(got) == "" {
			t.Errorf("%s: accepted", name)
		}
	}
	c.Known = "prints 2"
	if msg := c.Judge(wrong); msg != "" {
		t.Errorf("known deviation refused: %s", msg)
	}
	if msg := c.Judge(right); !strings.Contains(msg, "vanished") {
		t.Errorf("vanished deviation accepted: %q", msg)
	}
	if c.Judge(Values{}) == "" {
		t.Error("a known deviation excuses a missing answer")
	}
}

func TestSummary(t *testing.T) {
	var s Summary
	for _, o := range origins {
		s.count(Case{Origin: o})
	}
	s.count(Case{Origin: "closed-form", Known: "x"})
	if (s != Summary{Published: 2, ClosedForm: 2, ComputedHere: 1, Known: 1}) {
		t.Error(s)
	}
}

func TestCheck(t *testing.T) {
	good := Case{ID: "i", Source: "s", Func: "a.B", Status: "memory", Origin: "closed-form", Expected: Values{"x": 1.0}}
	if err := good.check(); err != nil {
		t.Fatal(err)
	}
	for _, spoil := range []func(*Case){
		func(c *Case) { c.ID = "" }, func(c *Case) { c.Source = "" }, func(c *Case) { c.Func = "B" },
		func(c *Case) { c.Status = "VERIFIED" }, func(c *Case) { c.Origin = "published" },
		func(c *Case) { c.Expected = nil }, func(c *Case) { c.Tolerance.Rel = -1 },
	} {
		c := good
		spoil(&c)
		if c.check() == nil {
			t.Errorf("accepted %+v", c)
		}
	}
}
