package web

import (
	"fmt"
	"math"
	"strings"

	"golang.org/x/net/html"

	"lehr/anneal/piece"
	"lehr/anneal/verify"

	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
	"lehr/safety/checklist"
)

// sheetView is what the page of a report shows, in words.
type sheetView struct {
	Paper
	rep              *verify.Report
	Name             string
	About            []string
	Notes            []string // of the pieces
	Verdict, Numbers string
	Within           bool
	Use              float64 // of the limit that decides
	Decides          string
	Over, Mend       []string // what is over a limit, the smallest change that passes
	Ready            *report.ReadyWords
	Start, End       moment
	EndText, Length  string
	Share            string
	Kiln             string
	RateUnit, To     string
	Segments         []sheetSegment
	ProgramNotes     []string // below the program
	Hours            []report.Reading
	BandText         string
	Curve            string
	CurveNote        string
	Pieces           []sheetPiece
	Pages            []checklist.Page
	Call             string // whom to call when something is wrong
	First, Reasons   []string
	Before, Inside   []string
	Assumed, Sources []string
}

// moment is a time on its day.
type moment struct{ Day, Time string }

type sheetSegment struct {
	Number                                      int
	Off                                         bool // nothing is keyed in
	What, Rate, Target, Hold, Begins, Ends, Why string
	Share                                       float64 // of the whole program
}

type sheetPiece struct {
	Name, Note, Decides string
	Bars                []sheetBar
	Over                string
	Text                string
}

// sheetBar is one judgment: what uses how much of its limit.
type sheetBar struct {
	What string
	Use  float64
	Of   string // "1.48 of 3.50 MPa"
}

// Sheet makes the page of a report.
func Sheet(rep *verify.Report, p Paper) ([]byte, error) {
	v, err := newSheetView(rep, p)
	if err != nil {
		return nil, err
	}
	return v.page()
}

func newSheetView(rep *verify.Report, paper Paper) (*sheetView, error) {
	draw := func() (*picture.Curve, error) { return report.NewCurve(rep, paper.Drawn) }
	if paper.Past != nil {
		draw = paper.Past.Curve
	}
	curve, err := draw()
	if err != nil {
		return nil, err
	}
	svg, err := curve.Inline(picture.Column)
	if err != nil {
		return nil, err
	}
	v := newProgramView(rep, paper)
	v.Curve = svg
	if paper.Past == nil {
		v.CurveNote = report.CurveNote(rep)
	}
	if text := paper.Drawn.OverText(); text != "" {
		v.CurveNote = strings.TrimSpace(text + " " + v.CurveNote)
	}
	if v.Pages, err = report.KilnPages(rep); err != nil {
		return nil, err
	}
	say := paper.about(rep)
	v.First, v.Reasons = say.List(report.OnPage(rep.Notes)), say.Reasons(rep.Reasons)
	v.Assumed, v.Sources = say.Assumed(rep.Assumptions), sheetSources(rep)
	v.Before, v.Inside = report.BeforeAndAfter(rep), report.InsideLines(rep)
	if !rep.Replayed {
		v.Hours, v.BandText = report.Readings(rep), report.BandText(rep)
	}
	v.Call = session.Call(session.EmergencyNumber(rep.Load, rep.Studio))
	return v, nil
}

// newProgramView is what a page says of verdict, times, program and pieces.
func newProgramView(rep *verify.Report, paper Paper) *sheetView {
	v := &sheetView{Paper: paper, rep: rep, Name: rep.Load.Name, Within: rep.Verdict() == verify.WithinLimits, Ready: report.ReadyBy(rep, paper.Fields),
		Share: report.ShareText(rep), EndText: report.EndText(rep), Decides: report.DecidingText(rep), ProgramNotes: report.ProgramNotes(rep)}
	if v.Name == "" {
		v.Name = loadTitle(rep.Load)
	}
	v.About = []string{report.GlassNames(rep.Load), "into " + string(rep.Load.Into), countText(rep.Load)}
	if rep.Shortest != nil {
		v.Share = strings.TrimSpace(v.Share + " " + report.ShortestText(rep))
	}
	v.Verdict, v.Numbers = report.VerdictText(rep)
	v.Numbers = term.Capital(v.Numbers) + "."
	_, v.Use = report.Deciding(rep)
	if rep.Verdict() == verify.NotJudged || v.Use == 0 && !v.Within { // that is said among what is over
		v.Use, v.Decides = 0, ""
	}
	for _, p := range rep.Pieces {
		if len(p.Over) > 0 {
			v.Over = append(v.Over, p.Piece.What+": "+report.OverText(rep, p))
		}
	}
	for _, s := range paper.about(rep).List(rep.Mend) {
		v.Mend = append(v.Mend, term.Capital(s)+".")
	}
	v.times()
	v.Kiln = kilnText(rep)
	if paper.Past != nil && paper.Past.Verdict != "" {
		v.Verdict = paper.Past.Verdict
	}
	if rep.Replayed {
		v.Share = ""
	} else {
		v.segments()
	}
	v.pieces()
	return v
}

