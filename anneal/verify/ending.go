package verify

import (
	"math"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/glass/unit"
)

// unsaidLate is the share of a ramp by which a kiln may be late without a word: the
// end of a ramp at what the kiln can do, less a margin.
const unsaidLate = 0.05

// leastLate is the delay below which a kiln is not late [s]: reports tell whole minutes.
const leastLate = 60

// lateness says for each segment that the kiln cannot follow what it does
// instead and how much longer that takes.
func (rep *Report) lateness() (out finding.List) {
	k := rep.Studio.Kiln
	waits := false
	for i, span := range rep.Actual.Spans {
		if span.Late < math.Max(leastLate, unsaidLate*(span.RampEnds-span.Start)) {
			continue
		}
		seg := rep.Schedule.Segments[i]
		f := finding.OfSegment(finding.KilnLate, i).Named(string(seg.Purpose)).Falling(seg.Rate).Which(k.HeatingGiven).
			Lasting(unit.WholeMinutes(unit.Seconds(span.RampEnds-span.Start)), unit.WholeMinutes(unit.Seconds(span.Late)))
		if span.ByItself {
			f.Yes = k.Measured
			if turn := k.Fall.Turn(seg.Rate); turn.Less(span.From) {
				f.Temp = turn
			} else if !seg.Full { // all the way: the rate keyed in decides nothing
				f.Number = float64(k.Fall.Rate(span.From))
			}
		}
		out.Add(f)
		waits = waits || i+1 < len(rep.Actual.Spans)
	}
	if waits {
		rep.Assumptions.Add(finding.Of(finding.ControllerWaits))
	}
	return out
}

// noteAfter says what the controller does after the last segment, where its owner
// said so and it matters.
func (rep *Report) noteAfter() {
	after, warm := rep.Studio.Controller.After, rep.Load.Into == piece.WarmOnly
	segments := rep.Schedule.Segments
	last := len(segments) - 1
	switch {
	case rep.Replayed:
	case after == kiln.AfterOff && warm:
		rep.Notes.Add(finding.Of(finding.SwitchesOff).At(segments[last].To))
	case after != kiln.AfterHold || warm:
	case segments[last].Off:
		rep.Notes.First(finding.OfSegment(finding.StaysOnAfter, last).At(rep.Actual.Spans[last].From))
	default:
		to := segments[last].To
		rep.Notes.Add(finding.Of(finding.StaysOn).At(to).Which(float64(to.Sub(kiln.OpenAt)) > 1))
	}
}
