// Package report says what a report of a plan or a check holds: as text on one
// screen, as JSON, and as a curve.
package report

import (
	"fmt"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/seal"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"

	"lehr/glass/unit"
)

// View is where a report is printed, and how much of it.
type View struct {
	*term.Screen
	Why   bool  // reasons, assumptions and sources, too
	Chart bool  // the curve, too
	Drawn Drawn // what it shows
}

// ShowReport prints a report on one screen: verdict, program, end, pieces, what
// to know first and what to look at before leaving; when asked why, also
// reasons, ranges, assumptions, limits and sources.
func (v *View) ShowReport(rep *verify.Report) error {
	say := words.About(rep)
	if late := rep.Ready != nil && !rep.Ready.Met; late && rep.Verdict() == verify.WithinLimits {
		v.showReady(rep) // what is not so comes first
		v.Print("\n")
		v.Verdict(rep)
	} else {
		v.Verdict(rep)
		if rep.Ready != nil {
			v.Print("\n")
			v.showReady(rep)
		}
	}
	v.Print("\n")
	if err := v.ShowProgram(rep); err != nil {
		return err
	}
	v.showEnergy(rep)
	v.Print("\n")
	if err := v.showPieces(rep); err != nil {
		return err
	}
	if v.Chart {
		if err := v.showChart(rep); err != nil {
			return err
		}
	}
	v.List("What to know first", say.List(v.first(rep)))
	if v.Why {
		v.showInside(rep)
		v.showReasons(rep)
		v.showRanges(rep)
		v.List("What not knowing costs", say.List(rep.Questions))
		v.List("Assumed", say.Assumed(rep.Assumptions))
		v.List("How right such numbers are", quotedEvidence())
	}
	v.List("Before and after", BeforeAndAfter(rep))
	if err := v.showCautions(rep); err != nil {
		return err
	}
	if v.Why {
		v.List("Limits", say.Limits())
		v.List("Sources", words.Sources(rep.Sources))
	}
	return nil
}

// OnPage leaves out what only a person who plans asks, so that the sheet stays one
// page.
func OnPage(notes finding.List) (out finding.List) {
	for _, f := range notes {
		if f.Kind != finding.SoakRoom {
			out.Add(f)
		}
	}
	return out
}

// first is what the reader should know first; what only a person who asks why
// wants to know is left to that, and what stands at the program is not repeated.
func (v *View) first(rep *verify.Report) (out finding.List) {
	for _, f := range rep.Notes {
		switch f.Kind {
		case finding.WaitsAt:
		case finding.ClosedFormDiffers, finding.SoakRoom:
			if v.Why {
				out.Add(f)
			}
		default:
			out.Add(f)
		}
	}
	return out
}

// showRanges says what makes the worst case of each piece, of most weight first.
func (v *View) showRanges(rep *verify.Report) {
	var out []string
	for _, p := range rep.Pieces {
		if text := words.About(rep).Ranges(p); text != "" {
			out = append(out, text)
		}
	}
	v.List("From average glass to the worst case", out)
}

// showReasons says why each segment is as it is.
func (v *View) showReasons(rep *verify.Report) {
	if len(rep.Reasons) == 0 {
		return
	}
	v.Section("Why these numbers")
	for i, s := range words.About(rep).Reasons(rep.Reasons) {
		v.Item(fmt.Sprintf("%d  ", i+1), s)
	}
}

// Verdict prints the two lines that a person reads first.
func (v *View) Verdict(rep *verify.Report) {
	word, text := VerdictText(rep)
	style := term.Good
	if rep.Verdict() != verify.WithinLimits {
		style = term.Bad
	}
	v.Lead(style, word, "", ": "+text+".")
	if rep.Verdict() != verify.WithinLimits {
		for _, p := range rep.Pieces {
			if len(p.Over) > 0 {
				v.Item("  ", p.Piece.What+": "+OverText(rep, p))
			}
		}
	}
	for _, text := range words.About(rep).List(rep.Mend) {
		v.Prose(0, term.Capital(text)+".")
	}
	v.Strong(EndText(rep))
	v.showShortest(rep)
	if text := ShareText(rep); text != "" {
		v.Prose(0, text)
	}
	var about []string
	if rep.Load.Name != "" {
		about = append(about, rep.Load.Name)
	}
	about = append(about, GlassNames(rep.Load), "into "+string(rep.Load.Into))
	v.Prose(0, strings.Join(about, "; "))
}

