package report

import (
	"fmt"
	"math"

	"lehr/anneal/formula"
	"lehr/anneal/piece"
	"lehr/anneal/verify"

	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// decidingPiece returns the piece that comes nearest to a limit.
func decidingPiece(rep *verify.Report) int {
	best, most := 0, math.Inf(-1)
	for i, p := range rep.Pieces {
		share := p.Tension.Use
		if p.ResidualAsked {
			share = max(share, p.Left.Use)
		}
		if share > most {
			best, most = i, share
		}
	}
	return best
}

// NewCurve computes the curve of the piece that comes nearest to a limit. The
// temperatures are those of the kiln as the clock has it; the tension is the
// one that is judged, of a kiln that obeys, at the moment when the kiln of the
// clock is as hot.
func NewCurve(rep *verify.Report) (*picture.Curve, error) {
	index := decidingPiece(rep)
	p, sys := rep.Pieces[index], rep.Studio.Units
	history, err := verify.History(rep, index)
	if err != nil {
		return nil, err
	}
	byClock, err := verify.ActualHistory(rep, index)
	if err != nil {
		return nil, err
	}
	temp := func(t unit.Temp) float64 { x, _ := t.In(sys); return x }
	stress := func(s unit.Stress) float64 { x, _ := s.In(sys); return x }
	c := &picture.Curve{Length: rep.Actual.Total().Seconds(), Start: rep.Load.Start, System: sys}
	_, c.TempUnit = unit.Temp{}.In(sys)
	_, c.StressUnit = unit.Stress(0).In(sys)

	var kiln, surface, center []picture.Point
	for _, k := range rep.Actual.Points {
		kiln = append(kiln, picture.Point{Time: k.Time, Value: temp(unit.Kelvin(k.Temp))})
	}
	for i, s := range history {
		// Between two steps the clock may run slower than the program: the
		// curve bends there, though the steps do not.
		const parts = 8
		for j := range parts {
			at, tension := s.Time, stress(s.Tension)
			if i > 0 {
				before, w := history[i-1], float64(j+1)/parts
				at = before.Time + w*(s.Time-before.Time)
				tension = stress(before.Tension) + w*(tension-stress(before.Tension))
			}
			c.Tension = append(c.Tension, picture.Point{Time: rep.ActualTime(at), Value: tension})
		}
	}
	lag := unit.Delta(0)
	for _, s := range byClock {
		surface = append(surface, picture.Point{Time: s.Time, Value: temp(s.Surface)})
		center = append(center, picture.Point{Time: s.Time, Value: temp(s.Center)})
		lag = max(lag, s.Center.Sub(s.Surface), s.Surface.Sub(s.Center))
	}
	c.Lines = []picture.Line{
		{Label: "kiln", Style: picture.Wide, Points: kiln},
		{Label: "surface of " + p.Piece.What, Style: picture.Thin, Points: surface},
		{Label: fmt.Sprintf("%s, at most %s off", innerName(p), lag.Text(sys)), Style: picture.Dashed, Points: center},
	}
	if err := curveRanges(c, rep, p.Piece); err != nil {
		return nil, err
	}
	c.End = "ends " + ClockText(rep, c.Length)
	c.Limit = stress(p.Tension.Pair.Worst)
	c.LimitLabel = "limit at worst " + p.Tension.Pair.Worst.Text(sys)
	peakAt := rep.ActualTime(p.PeakTime)
	c.Marks = []picture.Mark{{Point: picture.Point{Time: peakAt, Value: stress(p.Peak)},
		Label: fmt.Sprintf("greatest %s, %s, %s", p.Peak.Text(sys), words.Place(p.PeakPlace), ClockText(rep, peakAt))}}
	if p.ResidualAsked {
		left := max(p.Residual, 0)
		c.Marks = append(c.Marks, picture.Mark{Point: picture.Point{Time: c.Length, Value: stress(left)},
			Label: fmt.Sprintf("left %s, limit %s", left.Text(sys), p.Left.Pair.Worst.Text(sys))})
	}
	c.Title = "Kiln program and tension in " + CountName(p.Piece)
	c.Desc = curveWords(rep, p)
	return c, nil
}

// innerName is what the innermost point of a piece is called.
func innerName(p verify.PieceReport) string {
	switch {
	case p.Body.Sim.Inner > 0:
		return "bore"
	case p.Body.OneFace:
		return "closed face"
	case p.Body.Form == formula.FormSlab:
		return "middle"
	}
	return "center"
}

// curveRanges adds the soak and strain ranges of the glass and the hold of the
// soak.
func curveRanges(c *picture.Curve, rep *verify.Report, p piece.Piece) error {
	sys := rep.Studio.Units
	band := func(name string, low, high unit.Temp) picture.Band {
		a, u := low.In(sys)
		b, _ := high.In(sys)
		return picture.Band{Low: a, High: b, Label: fmt.Sprintf("%s %s–%s %s", name, term.Whole(a), term.Whole(b), u)}
	}
	low, high, err := piece.SoakRange(p.Glass)
	if err != nil {
		return err
	}
	c.Soak = band("soak range", low, high)
	if low, high, err = verify.StrainRange(p.Glass); err != nil {
		return err
	}
	c.Strain = band("strain range", low, high)
	for i, seg := range rep.Schedule.Segments {
		if seg.Purpose == "soak" {
			c.SoakFrom, c.SoakUntil = rep.Actual.Spans[i].RampEnds, rep.Actual.Spans[i].End
		}
	}
	return nil
}

// curveWords tells the curve to someone who cannot see it.
func curveWords(rep *verify.Report, p verify.PieceReport) string {
	sys := rep.Studio.Units
	text := fmt.Sprintf("The kiln begins at %s.", rep.Schedule.From.Text(sys))
	for i, seg := range rep.Schedule.Segments {
		span := rep.Actual.Spans[i]
		if span.RampEnds > span.Start {
			text += fmt.Sprintf(" It reaches %s at %s.", seg.To.Text(sys), ClockText(rep, span.RampEnds))
		}
		if seg.Hold > 0 {
			text += fmt.Sprintf(" It stays at %s until %s.", seg.To.Text(sys), ClockText(rep, span.End))
		}
	}
	text += fmt.Sprintf(" In %s, surface and %s differ by at most %s under the program as keyed in. The tension is greatest at %s with %s (%s), the limit is %s.",
		p.Piece.What, innerName(p), p.MaxLag.Text(sys), ClockText(rep, rep.ActualTime(p.PeakTime)), p.Peak.Text(sys), words.Place(p.PeakPlace), p.Tension.Pair.Worst.Text(sys))
	if p.ResidualAsked {
		text += fmt.Sprintf(" Tension left at room temperature: %s, limit %s.", max(p.Residual, 0).Text(sys), p.Left.Pair.Worst.Text(sys))
	}
	return text
}

// showChart prints the curve in characters.
func (v *View) showChart(rep *verify.Report) error {
	curve, err := NewCurve(rep)
	if err != nil {
		return err
	}
	var spell func(string) string
	if v.ASCII() {
		spell = term.ToASCII
	}
	v.Print("\n" + v.Style(term.Bold, "Curve") + "\n")
	v.Prose(0, curve.Title+".")
	v.Print(curve.Text(v.Width(), spell))
	return nil
}
