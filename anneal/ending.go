package anneal

import (
	"fmt"
	"math"
	"slices"
	"time"

	"lehr/glass/unit"
)

// LeaveToKiln returns the report of a program within its limits again, with
// everything left to the kiln that can be: heating that the kiln and not the
// glass limits is keyed in as the controller's word for it, and the program
// ends with the power off where the kiln's own fall is no faster than the last
// ramps. It is judged anew, and the old report comes back when the new one is
// not within its limits.
//
// Only a kiln whose own cooling was measured is left to itself, at a fall one
// tenth faster than measured. Without a word of the controller, or without a
// heating that the owner gave, heating is keyed in as a rate.
func LeaveToKiln(rep *Report) *Report {
	if !rep.Within || rep.Load.Into == WarmOnly {
		return rep
	}
	ended := rep.Schedule.ended(rep.Studio)
	for _, s := range []Schedule{ended.heatedFull(rep.Studio), ended} {
		if slices.Equal(s.Segments, rep.Schedule.Segments) {
			continue
		}
		next, err := judgeSchedule(s, rep.Load, rep.Studio, rep.Limits, planSettings)
		if err == nil && next.Within {
			return next
		}
	}
	return rep
}

// heatedFull marks the heating that the kiln limits.
func (s Schedule) heatedFull(st Studio) Schedule {
	k, c := st.Kiln, st.Controller
	if c.FullWord == "" || !k.HeatingGiven {
		return s
	}
	s.Segments = slices.Clone(s.Segments)
	at := s.From
	for i := range s.Segments {
		seg := &s.Segments[i]
		if at.Less(seg.To) {
			all := k.SlowestHeating(at, seg.To)
			if steps, err := c.Ramp(at, seg.To, all); err == nil && len(steps) == 1 && float64(seg.Rate) >= float64(steps[0].Rate)*(1-1e-9) {
				seg.Full = true
				seg.Rate = all
			}
		}
		at = seg.To
	}
	return s
}

// worthOff is the least fall that is worth ending a program early for.
const worthOff = 20.0 // [K]

// ended ends the program with the power off at the highest temperature below
// which the kiln, at its fastest, falls no faster than the program asks.
func (s Schedule) ended(st Studio) Schedule {
	n := len(s.Segments)
	if !st.Kiln.Measured || n == 0 || s.Segments[n-1].Hold > 0 {
		return s
	}
	fall, c := st.Kiln.Emptier().Fall, st.Controller
	top := func(i int) unit.Temp {
		if i == 0 {
			return s.From
		}
		return s.Segments[i-1].To
	}
	first, off := n, s.Segments[n-1].To // segments from first on are left to the kiln
	var part []Segment
	for i := n - 1; i >= 0; i-- {
		seg := s.Segments[i]
		if !seg.To.Less(top(i)) || seg.Full || i < n-1 && seg.Hold > 0 {
			break
		}
		turn := fall.Turn(seg.Rate)
		if turn.Less(top(i)) {
			to := c.Below(turn)
			if seg.To.Less(to) && to.Less(top(i)) {
				if steps, err := c.Ramp(top(i), to, seg.Rate); err == nil && len(steps) == 1 {
					cut := seg
					cut.To, cut.Rate, cut.Hold = to, steps[0].Rate, 0
					first, off, part = i, to, []Segment{cut}
				}
			}
			break
		}
		first, off, part = i, top(i), nil
	}
	last := s.Segments[n-1].To
	if first == n || float64(off.Sub(last)) < worthOff {
		return s
	}
	end := Segment{Purpose: PurposeOff, Rate: unit.Rate(-math.Abs(float64(fall.Rate(off)))), To: last, Full: true, Off: true}
	if part == nil && c.FullWord != "" {
		end.Purpose, end.Off = PurposeFinal, false
	}
	s.Segments = append(append(slices.Clone(s.Segments[:first]), part...), end)
	return s
}

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

// noteWaiting says first where the finished pieces are taken to wait: nobody
// has said so, and the program begins there.
func (rep *Report) noteWaiting(where string) {
	rep.Notes = slices.Insert(rep.Notes, 0, "finished pieces are taken to wait at "+where+"; give holding in [kiln] of the studio file if it is another")
}

// NoteHolding is for a search that begins where no holding is given.
func (rep *Report) NoteHolding(at unit.Temp) { rep.noteWaiting(at.Text(rep.Studio.Units)) }

// lateness says for each segment that the kiln cannot follow what it does
// instead and how much longer that takes.
func (rep *Report) lateness() []string {
	sys, k := rep.Studio.Units, rep.Studio.Kiln
	var out []string
	waits := false
	for i, span := range rep.Clock.Spans {
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
		waits = waits || i+1 < len(rep.Clock.Spans)
	}
	if waits {
		rep.Assume("the controller waits at the end of a ramp until the kiln has arrived; if yours does not, give it the longer time")
	}
	return out
}
