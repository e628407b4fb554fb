package program

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"lehr/glass/strict"
)

// refusal is a file that must be refused, at a line, in words, with a hint.
type refusal struct {
	text string
	line int
	want string
	hint string
}

func (c refusal) check(t *testing.T, name string, err error) {
	t.Helper()
	if err == nil {
		t.Errorf("accepted:\n%s", c.text)
		return
	}
	var e *strict.Error
	if !errors.As(err, &e) || e.Line != c.line || !strings.HasPrefix(err.Error(), name) {
		t.Errorf("%s\nline %v, want %d: %v", c.text, e, c.line, err)
		return
	}
	if !strings.Contains(err.Error(), c.want) {
		t.Errorf("%s\n%s, want %q", c.text, err, c.want)
	}
	if c.hint != "" && !strings.Contains(hintOf(err), c.hint) {
		t.Errorf("%s\nhint %q, want %q", c.text, hintOf(err), c.hint)
	}
	if strings.Contains(err.Error(), "\n") {
		t.Errorf("%s\nmore than one line: %q", c.text, err)
	}
}

// hintOf is the first hint in the chain of an error.
func hintOf(err error) string {
	for ; err != nil; err = errors.Unwrap(err) {
		if h, ok := err.(interface{ Hint() string }); ok && h.Hint() != "" {
			return h.Hint()
		}
	}
	return ""
}

// checkMessage wants an error that a person can read: short and of one line.
// Control characters of the file are replaced where it is printed.
func checkMessage(t *testing.T, text string, err error) {
	t.Helper()
	s := err.Error()
	if s == "" || len([]rune(s)) > 2000 || strings.Contains(s, "\n") {
		t.Fatalf("%q: message %s", text, fmt.Sprintf("%.300q", s))
	}
}
