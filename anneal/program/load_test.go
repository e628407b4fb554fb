package program

import (
	"fmt"
	"strings"
	"testing"

	"lehr/glass/casetest"
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
	casetest.Refused(t, name, err, c.text, c.line, c.want, c.hint)
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
