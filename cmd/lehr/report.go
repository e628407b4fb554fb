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
	if err := a.showDanger(rep.Load, rep.Studio); err != nil {
		return err
	}
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
	a.list("Assumed", localTexts(rep.Load, rep.Assumptions, sys))
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
	a.print("\n" + a.style(styleStrong, head) + "\n")
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
	a.print("\n" + a.style(styleStrong, "Why these numbers") + "\n")
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
	a.print(a.style(style, word))
	body := wrapText(": "+text+".", a.width(), len([]rune(word)), 0)
	a.print(strings.TrimLeft(body, " "))
	if !rep.Within {
		for _, p := range rep.Pieces {
			if len(p.Over) > 0 {
				a.item("  ", p.Piece.What+": "+strings.Join(p.Over, ", "))
			}
		}
	}
	end := endText(rep)
	if a.ascii() {
		end = toASCII(end)
	}
	for line := range strings.Lines(wrapText(end, a.width(), 0, 0)) {
		a.print(a.style(styleStrong, strings.TrimSuffix(line, "\n")) + "\n")
	}
	a.showShortest(rep)
	if text := shareText(rep); text != "" {
		a.print(text + "\n")
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
		text += fmt.Sprintf(", left not judged (it ends at %s)", last.Text(sys))
	}
	if judged {
		text += fmt.Sprintf(", left %s (limit %s)", max(left, 0).Text(sys), rep.Limits.Left.Text(sys))
	}
	if !rep.Within {
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

// endText says when the program ends.
func endText(rep *anneal.Report) string {
	total := unit.FormatDuration(wholeMinutes(rep.Clock.Total()))
	what := "can be opened"
	switch last := lastTemp(rep); {
	case rep.Load.Into == anneal.WarmOnly:
		what = "is ready"
	case last.Sub(rep.Studio.Opening) > 1:
		what = "is still at " + last.Text(rep.Studio.Units)
	}
	end, days, ok := rep.Ends()
	if !ok {
		return fmt.Sprintf("Ends after %s; the kiln %s then.", total, what)
	}
	when := ""
	switch {
	case days == 1:
		when = " the next day"
	case days > 1:
		when = fmt.Sprintf(", %d days later", days)
	}
	return fmt.Sprintf("Ends %s%s, %s after the start at %s; the kiln %s then.", end.Text(rep.Studio.Units), when, total, rep.Load.Start.Text(rep.Studio.Units), what)
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

// showProgram prints what is keyed in, in the controller's own unit.
func (a *app) showProgram(rep *anneal.Report) error {
	c := rep.Studio.Controller
	u := c.Units
	deg := "°C"
	if u == unit.US {
		deg = "°F"
	}
	rate := "rate " + deg + "/h"
	if c.Minutes {
		rate = "ramp min"
	}
	a.printf("%s begins at %s\n", a.style(styleStrong, "Program"), rep.Schedule.From.Text(u))
	cols := []column{numberColumn("#"), textColumn("what"), numberColumn(rate), numberColumn("to " + deg), numberColumn("hold h:min"), numberColumn("takes h:min"), numberColumn("ends")}
	var rows [][]string
	for i, seg := range rep.Schedule.Segments {
		span := rep.Clock.Spans[i]
		to, _ := seg.To.In(u)
		number := fmt.Sprint(i + 1)
		if seg.Off {
			number = "" // nothing is keyed in
		}
		rows = append(rows, []string{number, seg.Purpose, rateText(rep, i), whole(to), hourMin(seg.Hold),
			hourMin(seconds(span.End - span.Start)), clockText(rep, span.End)})
	}
	return a.table(cols, rows)
}

// rateText is the ramp of a segment as the controller wants it.
func rateText(rep *anneal.Report, i int) string {
	seg, c := rep.Schedule.Segments[i], rep.Studio.Controller
	span := rep.Told.Spans[i]
	switch {
	case seg.To.Sub(span.From) == 0:
		return "-"
	case seg.Off:
		return "off"
	case seg.Full && c.FullWord != "":
		return c.FullWord
	case c.Minutes:
		m, _ := c.RampMinutes(span.From, seg.To, seg.Rate)
		return fmt.Sprint(m)
	}
	x, _ := seg.Rate.In(c.Units)
	return short(math.Abs(x))
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// hourMin writes a duration as controllers do, rounded up to the minute.
func hourMin(d time.Duration) string {
	m := int(wholeMinutes(d).Minutes())
	if m == 0 {
		return "-"
	}
	return fmt.Sprintf("%d:%02d", m/60, m%60)
}

// clockText is the clock time at a moment of the program, or the time since its
// start when the load has none.
func clockText(rep *anneal.Report, at float64) string {
	if rep.Load.Start == nil {
		return "+" + hourMin(seconds(at))
	}
	end, days := rep.Load.Start.Add(wholeMinutes(seconds(at)))
	text := end.Text(rep.Studio.Units)
	if days > 0 {
		text += fmt.Sprintf(" +%dd", days)
	}
	return text
}

// showPieces prints each piece's numbers beside their limits.
func (a *app) showPieces(rep *anneal.Report) error {
	sys := rep.Studio.Units
	in := func(s unit.Stress) string {
		x, _ := s.In(sys)
		if sys == unit.US {
			return whole(x)
		}
		return fmt.Sprintf("%.2f", x)
	}
	_, u := rep.Limits.Tension.In(sys)
	limit := func(s unit.Stress) string { x, _ := s.In(sys); return short(round3(x)) }
	a.printf("%s  limits: tension %s, left %s %s\n", a.style(styleStrong, "Pieces"), limit(rep.Limits.Tension), limit(rep.Limits.Left), u)
	cols := []column{longColumn("piece"), numberColumn("tension " + u), longColumn("where"), numberColumn("left " + u), numberColumn("relaxed %"), numberColumn("shows nm")}
	var rows [][]string
	for _, p := range rep.Pieces {
		name := p.Piece.What
		if p.Piece.Count > 1 {
			name = fmt.Sprintf("%d × %s", p.Piece.Count, name)
		}
		if !p.Within {
			name += " (OVER)"
		}
		left, relaxed, shows := "-", "-", "-"
		if p.LeftAsked {
			left, shows = in(p.LeftMax), whole(float64(p.Retardation)*1e9)
			if p.SoakAsked {
				relaxed = short(math.Floor(p.Relaxed*1e4) / 100)
			}
		}
		where := fmt.Sprintf("%s, %s", p.PeakPlace, clockText(rep, rep.ClockOf(p.PeakTime)))
		rows = append(rows, []string{name, in(p.Peak), where, left, relaxed, shows})
	}
	if err := a.table(cols, rows); err != nil {
		return err
	}
	a.showDeciders(rep)
	return nil
}

// showDeciders says which piece decides which number, when there are several.
func (a *app) showDeciders(rep *anneal.Report) {
	if len(rep.Pieces) < 2 {
		return
	}
	for _, p := range rep.Pieces {
		if len(p.Decides) > 0 {
			a.prose(0, fmt.Sprintf("%s decides: %s.", p.Piece.What, strings.Join(p.Decides, ", ")))
		}
	}
}
