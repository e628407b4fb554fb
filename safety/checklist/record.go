package checklist

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"time"

	"lehr/glass/strict"
)

// Record is what a run through the checklist has come to. It says what was
// reported done and no more. A run that is not finished has open lines, and can
// be resumed.
type Record struct {
	Time    time.Time // when it was written
	List    string    // [Version] of the list
	Points  []Point
	Facts   []Given
	Answers []Reply
	Open    []Line
}

// Past is the answer to a line as a record holds it.
type Past struct {
	ID, Words string
	Answer    string // "reported done" or "NOT DONE"
	Said      string
	At        time.Time
}

const (
	reportedDone = "reported done"
	notDone      = "NOT DONE"
)

// answer returns the words of the record: "reported done" or "NOT DONE".
func (r Reply) answer() string {
	if r.Done {
		return reportedDone
	}
	return notDone
}

// Record returns the record of the run as it stands.
func (s *Session) Record(at time.Time) Record {
	r := Record{Time: at, List: Version, Points: s.points, Facts: s.facts.Given(), Open: s.Open()}
	for _, reply := range s.replies {
		if !reply.At.IsZero() {
			r.Answers = append(r.Answers, reply)
		}
	}
	return r
}

// NotKept returns the replies of a record that leave their line open: what was
// not done, and what what is known speaks against.
func (r Record) NotKept() []Reply {
	var out []Reply
	for _, reply := range r.Answers {
		if !reply.kept() {
			out = append(out, reply)
		}
	}
	return out
}

// WriteTOML writes the record as TOML. The same record gives the same bytes.
func (r Record) WriteTOML(w io.Writer) error {
	b := bufio.NewWriter(w)
	stamp := func(t time.Time) string { return strict.Quote(t.Truncate(time.Second).Format(time.RFC3339)) }
	fmt.Fprintln(b, "# What a person reported done. Nothing was measured or inspected.")
	fmt.Fprintf(b, "time = %s\n", stamp(r.Time))
	fmt.Fprintf(b, "list = %s\n", strict.Quote(r.List))
	var points, open []string
	for _, p := range r.Points {
		points = append(points, strict.Quote(string(p)))
	}
	for _, l := range r.Open {
		open = append(open, strict.Quote(l.ID))
	}
	fmt.Fprintf(b, "points = [%s]\n", strings.Join(points, ", "))
	fmt.Fprintf(b, "finished = %t\n", len(open) == 0)
	fmt.Fprintf(b, "open = [%s]\n", strings.Join(open, ", "))
	if len(r.Facts) > 0 {
		fmt.Fprint(b, "\n[facts]\n")
		for _, f := range r.Facts {
			fmt.Fprintf(b, "%s = %s\n", f.Name, strict.Quote(f.Value))
		}
	}
	for _, a := range r.Answers {
		fmt.Fprint(b, "\n[[line]]\n")
		fmt.Fprintf(b, "id = %s\n", strict.Quote(a.Line.ID))
		fmt.Fprintf(b, "at = %s\n", strict.Quote(string(a.Line.Point)))
		fmt.Fprintf(b, "time = %s\n", stamp(a.At))
		fmt.Fprintf(b, "signal = %s\n", strict.Quote(string(a.Line.Signal)))
		fmt.Fprintf(b, "words = %s\n", strict.Quote(a.Line.Text))
		fmt.Fprintf(b, "answer = %s\n", strict.Quote(a.answer()))
		switch {
		case a.Said == "":
		case a.Done:
			fmt.Fprintf(b, "said = %s\n", strict.Quote(a.Said))
		default:
			fmt.Fprintf(b, "reason = %s\n", strict.Quote(a.Said))
		}
		if a.Line.Fault && !a.kept() {
			fmt.Fprint(b, "fault = true\n")
		}
		if m := a.Line.Because(); m != "" {
			fmt.Fprintf(b, "shown_because = %s\n", strict.Quote(m))
		}
	}
	return b.Flush()
}
