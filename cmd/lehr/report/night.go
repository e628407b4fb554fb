package report

import (
	"fmt"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/verify"

	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// Nominal is the program that a logged kiln was to follow.
type Nominal struct {
	Verdict string         // the night in a word or two, through every way that a gap leaves open
	Name    string         // of the program, "" if nobody named one
	As      []kiln.Reading // what it says, in its own time
	Begins  time.Duration  // in the time of the report
	Clock   *unit.Clock    // time of day at which the report begins, nil if unknown
	Drawn   Drawn          // what the curve shows of it
}

// NewNightCurve computes the picture of a replayed night: that of a report, with
// what the kiln read in the place of the program, and beside it what it was told.
func NewNightCurve(rep *verify.Report, nominal Nominal) (*picture.Curve, error) {
	load, night := *rep.Load, *rep
	load.Start, night.Load = nominal.Clock, &load
	rep = &night
	c, err := NewCurve(rep, nominal.Drawn)
	if err != nil {
		return nil, err
	}
	p, sys := rep.Pieces[nominal.Drawn.kinds(rep)[0]], rep.Studio.Units
	c.Heading[1] = nominal.Verdict + "."
	if rep.Verdict() == verify.WithinLimits && !rep.EndsHot() {
		c.Heading[1] += " " + DecidingText(rep)
	}
	c.Heading[len(c.Heading)-1] = fmt.Sprintf("Last reading %s.", ClockText(rep, c.Length))
	if nominal.Name != "" {
		c.Heading[len(c.Heading)-1] += " Told by " + nominal.Name + "."
	}
	c.Done, c.Ends = true, nil // each reading ends a segment
	c.NominalName, c.Nominal = "", nominal.within(c.Length, func(t unit.Temp) float64 { x, _ := t.In(sys); return x })
	c.End = "last reading " + ClockText(rep, c.Length)
	c.Title = "What the kiln did, and tension in " + CountName(p.Piece)
	if len(c.Nominal) > 1 {
		c.Title = "What the kiln was told and what it did, and tension in " + CountName(p.Piece)
	}
	c.Desc = fmt.Sprintf("The kiln read %s at %s and %s at %s. The tension in %s is greatest at %s with %s (%s), the limit is %s.",
		rep.Schedule.From.Text(sys), ClockText(rep, 0), rep.Schedule.Last().Text(sys), ClockText(rep, c.Length), p.Piece.What,
		ClockText(rep, p.PeakTime), p.Peak.Text(sys), words.Place(p.PeakPlace), p.Tension.Pair.Worst.Text(sys))
	if p.ResidualJudged {
		c.Desc += fmt.Sprintf(" Tension left: %s, limit %s.", max(p.Residual, 0).Text(sys), p.ResidualTension.Pair.Worst.Text(sys))
	}
	return c, nil
}

// within are the points of what was told between the first and the last of the
// report, ends cut where it goes on.
func (n Nominal) within(length float64, temp func(unit.Temp) float64) (out []picture.Point) {
	for i, r := range n.As {
		at := picture.Point{Time: (r.Time + n.Begins).Seconds(), Value: temp(r.At)}
		if i > 0 {
			before := picture.Point{Time: (n.As[i-1].Time + n.Begins).Seconds(), Value: temp(n.As[i-1].At)}
			cut := func(x float64) picture.Point {
				return picture.Point{Time: x, Value: before.Value + (at.Value-before.Value)*(x-before.Time)/(at.Time-before.Time)}
			}
			if before.Time < 0 && at.Time > 0 {
				out = append(out, cut(0))
			}
			if before.Time < length && at.Time > length {
				return append(out, cut(length))
			}
		}
		if at.Time >= 0 && at.Time <= length {
			out = append(out, at)
		}
	}
	return out
}
