package casetest

import (
	"errors"
	"strings"
	"testing"

	"lehr/glass/strict"
)

// Refused fails the test unless err refuses a file, called name and holding text,
// at a line, in one line of words that hold want, with a hint that holds hint.
func Refused(t testing.TB, name string, err error, text string, line int, want, hint string) {
	t.Helper()
	if err == nil {
		t.Errorf("accepted:\n%s", text)
		return
	}
	var e *strict.Error
	if !errors.As(err, &e) || e.Line != line || !strings.HasPrefix(err.Error(), name) {
		t.Errorf("%s\nline %v, want %d: %v", text, e, line, err)
		return
	}
	if !strings.Contains(err.Error(), want) {
		t.Errorf("%s\n%s, want %q", text, err, want)
	}
	if hint != "" && !strings.Contains(hintOf(err), hint) {
		t.Errorf("%s\nhint %q, want %q", text, hintOf(err), hint)
	}
	if strings.Contains(err.Error(), "\n") {
		t.Errorf("%s\nmore than one line: %q", text, err)
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