// VerdictText is the verdict in a word or two, and the numbers behind it.
func VerdictText(rep *verify.Report) (word, numbers string) {
	sys := rep.Studio.Units
	var tension, left, opened verify.Tension // those nearest to their limit
	judged := false
	for _, p := range rep.Pieces {
		tension, opened = Nearer(tension, p.Tension), Nearer(opened, p.Opening)
		if p.ResidualJudged {
			left, judged = Nearer(left, p.ResidualTension), true
		}
	}
	text := "tension " + BearsText(tension, sys)
	if opened.Use > min(1, tension.Use) {
		text += ", " + BearsText(opened, sys) + " when the kiln is opened"
	}
	if last := lastTemp(rep); !judged && rep.Load.Into != piece.WarmOnly {
		text += fmt.Sprintf(", locked in not judged (it ends at %s)", last.Text(sys))
	}
	if judged {
		text += ", locked in " + BearsText(left, sys)
	}
	text += insideText(rep) + publishedText(rep)
	return words.VerdictHead(rep.Verdict(), rep.EndsHot()), text
}

// publishedText says which of the limits for average glass that the tables of lehr
// have a program exceeds, where a person gave a looser one.
func publishedText(rep *verify.Report) (text string) {
	sys, published := rep.Studio.Units, kiln.DefaultLimits()
	var tension, left unit.Stress
	for _, p := range rep.Pieces {
		tension, left = max(tension, p.Tension.Expected), max(left, p.ResidualTension.Expected)
	}
	say := func(what string, is, given, most unit.Stress) {
		if given > most && is > most {
			text += fmt.Sprintf("; by a limit of your own: %s is %s in average glass, the published limit is %s", what, is.Text(sys), most.Text(sys))
		}
	}
	say("tension", tension, rep.Limits.Tension, published.Tension)
	say("locked in", left, rep.Limits.Residual, published.Residual)
	return text
}

// insideText is the greatest tension for good by what lies in the pieces: at a
// surface against its limit, else where it is buried, which has none but what no
// tested glass bore.
func insideText(rep *verify.Report) string {
	sys := rep.Studio.Units
	var alone, limit, buried unit.Stress
	cracks := false
	for _, p := range rep.Pieces {
		if p.Inside == nil {
			continue
		}
		cracks = cracks || p.Over.Has(finding.MisfitCracks)
		if p.Inside.Alone.Worst > alone {
			alone, limit = p.Inside.Alone.Worst, p.Inside.Limit
		}
		for _, b := range p.Inside.Buried {
			buried = max(buried, b.Together)
		}
	}
	text := ""
	if alone > 0 {
		text += fmt.Sprintf("; for good by what lies inside at most %s at the surface (limit %s)", alone.Text(sys), limit.Text(sys))
	}
	switch {
	case buried > alone && cracks:
		text += fmt.Sprintf("; %s where it is buried (the strongest tested glass broke at %s)", buried.Text(sys), seal.StrengthReached.Text(sys))
	case buried > alone:
		text += fmt.Sprintf("; %s where it is buried, for which no limit is known", buried.Text(sys))
	}
	return text
}

// Nearer returns the tension that uses more of its limit.
func Nearer(a, b verify.Tension) verify.Tension {
	if b.Use > a.Use || a.Pair.Worst == 0 {
		return b
	}
	return a
}

// BearsText is a tension in the worst case and its limit, as [words.Tension].
func BearsText(b verify.Tension, sys unit.System) string { return words.Tension(b, sys) }

// ShareText says that several kinds of piece go together, "" if there is one.
func ShareText(rep *verify.Report) string {
	if n := len(rep.Pieces); n > 1 && rep.Verdict() == verify.WithinLimits {
		return fmt.Sprintf("All %d pieces of %d kinds can share this program.", rep.Load.Count(), n)
	}
	return ""
}