// times fills in when it begins and ends.
func (v *sheetView) times() {
	rep := v.rep
	total := unit.WholeMinutes(rep.Actual.Total())
	v.Length = unit.FormatDuration(total)
	v.Start, v.End = moment{"start", report.ClockOnly(rep, 0)}, moment{"end", report.ClockOnly(rep, total.Seconds())}
	end, days, dated := rep.Ends()
	day := "the same day"
	switch {
	case days == 1:
		day = "the next day"
	case days > 1:
		day = fmt.Sprintf("%d days later", days)
	}
	if dated {
		v.End = moment{day, end.Text(rep.Studio.Units)}
	}
	switch about := report.EndsEstimated(rep); {
	case rep.Replayed && dated:
		v.End.Day = "last reading, " + day
	case rep.Replayed:
		v.End.Day = "last reading"
	case about && dated:
		v.End.Day = "about " + day
	case about:
		v.End.Day = "end about"
	}
}

func (v *sheetView) segments() {
	rep := v.rep
	u := rep.Studio.Controller.Units
	v.To = "°C"
	if u == unit.US {
		v.To = "°F"
	}
	v.RateUnit = v.To + "/h"
	if rep.Studio.Controller.Minutes {
		v.RateUnit = "min"
	}
	reasons := v.about(rep).Reasons(rep.Reasons)
	for i, seg := range rep.Schedule.Segments {
		span := rep.Actual.Spans[i]
		to, _ := seg.To.In(u)
		hold := report.HourMin(seg.Hold)
		if hold == "-" {
			hold = "0:00"
		}
		s := sheetSegment{Number: i + 1, Off: seg.Off, What: report.PurposeText(rep, i), Rate: report.RateText(rep, i), Target: term.Whole(to), Hold: hold,
			Begins: report.ClockText(rep, span.Start), Ends: report.ClockText(rep, span.End), Share: (span.End - span.Start) / rep.Actual.Total().Seconds()}
		if i < len(reasons) {
			s.Why = term.Capital(reasons[i])
		}
		v.Segments = append(v.Segments, s)
	}
}

// pieces fills in the judgments of the pieces.
func (v *sheetView) pieces() {
	sys := v.rep.Studio.Units
	_, u := v.rep.Limits.Tension.In(sys)
	in := func(s unit.Stress) string { return report.StressCell(s, sys) }
	of := func(b verify.Tension) string {
		worst := max(b.Worst, 0)
		if b.Use > 0 && b.Limit() != b.Pair.Worst { // average glass decides
			return fmt.Sprintf("%s of %s %s in average glass", in(b.Expected), in(b.Pair.Expected), u)
		}
		return fmt.Sprintf("%s of %s %s", in(worst), in(b.Pair.Worst), u)
	}
	decides, _ := report.Deciding(v.rep)
	for i, p := range v.rep.Pieces {
		row := sheetPiece{Name: report.CountName(p.Piece), Note: p.Piece.Note, Over: report.OverText(v.rep, p)}
		if i == decides && len(v.rep.Pieces) > 1 {
			row.Decides = "decides"
		}
		row.Bars = []sheetBar{{"tension", p.Tension.Use, of(p.Tension)}}
		where := words.Place(p.PeakPlace)
		if v.Past == nil {
			where = report.PeakWhere(v.rep, p)
		}
		text := fmt.Sprintf("Tension %s, %s.", of(p.Tension), where)
		if p.Opening.Use > 0 {
			row.Bars = append(row.Bars, sheetBar{"when opened", p.Opening.Use, of(p.Opening)})
			text += " When opened " + of(p.Opening) + "."
		}
		if p.ResidualJudged {
			row.Bars = append(row.Bars, sheetBar{"left", p.ResidualTension.Use, of(p.ResidualTension)})
			text += fmt.Sprintf(" Left %s", of(p.ResidualTension))
			if p.Piece.Shown() != piece.NotShown {
				text += fmt.Sprintf("; retardation %s nm in a liquid of its index, %s", term.Whole(float64(p.Retardation)*1e9), p.Piece.Shown())
			}
			text += "."
			if p.SoakJudged {
				text += fmt.Sprintf(" Relaxed in the soak %s %%.", term.Short(math.Floor(p.Relaxed*1e4)/100))
			}
		}
		if len(v.rep.Pieces) > 1 && len(p.Decides) > 0 {
			text += " It sets: " + strings.Join(report.Purposes(p.Decides), ", ") + "."
		}
		if use, ok := report.InsideUse(p); ok {
			row.Bars = append(row.Bars, sheetBar{"lies inside", use, ""})
		}
		row.Text = text
		v.Pieces = append(v.Pieces, row)
	}
}

