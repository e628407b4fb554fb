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

// Told is the program that a logged kiln was to follow.
type Told struct {
	Name   string         // "" if nobody named one
	As     []kiln.Reading // what it says, in its own time
	Begins time.Duration  // in the time of the report
	Clock  *unit.Clock    // time of day at which the report begins, nil if unknown
}

// NewNightCurve computes the picture of a replayed night for the piece that comes
// nearest to a limit: what the kiln read, what it was told, how the surface of the
// piece followed, and the tension.
func NewNightCurve(rep *verify.Report, told Told) (*picture.Curve, error) {
	index := decidingPiece(rep)
	history, err := verify.History(rep, index)
	if err != nil {
		return nil, err
	}
	load, night := *rep.Load, *rep
	load.Start, night.Load = told.Clock, &load
	rep = &night
	p, sys := rep.Pieces[index], rep.Studio.Units
	temp := func(t unit.Temp) float64 { x, _ := t.In(sys); return x }
	stress := func(s unit.Stress) float64 { x, _ := s.In(sys); return x }
	c := &picture.Curve{Length: rep.Actual.Total().Seconds(), Start: told.Clock, System: sys}
	_, c.TempUnit = unit.Temp{}.In(sys)
	_, c.StressUnit = unit.Stress(0).In(sys)

	var read, surface []picture.Point
	for _, k := range rep.Actual.Points {
		read = append(read, picture.Point{Time: k.Time, Value: temp(unit.Kelvin(k.Temp))})
	}
	for _, s := range history {
		if s.Time <= c.Length {
			surface = append(surface, picture.Point{Time: s.Time, Value: temp(s.Surface)})
			c.Tension = append(c.Tension, picture.Point{Time: s.Time, Value: stress(s.Tension)})
		}
	}
	if p.ResidualAsked && len(surface) > 1 { // the last is the piece at the room, after all
		surface = surface[:len(surface)-1]
	}
	c.Lines = []picture.Line{
		{Label: "kiln, as read", Style: picture.Wide, Points: read},
		{Label: "surface of " + p.Piece.What, Style: picture.Thin, Points: surface},
	}
	if points := told.within(c.Length, temp); len(points) > 1 {
		c.Lines = append(c.Lines, picture.Line{Label: "told by " + told.Name, Style: picture.Dashed, Points: points})
	}
	if err := curveRanges(c, rep, p.Piece); err != nil {
		return nil, err
	}
	c.End = "last reading " + ClockText(rep, c.Length)
	c.Limit = stress(p.Tension.Pair.Worst)
	c.LimitLabel = "limit at worst " + p.Tension.Pair.Worst.Text(sys)
	c.Marks = []picture.Mark{{Point: picture.Point{Time: p.PeakTime, Value: stress(p.Peak)},
		Label: fmt.Sprintf("greatest %s, %s, %s", p.Peak.Text(sys), words.Place(p.PeakPlace), ClockText(rep, p.PeakTime))}}
	left := ""
	if p.ResidualAsked {
		most := max(p.Residual, 0)
		left = fmt.Sprintf("left %s, limit %s", most.Text(sys), p.Left.Pair.Worst.Text(sys))
		c.Marks = append(c.Marks, picture.Mark{Point: picture.Point{Time: c.Length, Value: stress(most)}, Label: left})
		left = " Tension " + left + "."
	}
	c.Title = "What the kiln did, and tension in " + CountName(p.Piece)
	if len(c.Lines) > 2 {
		c.Title = "What the kiln was told and what it did, and tension in " + CountName(p.Piece)
	}
	c.Desc = fmt.Sprintf("The kiln read %s at %s and %s at %s. The tension in %s is greatest at %s with %s (%s), the limit is %s.",
		rep.Schedule.From.Text(sys), ClockText(rep, 0), rep.Schedule.Last().Text(sys), ClockText(rep, c.Length), p.Piece.What,
		ClockText(rep, p.PeakTime), p.Peak.Text(sys), words.Place(p.PeakPlace), p.Tension.Pair.Worst.Text(sys)) + left
	return c, nil
}

// within are the points of what was told between the first and the last of the
// report, ends cut where it goes on.
func (t Told) within(length float64, temp func(unit.Temp) float64) (out []picture.Point) {
	for i, r := range t.As {
		at := picture.Point{Time: (r.Time + t.Begins).Seconds(), Value: temp(r.At)}
		if i > 0 {
			before := picture.Point{Time: (t.As[i-1].Time + t.Begins).Seconds(), Value: temp(t.As[i-1].At)}
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
