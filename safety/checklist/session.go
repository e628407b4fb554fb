package checklist

import (
	"errors"
	"slices"
	"strings"
)

// ErrNoLine is returned when every line of a session has its answer.
var ErrNoLine = errors.New("no line is waiting for an answer")

// Session is a run through the lines of one or more pause points, one line at
// a time. It reads and prints nothing: the caller shows [Session.Line] and
// hands the answer back.
type Session struct {
	facts   Facts
	points  []Point
	lines   []Line
	answers []answered
	stopped bool
}

type answered struct {
	done bool
	said string // what was said with it, or why it does not apply
}

// NewSession starts a run through the pages that [Checklist] returns for the
// same facts and points. With no point it runs through all but [Wrong], whose
// page is for reading when something is wrong.
func NewSession(f Facts, points ...Point) *Session {
	if len(points) == 0 {
		points = slices.DeleteFunc(Points(), func(p Point) bool { return p == Wrong })
	}
	s := &Session{facts: f}
	for _, p := range Checklist(f, points...) {
		s.points = append(s.points, p.Point)
		s.lines = append(s.lines, p.Lines...)
	}
	return s
}

// Line returns the line that waits for an answer; false if none does, because
// all have theirs or the run was stopped.
func (s *Session) Line() (Line, bool) {
	if s.stopped || len(s.answers) == len(s.lines) {
		return Line{}, false
	}
	return s.lines[len(s.answers)], true
}

// Place returns the number of the waiting line, from 1, and how many there are
// at its pause point; zeros if none waits.
func (s *Session) Place() (number, of int) {
	here, ok := s.Line()
	if !ok {
		return 0, 0
	}
	for i, l := range s.lines {
		if l.Point != here.Point {
			continue
		}
		of++
		if i <= len(s.answers) {
			number++
		}
	}
	return number, of
}

// Done answers the waiting line as reported done. said may hold what belongs
// in its blank, such as a date, and may be empty.
//
// Errors: [ErrNoLine]; *[FactError] if said is longer than 200 characters.
func (s *Session) Done(said string) error { return s.answer(true, said) }

// NotApplicable answers the waiting line as not applicable, with a reason.
//
// Errors: [ErrNoLine]; *[FactError] without a reason, for a reason longer than
// 200 characters, and for a line whose hazard is reported present.
func (s *Session) NotApplicable(reason string) error {
	if l, ok := s.Line(); ok {
		if l.Signal == Danger {
			return &FactError{Key: l.ID, Reason: "its hazard is reported present, so it applies", Next: "do it, or change the fact"}
		}
		if strings.TrimSpace(reason) == "" {
			return &FactError{Key: l.ID, Reason: "not applicable needs a reason", Next: "say in a few words why"}
		}
	}
	return s.answer(false, reason)
}

func (s *Session) answer(done bool, said string) error {
	l, ok := s.Line()
	if !ok {
		return ErrNoLine
	}
	said = strings.Join(strings.Fields(strings.ToValidUTF8(said, "\uFFFD")), " ")
	if len([]rune(said)) > 200 {
		return &FactError{Key: l.ID, Reason: "what is said with a line is at most 200 characters long"}
	}
	s.answers = append(s.answers, answered{done, said})
	return nil
}

// Back takes the last answer back, so that its line waits again; false if
// there is none.
func (s *Session) Back() bool {
	if len(s.answers) == 0 {
		return false
	}
	s.answers = s.answers[:len(s.answers)-1]
	s.stopped = false
	return true
}

// Stop ends the run; the lines without an answer stay open.
func (s *Session) Stop() { s.stopped = true }

// Open returns the lines without an answer, in order.
func (s *Session) Open() []Line { return append([]Line(nil), s.lines[len(s.answers):]...) }

// Finished reports whether every line has an answer.
func (s *Session) Finished() bool { return len(s.answers) == len(s.lines) }
