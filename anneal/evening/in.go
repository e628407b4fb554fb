package evening

import (
	"fmt"
	"strings"
	"time"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// longestEvening is how long before the program the first piece may go in.
const longestEvening = 16 * time.Hour

// InError is a time of going in, or a core, that cannot be.
type InError struct {
	Text   string
	Reason string
	Next   strict.Advice
}

func (e *InError) Error() string { return e.Text + ": " + e.Reason }

// Hint names the one thing to do.
func (e *InError) Hint() string { return e.Next.String() }

// Advice is the hint as data.
func (e *InError) Advice() strict.Advice { return e.Next }

// ParseIn reads when a piece went in and returns how long before the start of
// the program that was: "19:40", for which the start must be known, or
// "2h before". A clock time is the last one before the start, at most 16 h
// before it.
//
// Errors: *InError for a time after the start, above 16 h before it, or a clock
// time without a start; *unit.ParseError for what is no time.
func ParseIn(text string, start unit.Clock, known bool) (before time.Duration, err error) {
	if s, ok := strings.CutSuffix(strings.TrimSpace(text), "before"); ok {
		d, err := unit.ParseDuration(strings.TrimSpace(s))
		if err != nil {
			return 0, err
		}
		if d > longestEvening {
			return 0, &InError{text, fmt.Sprintf("is more than %s before the start", unit.FormatDuration(longestEvening)), "give the last evening only"}
		}
		return d, nil
	}
	c, err := unit.ParseClock(text)
	if err != nil {
		return 0, err
	}
	if !known {
		return 0, &InError{text, "is a clock time, and the load has no start", `give {start}, or write "2h before"`}
	}
	const day = 24 * time.Hour
	before = (time.Duration(start-c)*time.Minute + day) % day
	if before > longestEvening {
		sys := unit.Metric
		if strings.ContainsAny(strings.ToLower(text), "ap") { // am, pm: as it was said
			sys = unit.US
		}
		return 0, &InError{text, fmt.Sprintf("is %s after the start, %s", unit.FormatDuration(day-before), start.Text(sys)), "give the time at which the last piece goes in as {start}"}
	}
	return before, nil
}

// Core is how hot a piece is inside when it goes in.
type Core struct {
	Even bool      // as hot as the kiln: reheated work
	At   unit.Temp // in the middle, unless Even
}

// ParseCore reads "950 °C" or "even".
//
// Errors: *InError outside 20 to 1500 °C; *unit.ParseError.
func ParseCore(text string) (Core, error) {
	if strings.TrimSpace(text) == "even" {
		return Core{Even: true}, nil
	}
	t, err := unit.ParseTemp(text)
	if err != nil {
		return Core{}, err
	}
	if low, high := unit.Celsius(20), unit.Celsius(1500); t.Less(low) || high.Less(t) {
		return Core{}, &InError{unit.AsTyped(t), "must be from " + unit.LimitFor(t, low) + " to " + unit.LimitFor(t, high), `write "even" for work that is as hot as the kiln`}
	}
	return Core{At: t}, nil
}

// FromFlame is the core of work that comes straight from the flame, if nobody
// says: the softening point of its glass. A piece whose middle is softer does
// not keep its shape on the way to the kiln, so no piece goes in hotter inside.
//
// Source: softening point by its definition, 10^6.6 Pa·s, at which glass sags
// under its own weight (ASTM C338) [derived: an upper bound; no measured core
// of torch work was found].
func FromFlame(softening unit.Temp) Core { return Core{At: softening} }
