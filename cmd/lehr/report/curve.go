package report

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"lehr/anneal/formula"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"

	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// decidingPiece returns the piece that comes nearest to a limit.
func decidingPiece(rep *verify.Report) int { return byUse(rep)[0] }

// Drawn is what a curve shows of a report. The zero value shows the pieces that
// come nearest to a limit, and no other program.
type Drawn struct {
	Pieces []int          // kinds of the load by their index, at most picture.MostChosen
	Over   *verify.Report // another program in the same load, drawn over it; then at most picture.MostBeside
	Name   string         // of that program
	Own    string         // of the program of the report
}

// kinds are those that are drawn, the nearest to a limit first.
func (d Drawn) kinds(rep *verify.Report) []int {
	order, most := byUse(rep), picture.MostPieces
	if d.Over != nil {
		most = 1
	}
	if len(d.Pieces) > 0 {
		order = slices.DeleteFunc(order, func(i int) bool { return !slices.Contains(d.Pieces, i) })
		most = picture.MostChosen
		if d.Over != nil {
			most = picture.MostBeside
		}
	}
	return order[:min(len(order), most)]
}

// Choices lists the kinds of piece and says which of them are drawn.
func (d Drawn) Choices(rep *verify.Report) (shown []bool, most int) {
	shown = make([]bool, len(rep.Pieces))
	for _, i := range d.kinds(rep) {
		shown[i] = true
	}
	if d.Over != nil {
		return shown, picture.MostBeside
	}
	return shown, picture.MostChosen
}

// NewCurve computes the curves of the pieces that are drawn, the nearest to a limit
// first. The kiln is that of the clock; difference and tension are those
// that are judged, of a kiln that obeys, at the moment when the kiln of the clock
// is as hot.
func NewCurve(rep *verify.Report, d Drawn) (*picture.Curve, error) {
	order := d.kinds(rep)
	p, sys := rep.Pieces[order[0]], rep.Studio.Units
	c := &picture.Curve{Heading: curveHeading(rep), Length: rep.Actual.Total().Seconds(), Start: rep.Load.Start, System: sys, InText: 1}
	if len(d.Pieces) > 0 {
		c.InText = len(order)
	}
	_, c.TempUnit = unit.Temp{}.In(sys)
	_, c.DiffUnit = unit.Delta(0).In(sys)
	c.Kiln = readings(rep.Actual, sys)
	late := false
	for i, span := range rep.Actual.Spans {
		c.Ends = append(c.Ends, span.End)
		late = late || span.End-rep.Nominal.Spans[i].End > 60
	}
	if late && d.Over == nil {
		c.Nominal = readings(rep.Nominal, sys)
		if rep.Studio.Kiln.Measured {
			c.NominalName = "a tenth faster"
		}
	}
	c.End = "ends " + ClockText(rep, c.Length)
	reports := []*verify.Report{rep}
	if d.Over != nil {
		c.Name, c.Other = d.Own, &picture.Program{Name: d.Name, Kiln: readings(d.Over.Actual, sys)}
		c.Length = max(c.Length, d.Over.Actual.Total().Seconds())
		c.Heading = append(c.Heading, d.OverText())
		reports = append(reports, d.Over)
	}
	for n, r := range reports {
		for _, i := range order {
			s, err := newSeries(r, i)
			if err != nil {
				return nil, err
			}
			s.Other = n > 0
			c.Pieces = append(c.Pieces, s)
		}
	}
	if err := curveRanges(c, rep, p.Piece); err != nil {
		return nil, err
	}
	c.Title = "Kiln program and tension in " + CountName(p.Piece)
	c.Desc = curveWords(rep, p)
	if note := CurveNote(rep); note != "" {
		c.Heading, c.Desc = append(c.Heading, note), c.Desc+" "+note
	}
	if d.Over != nil {
		c.Title = "Two kiln programs and tension in " + CountName(p.Piece)
		c.Desc += " " + d.OverText()
	}
	return c, nil
}