// kilnText says which kiln the page is for.
func kilnText(rep *verify.Report) string {
	k := rep.Studio.Kiln
	text := "Kiln: "
	if !k.Holding.IsZero() {
		text += "holds at " + k.Holding.Text(rep.Studio.Units) + ", "
	}
	text += "falls " + k.Fall.Law(rep.Studio.Units)
	if !k.Measured {
		text += " (not measured)"
	}
	return text
}

// sheetSources are the sources but for those of the limits, which would take a
// page of their own.
func sheetSources(rep *verify.Report) (out []string) {
	for i, s := range rep.Sources {
		if !s.Limit {
			out = append(out, words.Sources(rep.Sources[i:i+1])...)
		}
	}
	return append(out, "limits: published texts; lehr plan --why names them")
}

// loadTitle names a load that has no name by its pieces.
func loadTitle(l *piece.Load) string {
	var names []string
	for i, p := range l.Pieces {
		if i == 3 && len(l.Pieces) > 4 {
			return fmt.Sprintf("%s and %d more kinds", strings.Join(names, ", "), len(l.Pieces)-i)
		}
		names = append(names, report.CountName(p))
	}
	return strings.Join(names, ", ")
}

func countText(l *piece.Load) string {
	n, kinds := l.Count(), len(l.Pieces)
	switch {
	case n == 1:
		return "1 piece"
	case kinds == 1:
		return fmt.Sprintf("%d pieces", n)
	}
	return fmt.Sprintf("%d pieces of %d kinds", n, kinds)
}

// Enlarged makes the letters of a page half as large again. On paper what
// stands side by side then stands one below the other.
func Enlarged(page []byte) []byte {
	const style = "<style>html{font-size:160%}" +
		"@media print{body{zoom:1.5}.two,.top,.grid{display:block}}</style></head>"
	return []byte(strings.Replace(string(page), "</head>", style, 1))
}

// bar draws a share of a limit: the limit is the mark, always at the same place,
// so that there is room for what is over it.
func bar(use float64) *html.Node {
	const mark, width = 100.0, 125.0
	w := min(max(100*use, 0), width)
	track := fmt.Sprintf(`<rect class="track" x="0" y="1.5" width="%g" height="7"/>`, mark)
	within := fmt.Sprintf(`<rect x="0" y="1.5" width="%.1f" height="7"/>`, min(w, mark))
	if use < 0.01 {
		within = ""
	}
	over := ""
	if w > mark {
		over = fmt.Sprintf(`<rect class="beyond" x="%.1f" y="0" width="%.1f" height="10"/>`, mark+1.5, max(w-mark-1.5, 1.5))
	}
	return Verbatim(fmt.Sprintf(`<svg class="bar" viewBox="0 0 %g 10" preserveAspectRatio="none" aria-hidden="true">%s%s%s<line x1="%g" x2="%g" y1="-1" y2="11"/></svg>`,
		width, track, within, over, mark, mark))
}
