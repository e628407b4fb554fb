package checklist

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"time"
)

// errNoLine is returned when every line of a session has its answer.
var errNoLine = errors.New("no line is waiting for an answer")

// Session is a run through the lines of one or more pause points, one line at
// a time. It reads and prints nothing: the caller shows [Session.Line] and
// hands the answer back.
type Session struct {
	facts   Facts
	points  []Point
	replies []Reply // one a line, in order
	given   []int   // the lines answered, in the order of answering
	stopped bool
}

// Reply is a line and the answer to it.
type Reply struct {
	Line Line
	At   time.Time // when it was answered; zero if it is open
	Done bool      // reported done; else not done, and Said says why
	Said string    // what was said with it
}

// kept reports whether the line was reported done and nothing that is known
// speaks against it. A test that was done today is no longer an old one.
func (r Reply) kept() bool { return r.Done && (!r.Line.Fault || r.Line.Dated()) }

// Session starts a run through the pages that [Facts.Pages] returns for the
// same facts and points. With no point it runs through those before lighting.
// While a danger is reported there is nothing to run through.
func (f Facts) Session(points ...Point) *Session {
	if len(points) == 0 {
		points = Lighting()
	}
	s := &Session{facts: f}
	for _, p := range f.Pages(points...) {
		s.points = append(s.points, p.Point)
		for _, l := range p.Lines {
			s.replies = append(s.replies, Reply{Line: l})
		}
	}
	return s
}

// Meaning is what a typed word means as an answer to a line.
type Meaning int

// The meanings.
const (
	Unclear Meaning = iota // it could mean two things, or nothing
	Confirmed
	Refused // not done
	NotHere // does not apply, which is not done either
)

// Meaning returns what a word means as an answer to the line. A line confirmed
// by one word takes no other, and one that what is known speaks against takes
// no bare yes: whoever says yes may agree with the fault.
func (l Line) Meaning(word string) Meaning {
	switch w := strings.ToLower(word); {
	case w == "na" || w == "n/a":
		return NotHere
	case w == "n" || w == "no" || w == "not":
		return Refused
	case l.Confirm != "":
		if w == l.Confirm {
			return Confirmed
		}
	case w == "d" || w == "done":
		return Confirmed
	case (w == "y" || w == "yes") && !l.Fault:
		return Confirmed
	}
	return Unclear
}

// waiting returns the index of the first open line, or how many there are.
func (s *Session) waiting() int {
	for i, r := range s.replies {
		if r.At.IsZero() {
			return i
		}
	}
	return len(s.replies)
}

// Line returns the line that waits for an answer; false if none does, because
// all have theirs or the run was stopped.
func (s *Session) Line() (Line, bool) {
	i := s.waiting()
	if s.stopped || i == len(s.replies) {
		return Line{}, false
	}
	return s.replies[i].Line, true
}

// Place returns the number of the waiting line, from 1, and how many there are
// at its pause point; zeros if none waits.
func (s *Session) Place() (number, of int) {
	here, ok := s.Line()
	if !ok {
		return 0, 0
	}
	for i, r := range s.replies {
		if r.Line.Point != here.Point {
			continue
		}
		of++
		if i <= s.waiting() {
			number++
		}
	}
	return number, of
}

// Done answers the waiting line as reported done. said may hold what belongs
// in its blank and may be empty; of a [Line.Dated] line it is the date of the
// test, and must be.
//
// Errors: [errNoLine]; *[FactError] if said is longer than 200 characters, and
// for a date that cannot be, lies after at or is too long ago.
func (s *Session) Done(at time.Time, said string) error {
	l, ok := s.Line()
	if ok && l.Dated() {
		d, err := ParseDate(strings.TrimSpace(said), at)
		if err != nil {
			e := err.(*FactError)
			e.Key = l.ID
			if e.Next == "" {
				e.Next = "write the day of the last test, year-month-day, or today"
			}
			return e
		}
		if age, _ := d.age(at); age > l.tested.days {
			return &FactError{Key: l.ID, Value: string(d), Reason: "is " + strconv.Itoa(age) + " days ago, more than " + strconv.Itoa(l.tested.days), Next: "test it again, or answer no"}
		}
		said = string(d)
	}
	return s.answer(Reply{At: at, Done: true, Said: said})
}

// NotDone answers the waiting line as not done, or as not applicable, with the
// reason.
//
// Errors: [errNoLine]; *[FactError] without a reason and for a reason longer
// than 200 characters.
func (s *Session) NotDone(at time.Time, reason string) error {
	if l, ok := s.Line(); ok && strings.TrimSpace(reason) == "" {
		return &FactError{Key: l.ID, Reason: "what is not done needs a reason", Next: "say in a few words why"}
	}
	return s.answer(Reply{At: at, Said: reason})
}

func (s *Session) answer(r Reply) error {
	l, ok := s.Line()
	if !ok {
		return errNoLine
	}
	r.Line, r.Said = l, strings.Join(strings.Fields(strings.ToValidUTF8(r.Said, "\uFFFD")), " ")
	if len([]rune(r.Said)) > 200 {
		return &FactError{Key: l.ID, Reason: "what is said with a line is at most 200 characters long"}
	}
	i := s.waiting()
	s.replies[i] = r
	s.given = append(s.given, i)
	return nil
}

// Back takes the last answer back, so that its line waits again; false if
// there is none.
func (s *Session) Back() bool {
	n := len(s.given) - 1
	if n < 0 {
		return false
	}
	s.replies[s.given[n]] = Reply{Line: s.replies[s.given[n]].Line}
	s.given = s.given[:n]
	s.stopped = false
	return true
}

// Stop ends the run; the lines without an answer stay open.
func (s *Session) Stop() { s.stopped = true }

// Open returns the lines without an answer, in order.
func (s *Session) Open() []Line {
	var out []Line
	for _, r := range s.replies {
		if r.At.IsZero() {
			out = append(out, r.Line)
		}
	}
	return out
}

// stale is how long an answer of an unfinished run is good for. Ours.
const stale = time.Hour

// Resume takes over what an earlier run reported done, no longer than [stale]
// before now, of lines that still read the same. What was not done, what what is
// known speaks against, and the line about gas are asked again. It returns how
// many answers it took.
func (s *Session) Resume(earlier []Past, now time.Time) int {
	taken := 0
	for i, r := range s.replies {
		p := slices.IndexFunc(earlier, func(p Past) bool { return p.ID == r.Line.ID && p.Words == r.Line.Text })
		if p < 0 || !r.At.IsZero() || r.Line.Confirm != "" || r.Line.Fault && !r.Line.Dated() {
			continue
		}
		past := earlier[p]
		if past.Answer != reportedDone || past.At.After(now) || now.Sub(past.At) > stale {
			continue
		}
		if d, err := ParseDate(past.Said, now); r.Line.Dated() {
			if age, _ := d.age(now); err != nil || age > r.Line.tested.days {
				continue
			}
		}
		s.replies[i].At, s.replies[i].Done, s.replies[i].Said = past.At, true, past.Said
		taken++
	}
	return taken
}