// CurveNote says how temperatures and tension belong together when the kiln is
// not that of the clock, "" where it is.
func CurveNote(rep *verify.Report) string {
	for _, span := range rep.Actual.Spans {
		switch measured := rep.Studio.Kiln.Measured; {
		case rep.Replayed, !span.ByItself && (measured || !span.Overshoots):
		case measured:
			return "Kiln: as it was measured. Pieces: in one that falls a tenth faster, when this one reads the same."
		default:
			return "Kiln: as it falls by itself. Pieces: in a kiln that follows the program exactly, when this one reads the same."
		}
	}
	return ""
}

// OverText says which line is which program, and what the other comes to; "" if
// there is no other.
func (d Drawn) OverText() string {
	if d.Over == nil {
		return ""
	}
	word, _ := VerdictText(d.Over)
	text := fmt.Sprintf("Solid: %s. Long dashes: %s, ends %s. %s", d.Own, d.Name, ClockText(d.Over, d.Over.Actual.Total().Seconds()), word)
	if d.Over.Verdict() != verify.NotJudged {
		text += ": " + DecidingText(d.Over)
	}
	return strings.TrimSuffix(text, ".") + "."
}

// readings are the points of the kiln.
func readings(t program.Timeline, sys unit.System) (out []picture.Point) {
	for _, k := range t.Points {
		at, _ := unit.Kelvin(k.Temp).In(sys)
		out = append(out, picture.Point{Time: k.Time, Value: at})
	}
	return out
}

// newSeries is the course of one kind of piece: difference and share of the
// limit of the tension by the clock.
func newSeries(rep *verify.Report, index int) (picture.Series, error) {
	p, sys := rep.Pieces[index], rep.Studio.Units
	s := picture.Series{Label: p.Piece.What, Left: -1, Limit: "limit at worst " + p.Tension.Pair.Worst.Text(sys),
		Greatest: fmt.Sprintf("greatest %s, %s, %s", p.Peak.Text(sys), words.Place(p.PeakPlace), ClockText(rep, rep.ActualTime(p.PeakTime)))}
	if p.ResidualJudged {
		s.Left = p.ResidualTension.Use
	}
	history, err := rep.History(index)
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
	use := func(i int) float64 { return nearest(rep.Pieces[i]).use }
	sort.SliceStable(order, func(i, j int) bool { return use(order[i]) > use(order[j]) })
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
	if r := ReadyBy(rep, nil); r != nil {
		verdict = r.Head + ". " + verdict
	}
	return []string{name, verdict, endsText(rep) + ". Planned " + session.Now().Format("Jan 2, 2006") + "."}
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
		ends := term.Whole(a) + "–" + term.Whole(b)
		return picture.Band{Low: a, High: b, Label: name + " range " + ends + " " + u, Short: name + " " + ends}
	}
	low, high, err := piece.SoakRange(p.Glass)
	if err != nil {
		return err
	}
	c.Soak = band("soak", low, high)
	if low, high, err = verify.StrainRange(p.Glass); err != nil {
		return err
	}
	c.Strain = band("strain", low, high)
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
	if p.ResidualJudged {
		text += fmt.Sprintf(" Tension left at room temperature: %s, limit %s.", max(p.Residual, 0).Text(sys), p.ResidualTension.Pair.Worst.Text(sys))
	}
	return text
}

// showChart prints the curve in characters.
func (v *View) showChart(rep *verify.Report) error {
	curve, err := NewCurve(rep, v.Drawn)
	if err != nil {
		return err
	}
	var spell func(string) string
	if v.ASCII() {
		spell = term.ToASCII
	}
	v.Print("\n" + v.Style(term.Bold, "Curve") + "\n")
	v.Prose(0, strings.TrimSpace(curve.Title+". "+CurveNote(rep)))
	v.Print(curve.Text(v.Width(), spell))
	return nil
}
