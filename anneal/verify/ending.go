package verify

import (
	"fmt"
	"math"
	"slices"
	"time"

	"lehr/glass/unit"
)

// heats reports whether the program heats anywhere.
func (rep *Report) heats() bool {
	at := rep.Schedule.From
	for _, s := range rep.Schedule.Segments {
		if at.Less(s.To) {
			return true
		}
		at = s.To
	}
	return false
}

// hottest returns the highest temperature of the program.
func (rep *Report) hottest() unit.Temp {
	t := rep.Schedule.From
	for _, s := range rep.Schedule.Segments {
		if t.Less(s.To) {
			t = s.To
		}
	}
	return t
}

// NoteWaiting says first where the finished pieces are taken to wait: nobody
// has said so, and the program begins there.
func (rep *Report) NoteWaiting(where string) {
	rep.Notes = slices.Insert(rep.Notes, 0, "finished pieces are taken to wait at "+where+"; give holding in [kiln] of the studio file if it is another")
}

// NoteHolding is for a search that begins where no holding is given.
func (rep *Report) NoteHolding(at unit.Temp) { rep.NoteWaiting(at.Text(rep.Studio.Units)) }

// lateness says for each segment that the kiln cannot follow what it does
// instead and how much longer that takes.
func (rep *Report) lateness() []string {
	sys, k := rep.Studio.Units, rep.Studio.Kiln
	var out []string
	waits := false
	for i, span := range rep.Actual.Spans {
		if span.Late < 60 {
			continue
		}
		seg := rep.Schedule.Segments[i]
		length := func(s float64) string {
			return unit.FormatDuration(unit.WholeMinutes(time.Duration(s * float64(time.Second))))
		}
		what, where, known := "heats", "", k.HeatingGiven
		if span.ByItself {
			what, known = "falls", k.Measured
			if turn := k.Fall.Turn(seg.Rate); turn.Less(span.From) {
				where = " below " + turn.Text(sys)
			}
		}
		text := fmt.Sprintf("segment %d, %s: the kiln %s slower than %s%s; it takes %s, %s longer than told", i+1, seg.Purpose, what,
			unit.Rate(math.Abs(float64(seg.Rate))).Text(sys), where, length(span.RampEnds-span.Start), length(span.Late))
		if span.ByItself && where == "" && !seg.Full {
			// All the way: the rate keyed in decides nothing.
			least, per := k.Fall.Rate(span.From).In(sys)
			text += fmt.Sprintf("; any rate from %.0f %s up to that does the same", math.Ceil(least), per)
		}
		if !known {
			text += " (estimated: nobody has measured this kiln)"
		}
		out = append(out, text)
		waits = waits || i+1 < len(rep.Actual.Spans)
	}
	if waits {
		rep.Assume("the controller waits at the end of a ramp until the kiln has arrived; if yours does not, give it the longer time")
	}
	return out
}
