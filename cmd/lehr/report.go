package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"lehr/anneal"
	"lehr/glass/unit"
)

// showReport prints a report: verdict, program, end, pieces, assumptions,
// cautions, sources.
func (a *app) showReport(rep *anneal.Report) error {
	sys := rep.Studio.Units
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
	a.list("What to know first", localTexts(rep.Load, rep.Notes, sys))
	a.showReasons(rep)
	a.list("Assumed", mergeAssumed(rep.Load, localTexts(rep.Load, rep.Assumptions, sys)))
	if err := a.showCautions(rep); err != nil {
		return err
	}
	a.list("Sources", localTexts(rep.Load, rep.Sources, sys))
	return nil
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

// localTexts turns the quantities in texts about a load to the display system.
// The names of the pieces stay as the person wrote them.
func localTexts(l *anneal.Load, texts []string, sys unit.System) []string {
	pieces := slices.Clone(l.Pieces) // the longest name first: one may begin with another
	slices.SortStableFunc(pieces, func(a, b anneal.Piece) int { return len(b.What) - len(a.What) })
	var hide, show []string
	for i, p := range pieces {
		mark := fmt.Sprintf("\x00%c\x00", rune(0xf0000+i)) // no digits: nothing to convert
		hide = append(hide, p.What, mark)
		show = append(show, mark, p.What)
	}
	hider, shower := strings.NewReplacer(hide...), strings.NewReplacer(show...)
	out := []string{}
	for _, s := range texts {
		out = append(out, shower.Replace(localize(hider.Replace(s), sys)))
	}
	return out
}

// showReasons says why each segment is as it is.
func (a *app) showReasons(rep *anneal.Report) {
	if len(rep.Reasons) == 0 {
		return
	}
	a.section("Why these numbers")
	for i, s := range rep.Reasons {
		a.item(fmt.Sprintf("%d  ", i+1), s)
	}
}

// verdict prints the two lines that a person reads first.
func (a *app) verdict(rep *anneal.Report) {
	word, text := verdictText(rep)
	style := styleGood
	if !rep.Within {
		style = styleBad
	}
	a.lead(style, word, "", ": "+text+".")
	if !rep.Within {
		for _, p := range rep.Pieces {
			if len(p.Over) > 0 {
				a.item("  ", p.Piece.What+": "+strings.Join(p.Over, ", "))
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
func verdictText(rep *anneal.Report) (word, numbers string) {
	sys := rep.Studio.Units
	tension, left := unit.Stress(0), unit.Stress(math.Inf(-1))
	judged := false
	for _, p := range rep.Pieces {
		tension = max(tension, p.Peak)
		if p.LeftAsked {
			left, judged = max(left, p.LeftMax), true
		}
	}
	text := fmt.Sprintf("tension at most %s (limit %s)", tension.Text(sys), rep.Limits.Tension.Text(sys))
	if last := lastTemp(rep); !judged && rep.Load.Into != anneal.WarmOnly {
		text += fmt.Sprintf(", locked in not judged (it ends at %s)", last.Text(sys))
	}
	if judged {
		text += fmt.Sprintf(", locked in %s (limit %s)", max(left, 0).Text(sys), rep.Limits.Left.Text(sys))
	}
	opened, overOpened := unit.Stress(0), false
	for _, p := range rep.Pieces {
		opened = max(opened, p.Opened)
		overOpened = overOpened || p.Opened > rep.Limits.Tension
	}
	if overOpened {
		text += fmt.Sprintf(", %s when the kiln is opened", opened.Text(sys))
	}
	switch {
	case rep.Unjudged && onlyTheEnd(rep):
		return "NOT JUDGED TO ITS END", text
	case !rep.Within:
		return "OVER A LIMIT", text
	}
	return "Within limits", text
}

// shareText says that several kinds of piece go together, "" if there is one.
func shareText(rep *anneal.Report) string {
	if n := len(rep.Pieces); n > 1 && rep.Within {
		return fmt.Sprintf("All %d pieces of %d kinds can share this program.", rep.Load.Count(), n)
	}
	return ""
}

// endText says when the program ends: as an estimate where nobody has measured
// how the kiln falls.
func endText(rep *anneal.Report) string {
	sys, last := rep.Studio.Units, lastTemp(rep)
	about, why, then := "", "", "; the kiln can be opened then."
	if endsEstimated(rep) {
		about, why = "about ", " (estimated: this kiln was not measured)"
		then = "; open when it reads " + last.Text(sys) + ", whatever the clock says."
	}
	switch {
	case rep.Load.Into == anneal.WarmOnly:
		then = "; the kiln is ready then."
	case last.Sub(rep.Studio.Opening) > 1:
		then = "; the kiln is still at " + last.Text(sys) + " then."
	}
	total := unit.FormatDuration(wholeMinutes(rep.Clock.Total()))
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
func endsEstimated(rep *anneal.Report) bool {
	return !rep.Studio.Kiln.Measured && rep.Load.Into != anneal.WarmOnly
}

// lastTemp is where a program ends.
func lastTemp(rep *anneal.Report) unit.Temp {
	return rep.Schedule.Segments[len(rep.Schedule.Segments)-1].To
}

// wholeMinutes rounds up, so that an end is never announced early.
func wholeMinutes(d time.Duration) time.Duration {
	return time.Duration(math.Ceil(d.Minutes()-1e-9)) * time.Minute
}

func glassNames(l *anneal.Load) string {
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

// onlyTheEnd reports whether nothing else speaks against a program than that it
// ends too hot to be judged.
func onlyTheEnd(rep *anneal.Report) bool {
	for _, p := range rep.Pieces {
		if len(p.Over) > 1 {
			return false
		}
	}
	return true
}
