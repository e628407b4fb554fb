package checklist

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"time"
)

// Record is a finished run through the checklist. It says what was reported
// done and no more.
type Record struct {
	Time    time.Time // when the run ended
	List    string    // [Version] of the list
	Points  []Point
	Facts   []Given
	Answers []Reply
}

// Reply is the answer to one line.
type Reply struct {
	Line Line
	Done bool   // reported done; else not applicable
	Said string // what was said with it, or why it does not apply
}

// Answer returns the words of the record: "reported done" or "not applicable".
func (r Reply) Answer() string {
	if r.Done {
		return "reported done"
	}
	return "not applicable"
}

// OpenError is an unfinished run: the lines without an answer.
type OpenError struct{ Lines []Line }

// Error names the open lines.
func (e *OpenError) Error() string {
	ids := make([]string, len(e.Lines))
	for i, l := range e.Lines {
		ids[i] = l.ID
	}
	word := "lines"
	if len(ids) == 1 {
		word = "line"
	}
	return fmt.Sprintf("%d %s open: %s", len(ids), word, strings.Join(ids, ", "))
}

// Hint returns what to do about it.
func (e *OpenError) Hint() string { return "go through the list again and answer every line" }

// Record returns the record of a finished run; the error is an *[OpenError] if
// lines are open.
func (s *Session) Record(at time.Time) (Record, error) {
	if open := s.Open(); len(open) > 0 {
		return Record{}, &OpenError{open}
	}
	r := Record{Time: at, List: Version, Points: s.points, Facts: s.facts.Given()}
	for i, l := range s.lines {
		r.Answers = append(r.Answers, Reply{l, s.answers[i].done, s.answers[i].said})
	}
	return r, nil
}

// WriteTOML writes the record as TOML. The same record gives the same bytes.
func (r Record) WriteTOML(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintln(b, "# What a person reported done. Nothing was measured or inspected.")
	fmt.Fprintf(b, "time = %s\n", quoteTOML(r.Time.Truncate(time.Second).Format(time.RFC3339)))
	fmt.Fprintf(b, "list = %s\n", quoteTOML(r.List))
	points := make([]string, len(r.Points))
	for i, p := range r.Points {
		points[i] = quoteTOML(string(p))
	}
	fmt.Fprintf(b, "points = [%s]\n", strings.Join(points, ", "))
	if len(r.Facts) > 0 {
		fmt.Fprint(b, "\n[facts]\n")
		for _, f := range r.Facts {
			fmt.Fprintf(b, "%s = %s\n", f.Name, quoteTOML(f.Value))
		}
	}
	for _, a := range r.Answers {
		fmt.Fprint(b, "\n[[line]]\n")
		fmt.Fprintf(b, "id = %s\n", quoteTOML(a.Line.ID))
		fmt.Fprintf(b, "at = %s\n", quoteTOML(string(a.Line.Point)))
		fmt.Fprintf(b, "signal = %s\n", quoteTOML(string(a.Line.Signal)))
		fmt.Fprintf(b, "words = %s\n", quoteTOML(a.Line.Text))
		fmt.Fprintf(b, "answer = %s\n", quoteTOML(a.Answer()))
		switch {
		case a.Said == "":
		case a.Done:
			fmt.Fprintf(b, "said = %s\n", quoteTOML(a.Said))
		default:
			fmt.Fprintf(b, "reason = %s\n", quoteTOML(a.Said))
		}
		if m := a.Line.Because(); m != "" {
			fmt.Fprintf(b, "shown_because = %s\n", quoteTOML(m))
		}
	}
	return b.Flush()
}

// quoteTOML writes a basic string of TOML: quotes, backslashes and control
// characters escaped, bytes that are not UTF-8 replaced.
func quoteTOML(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "\uFFFD") {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
