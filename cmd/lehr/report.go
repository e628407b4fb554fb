package main

import (
	"fmt"
	"strings"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/words"

	"lehr/glass/unit"
)

// showReport prints a report on one screen: verdict, program, end, pieces, what
// to know first and what to look at before leaving; when asked why, also
// reasons, ranges, assumptions, limits and sources.
func (a *app) showReport(rep *verify.Report) error {
	say := words.About(rep)
	a.verdict(rep)
	a.showReady(rep)
	a.print("\n")
	if err := a.showProgram(rep); err != nil {
		return err
	}
	a.showEnergy(rep)
	a.print("\n")
	if err := a.showPieces(rep); err != nil {
		return err
	}
	if a.chart {
		if err := a.showChart(rep); err != nil {
			return err
		}
	}
	a.list("What to know first", say.List(a.first(rep)))
	if a.why {
		a.showReasons(rep)
		a.showRanges(rep)
		a.list("Assumed", say.Assumed(rep.Assumptions))
	}
	if err := a.showCautions(rep); err != nil {
		return err
	}
	if a.why {
		a.list("Limits", say.Limits())
		a.list("Sources", words.Sources(rep.Sources))
	}
	return nil
}

// first is what the reader should know first; what only a person who asks why
// wants to know is left to that.
func (a *app) first(rep *verify.Report) (out finding.List) {
	for _, f := range rep.Notes {
		if a.why || f.Kind != finding.ClosedFormDiffers && f.Kind != finding.WaitsAt {
			out.Add(f)
		}
	}
	return out
}

// showRanges says what makes the worst case of each piece, of most weight first.
func (a *app) showRanges(rep *verify.Report) {
	var out []string
	for _, p := range rep.Pieces {
		if text := words.About(rep).Ranges(p); text != "" {
			out = append(out, text)
		}
	}
	a.list("From average glass to the worst case", out)
}

// list prints a heading and its items, nothing if there are none.
func (a *app) list(head string, items []string) {
	if len(items) == 0 {
		return
	}
	a.section(head)
	for _, s := range items {
		a.item("- ", s)
	}
}

// showReasons says why each segment is as it is.
func (a *app) showReasons(rep *verify.Report) {
	if len(rep.Reasons) == 0 {
		return
	}
	a.section("Why these numbers")
	for i, s := range words.About(rep).Reasons(rep.Reasons) {
		a.item(fmt.Sprintf("%d  ", i+1), s)
	}
}

// verdict prints the two lines that a person reads first.
func (a *app) verdict(rep *verify.Report) {
	word, text := verdictText(rep)
	style := styleGood
	if rep.Verdict() != verify.WithinLimits {
		style = styleBad
	}
	a.lead(style, word, "", ": "+text+".")
	if rep.Verdict() != verify.WithinLimits {
		for _, p := range rep.Pieces {
			if len(p.Over) > 0 {
				a.item("  ", p.Piece.What+": "+overText(rep, p))
			}
		}
	}
	a.strong(endText(rep))
	a.showShortest(rep)
	if text := shareText(rep); text != "" {
		a.prose(0, text)
	}
	var about []string
	if rep.Load.Name != "" {
		about = append(about, rep.Load.Name)
	}
	about = append(about, glassNames(rep.Load), "into "+string(rep.Load.Into))
	a.prose(0, strings.Join(about, "; "))
}

// verdictText is the verdict in a word or two, and the numbers behind it.
func verdictText(rep *verify.Report) (word, numbers string) {
	sys := rep.Studio.Units
	var tension, left, opened verify.Bears // those nearest to their limit
	judged := false
	for _, p := range rep.Pieces {
		tension, opened = nearer(tension, p.Tension), nearer(opened, p.Opening)
		if p.ResidualAsked {
			left, judged = nearer(left, p.Left), true
		}
	}
	text := "tension " + bearsText(tension, sys)
	if last := lastTemp(rep); !judged && rep.Load.Into != piece.WarmOnly {
		text += fmt.Sprintf(", locked in not judged (it ends at %s)", last.Text(sys))
	}
	if judged {
		text += ", locked in " + bearsText(left, sys)
	}
	if opened.Use > 1 {
		text += fmt.Sprintf(", %s when the kiln is opened", opened.Worst.Text(sys))
	}
	switch rep.Verdict() {
	case verify.OverLimit:
		return "OVER A LIMIT", text
	case verify.NotJudged:
		if rep.EndsHot() {
			return "NOT JUDGED TO ITS END", text
		}
		return "NOT JUDGED", text
	case verify.NotProven:
		return "NOT PROVEN FOR THIS GLASS", text
	}
	return "Within limits", text
}