// EndText says when the program ends, as an estimate where nobody has measured
// how the kiln falls, and what to do then.
func EndText(rep *verify.Report) string {
	last, why := lastTemp(rep), ""
	if EndsEstimated(rep) {
		why = " (kiln not measured)"
		if between := kilnsText(rep); between != "" {
			why = " (kiln not measured: " + between + ")"
		}
	}
	then := "; open when it reads " + ReadingText(rep, last) + ", whatever the clock says."
	closed, keep := ClosedText(rep)
	switch {
	case rep.Load.Into == piece.WarmOnly:
		then = "; ready for the torch then."
	case keep:
		then = "; keep it closed " + closed + ", whatever the clock says."
	case last.Sub(rep.Studio.Opening) > 1:
		then = "; the kiln still reads " + ReadingText(rep, last) + " then."
	}
	return endsText(rep) + why + then
}

// ClosedText says until when a kiln stays closed that would be opened too hot; ok is
// false where it would not.
func ClosedText(rep *verify.Report) (text string, ok bool) {
	f, ok := rep.Notes.Find(finding.KeepClosed)
	if !ok {
		return "", false
	}
	return words.Closed(f, func(t unit.Temp) string { return ReadingText(rep, t) }), true
}

// endsText says when the program ends, and no more.
func endsText(rep *verify.Report) string {
	about, total := "", unit.FormatDuration(unit.WholeMinutes(rep.Actual.Total()))
	if EndsEstimated(rep) {
		about = "about "
	}
	end, days, ok := rep.Ends()
	if !ok {
		return "Ends after " + about + total
	}
	when := ""
	switch {
	case days == 1:
		when = " the next day"
	case days > 1:
		when = fmt.Sprintf(", %d days later", days)
	}
	sys := rep.Studio.Units
	return fmt.Sprintf("Ends %s%s%s, %s after %s", about, end.Text(sys), when, total, rep.Load.Start.Text(sys))
}

// ReadingText is a temperature as the controller shows it, and behind it in the
// degrees of this report where those are others.
func ReadingText(rep *verify.Report, t unit.Temp) string {
	shown, own := rep.Studio.Controller.Units, rep.Studio.Units
	if shown == own {
		return t.Text(own)
	}
	return t.Text(shown) + " (" + t.Text(own) + ")"
}

// EndsEstimated reports whether the hour of the end rests on a fall of the kiln
// that nobody has measured.
func EndsEstimated(rep *verify.Report) bool {
	return (!rep.Studio.Kiln.Measured || len(rep.Kilns) > 0) && rep.Load.Into != piece.WarmOnly
}

// kilnsText says between which hours a program ends in the kilns that one which
// nobody measured may be.
func kilnsText(rep *verify.Report) string {
	first, last, ok := betweenText(rep)
	if !ok {
		return ""
	}
	return first + " to " + last
}

// betweenText is when a program ends in the quickest and in the slowest kiln that one
// which nobody measured may be: by the clock, or after how long where it has no start.
func betweenText(rep *verify.Report) (first, last string, ok bool) {
	quickest, slowest, ok := rep.Between()
	return momentText(rep, quickest), momentText(rep, slowest), ok
}

// momentText is so long after the start of a program: by the clock, or how long where it
// has no start.
func momentText(rep *verify.Report, after time.Duration) string {
	after = unit.WholeMinutes(after)
	if rep.Load.Start == nil {
		return unit.FormatDuration(after)
	}
	at, days := rep.Load.Start.Add(after)
	text := at.Text(rep.Studio.Units)
	if days > 0 {
		text += fmt.Sprintf(" +%dd", days)
	}
	return text
}

// lastTemp is where a program ends.
func lastTemp(rep *verify.Report) unit.Temp {
	return rep.Schedule.Segments[len(rep.Schedule.Segments)-1].To
}

// GlassNames names the glasses of a load, each once.
func GlassNames(l *piece.Load) string {
	var names []string
	seen := map[string]bool{}
	for _, p := range l.Pieces {
		if n := p.Glass.Name; !seen[n] {
			seen[n] = true
			names = append(names, n)
		}
	}
	return strings.Join(names, ", ")
}

// OverText says what is over a limit in a piece, or was not judged.
func OverText(rep *verify.Report, p verify.PieceReport) string {
	return strings.Join(words.About(rep).List(p.Over), ", ")
}

// Purposes names what a piece decides.
func Purposes(ps []program.Purpose) []string {
	out := []string{}
	for _, p := range ps {
		out = append(out, string(p))
	}
	return out
}
