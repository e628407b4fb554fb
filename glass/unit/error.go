package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxInput is the longest text, in bytes, that a parser of this package reads.
const maxInput = 64

// shownInput is how many characters of a refused text an error repeats.
const shownInput = 32

// noUnit is the reason given for a bare number.
const noUnit = "has no unit"

// ParseError says why a text was not accepted as a quantity. A bare number is
// refused with the two likely spellings:
//
//	510: has no unit
//	write "510 °C" or "510 °F"
//
// So is a decimal comma, since it can mean a decimal or a thousand; NaN, infinity
// and what is beyond the limit of its parser; and a text of more than 64 bytes.
// Numbers such as 1e3 are read, and one smaller than 1e-100 counts as zero.
type ParseError struct {
	Quantity string   // what was to be read: "temperature", "length", ...
	Input    string   // the text as typed, shortened if it is long
	Reason   string   // the rule it breaks, to be read after the input
	Hints    []string // spellings that would be accepted, most likely first
	NoUnit   bool     // whether the text was a bare number
}

// Error returns the text and the rule it breaks: "510: has no unit".
func (e *ParseError) Error() string { return e.Input + ": " + e.Reason }

// Hint returns the one thing to do: `write "510 °C" or "510 °F"`. It is empty
// if there is no likely spelling.
func (e *ParseError) Hint() string {
	if len(e.Hints) == 0 {
		return ""
	}
	quoted := make([]string, len(e.Hints))
	for i, h := range e.Hints {
		// Not %q: inch marks and degree signs must stand as they are typed.
		quoted[i] = `"` + h + `"`
	}
	return "write " + strings.Join(quoted, " or ")
}

// shorten makes a refused text fit for one line of a terminal: no control
// characters, no broken UTF-8, not endless.
func shorten(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return `""`
	}
	cut := false
	if len(s) > 4*shownInput {
		s, cut = s[:4*shownInput], true
	}
	if utf8.RuneCountInString(s) > shownInput {
		n := 0
		for i := range s {
			if n == shownInput {
				s, cut = s[:i], true
				break
			}
			n++
		}
	}
	plain := utf8.ValidString(s)
	for _, r := range s {
		plain = plain && unicode.IsPrint(r)
	}
	if !plain {
		s = strconv.QuoteToASCII(s)
	}
	if cut {
		s += "…"
	}
	return s
}

// quantity is what a parser needs to know to refuse well.
type quantity struct {
	name     string
	a, b     string    // the two likely units
	examples [2]string // used when the text has no usable number
	lo, hi   float64   // where a number is good with both units

	known func(unit string) bool // whether a unit is one of this quantity
}

// fail builds the refusal of input. If the number n, typed as lit, could be
// meant, it stands in the hints; lit is empty if there is none.
func (q *quantity) fail(input, reason string, n float64, lit string) *ParseError {
	e := &ParseError{Quantity: q.name, Input: shorten(input), Reason: reason}
	if q.offers(n, lit) {
		e.Hints = []string{lit + " " + q.a, lit + " " + q.b}
	} else {
		e.Hints = q.examples[:]
	}
	return e
}

// offers reports whether the number, typed as lit, is good for a hint.
func (q *quantity) offers(n float64, lit string) bool {
	return lit != "" && len(lit) <= shownInput && n >= q.lo && n <= q.hi
}

// bare is the refusal of a number without unit.
func (q *quantity) bare(input string, n float64, lit string) *ParseError {
	e := q.fail(input, noUnit, n, lit)
	e.NoUnit = true
	return e
}

// limit refuses a value outside lo..hi in SI; a hair outside, as conversion
// noise can cause, is taken for the limit itself.
func (q *quantity) limit(input string, x, lo, hi float64, low, high string) (float64, error) {
	switch {
	case x < lo-1e-9*math.Max(1, -lo):
		return 0, q.fail(input, low, 0, "")
	case x > hi+1e-9*hi:
		return 0, q.fail(input, high, 0, "")
	}
	return min(max(x, lo), hi), nil
}

// unknown is the refusal of a unit that is not one of this quantity.
func (q *quantity) unknown(input, unit string, n float64, lit string) *ParseError {
	return q.fail(input, fmt.Sprintf("unit %s is not one of %s", strconv.Quote(shorten(unit)), q.name), n, lit)
}
