package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"lehr/anneal/formula"
	"lehr/anneal/piece"
	"lehr/anneal/verify"

	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// decidingPiece returns the piece that comes nearest to a limit.
func decidingPiece(rep *verify.Report) int { return byUse(rep)[0] }

// NewCurve computes the curves of the pieces that come nearest to a limit, the
// nearest first. The kiln is that of the clock; difference and tension are those
// that are judged, of a kiln that obeys, at the moment when the kiln of the clock
// is as hot: the columns clock_h of what verify --csv writes.
func NewCurve(rep *verify.Report) (*picture.Curve, error) {
	order := byUse(rep)
	p, sys := rep.Pieces[order[0]], rep.Studio.Units
	temp := func(t unit.Temp) float64 { x, _ := t.In(sys); return x }
	stress := func(s unit.Stress) float64 { x, _ := s.In(sys); return x }
	c := &picture.Curve{Heading: curveHeading(rep), Length: rep.Actual.Total().Seconds(), Start: rep.Load.Start, System: sys}
	_, c.TempUnit = unit.Temp{}.In(sys)
	_, c.DiffUnit = unit.Delta(0).In(sys)
	_, c.StressUnit = unit.Stress(0).In(sys)
	for _, k := range rep.Actual.Points {
		c.Kiln = append(c.Kiln, picture.Point{Time: k.Time, Value: temp(unit.Kelvin(k.Temp))})
	}
	late := false
	for i, span := range rep.Actual.Spans {
		c.Ends = append(c.Ends, span.End)
		late = late || span.End-rep.Nominal.Spans[i].End > 60
	}
	if late {
		for _, k := range rep.Nominal.Points {
			c.Told = append(c.Told, picture.Point{Time: k.Time, Value: temp(unit.Kelvin(k.Temp))})
		}
	}
	for _, i := range order[:min(len(order), picture.MostPieces)] {
		s, err := newSeries(rep, i)
		if err != nil {
			return nil, err
		}
		c.Pieces = append(c.Pieces, s)
	}
	if err := curveRanges(c, rep, p.Piece); err != nil {
		return nil, err
	}
	c.End = "ends " + ClockText(rep, c.Length)
	c.Limit = stress(p.Tension.Pair.Worst)
	for _, q := range c.Pieces[0].Share {
		c.Tension = append(c.Tension, picture.Point{Time: q.Time, Value: q.Value * stress(p.Tension.Limit())})
	}
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

// newSeries is the course of one kind of piece: difference and share of the
// limit of the tension by the clock.
func newSeries(rep *verify.Report, index int) (picture.Series, error) {
	p, sys := rep.Pieces[index], rep.Studio.Units
	s := picture.Series{Label: p.Piece.What, Left: -1}
	if p.ResidualAsked {
		s.Left = p.Left.Use
	}
	history, err := verify.History(rep, index)
	if err != nil {
		return s, err
	}
	limit := float64(p.Tension.Limit())
	end := rep.Actual.Total().Seconds()
	var before verify.Sample
	for i, now := range history {
		if rep.ActualTime(now.Time) > end+1 {
			break
		}
		if i == len(history)-1 && i > 0 && now.Time <= before.Time {
			break // the piece at the room, after the program
		}
		// Between two steps the clock may run slower than the program: the
		// curve bends there, though the steps do not.
		parts := 8
		if i == 0 {
			before, parts = now, 1
		}
		for j := range parts {
			w := float64(j+1) / float64(parts)
			mix := func(a, b float64) float64 { return a + w*(b-a) }
			at := rep.ActualTime(mix(before.Time, now.Time))
			diff := unit.Delta(mix(float64(before.Center.Sub(before.Surface)), float64(now.Center.Sub(now.Surface))))
			d, _ := diff.In(sys)
			s.Difference = append(s.Difference, picture.Point{Time: at, Value: d})
			s.Share = append(s.Share, picture.Point{Time: at, Value: max(0, mix(float64(before.Tension), float64(now.Tension))/limit)})
		}
		before = now
	}
	return s, nil
}

// byUse returns the kinds of piece, nearest to a limit first.
func byUse(rep *verify.Report) []int {
	order := make([]int, len(rep.Pieces))
	for i := range order {
		order[i] = i
	}
	use := func(i int) float64 {
		p := rep.Pieces[i]
		most := max(p.Tension.Use, p.Opening.Use)
		if p.ResidualAsked {
			most = max(most, p.Left.Use)
		}
		return most
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(use(b), use(a)) })
	return order
}

// curveHeading is what a picture that stands alone says of its program.
func curveHeading(rep *verify.Report) []string {
	name := rep.Load.Name
	if name == "" {
		var names []string
		for _, p := range rep.Load.Pieces {
			names = append(names, CountName(p))
		}
		name = strings.Join(names, ", ")
		if r := []rune(name); len(r) > 90 {
			name = string(r[:88]) + " …"
		}
	}
	word, _ := VerdictText(rep)
	verdict := word
	if rep.Verdict() != verify.NotJudged {
		verdict += ". " + DecidingText(rep)
	}
	if r := ReadyBy(rep); r != nil {
		verdict = r.Head + ". " + verdict
	}
	end, _, _ := strings.Cut(EndText(rep), " (")
	end, _, _ = strings.Cut(end, ";")
	return []string{name, verdict, strings.TrimSuffix(end, ".") + ". Planned " + session.Now().Format("Jan 2, 2006") + "."}
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