// nearer returns the tension that uses more of its limit.
func nearer(a, b verify.Bears) verify.Bears {
	if b.Use > a.Use || a.Pair.Worst == 0 {
		return b
	}
	return a
}

// near is the share of a limit from which average glass is spoken of, too.
const near = 0.9

// bearsText is a tension in the worst case and its limit: where average glass
// decides and is near its own, that and its own.
func bearsText(b verify.Bears, sys unit.System) string {
	worst, most := max(b.Worst, 0), b.Pair.Worst
	if b.Use > near && b.Expected > 0 && float64(b.Expected/b.Pair.Expected) > float64(worst/most) {
		return fmt.Sprintf("%s in average glass (limit %s), %s at worst (limit %s)", b.Expected.Text(sys), b.Pair.Expected.Text(sys), worst.Text(sys), most.Text(sys))
	}
	return fmt.Sprintf("at most %s (limit %s)", worst.Text(sys), most.Text(sys))
}

// shareText says that several kinds of piece go together, "" if there is one.
func shareText(rep *verify.Report) string {
	if n := len(rep.Pieces); n > 1 && rep.Verdict() == verify.WithinLimits {
		return fmt.Sprintf("All %d pieces of %d kinds can share this program.", rep.Load.Count(), n)
	}
	return ""
}

// endText says when the program ends: as an estimate where nobody has measured
// how the kiln falls.
func endText(rep *verify.Report) string {
	sys, last := rep.Studio.Units, lastTemp(rep)
	about, why, then := "", "", "; the kiln can be opened then."
	if endsEstimated(rep) {
		about, why = "about ", " (estimated: this kiln was not measured)"
		then = "; open when it reads " + last.Text(sys) + ", whatever the clock says."
	}
	switch {
	case rep.Load.Into == piece.WarmOnly:
		then = "; the kiln is ready then."
	case last.Sub(rep.Studio.Opening) > 1:
		then = "; the kiln is still at " + last.Text(sys) + " then."
	}
	total := unit.FormatDuration(unit.WholeMinutes(rep.Actual.Total()))
	end, days, ok := rep.Ends()
	if !ok {
		return "Ends after " + about + total + why + then
	}
	when := ""
	switch {
	case days == 1:
		when = " the next day"
	case days > 1:
		when = fmt.Sprintf(", %d days later", days)
	}
	return fmt.Sprintf("Ends %s%s%s, %s after %s%s%s", about, end.Text(sys), when, total, rep.Load.Start.Text(sys), why, then)
}

// endsEstimated reports whether the hour of the end rests on a fall of the kiln
// that nobody has measured.
func endsEstimated(rep *verify.Report) bool {
	return !rep.Studio.Kiln.Measured && rep.Load.Into != piece.WarmOnly
}

// lastTemp is where a program ends.
func lastTemp(rep *verify.Report) unit.Temp {
	return rep.Schedule.Segments[len(rep.Schedule.Segments)-1].To
}

func glassNames(l *piece.Load) string {
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

// overText says what is over a limit in a piece, or was not judged.
func overText(rep *verify.Report, p verify.PieceReport) string {
	return strings.Join(words.About(rep).List(p.Over), ", ")
}

// purposes names what a piece decides.
func purposes(ps []program.Purpose) []string {
	out := []string{}
	for _, p := range ps {
		out = append(out, string(p))
	}
	return out
}
