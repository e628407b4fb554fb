package cases

import (
	"strings"
	"testing"
)

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

func TestJudge_boundAndWords(t *testing.T) {
	c := Case{Expected: Values{"peak": 1.0}, Bound: "at least", Tolerance: Tolerance{Rel: 0.02}}
	if c.Judge(Values{"peak": 0.99}) != "" || c.Judge(Values{"peak": 3.0}) != "" || c.Judge(Values{"peak": 0.9}) == "" {
		t.Error("a bound is at least the number, less the tolerance")
	}
	c = Case{Expected: Values{"ways": []any{"a", "b"}, "case": "c"}}
	if c.Judge(Values{"ways": []string{"a", "b"}, "case": "c"}) != "" || c.Judge(Values{"ways": []string{"b", "a"}, "case": "c"}) == "" || c.Judge(Values{"ways": 1.0, "case": "c"}) == "" {
		t.Error("words are compared as they stand")
	}
}

func TestParse(t *testing.T) {
	const head = "source = \"s\"\norigin = \"closed-form\"\n"
	const one = "[[case]]\nid = \"i\"\nfunc = \"a.B\"\nstatus = \"memory\"\nexpected = { x = 1.0 }\n"
	if c, err := Parse("f", []byte(head+one)); err != nil || len(c) != 1 || c[0].Origin != "closed-form" || c[0].File != "f" {
		t.Error(c, err)
	}
	for _, text := range []string{"x", head + one + "odd = 1\n", head + one + one} {
		if _, err := Parse("f", []byte(text)); err == nil {
			t.Errorf("accepted %q", text)
		}
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
		func(c *Case) { c.Known = "x" }, func(c *Case) { c.Cause = "x" }, func(c *Case) { c.Bound = "most" },
	} {
		c := good
		spoil(&c)
		if c.check() == nil {
			t.Errorf("accepted %+v", c)
		}
	}
}
