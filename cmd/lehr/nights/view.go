package nights

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"lehr/anneal/kilnlog"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass"
	"lehr/glass/unit"
)

// showLogged prints what a logged night did to the pieces: verdict, what was
// read, what the kiln did, pieces, how the kiln falls, assumptions, sources.
func showLogged(a *desk.App, n *night) error {
	say := words.About(n.rep)
	nightVerdict(a, n)
	a.Prose(0, say.Read(n.log))
	a.Prose(0, n.about(say))
	did, _ := n.did(say)
	a.List("What the kiln did", did)
	a.Print("\n")
	if err := nightPieces(a, n); err != nil {
		return err
	}
	a.List("What to know first", say.List(n.rep.Notes))
	showNatural(a, n, say)
	a.List("Assumed", append(n.assumed(), say.Assumed(n.rep.Assumptions)...))
	a.List("Sources", words.Sources(n.rep.Sources))
	return nil
}

// nightVerdict prints the verdict, with the error of the probe and without.
func nightVerdict(a *desk.App, n *night) {
	word, text := nightWord(n), verdictNumbers(n.rep)
	style := term.Good
	if n.verdict() != verify.WithinLimits {
		style = term.Bad
	}
	a.Lead(style, word, "", ": "+text+".")
	if n.exact != nil {
		line := fmt.Sprintf("Judged with the probe %s off either way. ", n.rep.Studio.Kiln.ProbeError.Text(n.rep.Studio.Units))
		line += "Taken as it reads, " + words.Verdict(n.exact.Verdict()) + ": " + verdictNumbers(n.exact) + "."
		a.Prose(0, line)
	}
	for _, g := range n.decided() {
		a.Prose(0, words.About(n.rep).GapDecides(n.log, g)+"; the verdict depends on what the kiln did then.")
	}
	for _, w := range n.apart {
		a.Item("  ", words.Way(w.way)+": "+words.Verdict(w.rep.Verdict())+", "+verdictNumbers(w.rep))
	}
	if n.rep.Verdict() != verify.WithinLimits {
		for _, p := range n.rep.Pieces {
			if len(p.Over) > 0 {
				a.Item("  ", p.Piece.What+": "+report.OverText(n.rep, p))
			}
		}
	}
}

// decided lists the gaps that decide the verdict.
func (n *night) decided() []kilnlog.Gap {
	if len(n.apart) == 0 {
		return nil
	}
	return n.log.Decisive()
}

// nightWord is the verdict in a word or two.
func nightWord(n *night) string {
	switch {
	case len(n.apart) > 0:
		return words.VerdictHead(verify.NotJudged, false)
	case n.rep.EndsHot() && n.rep.Verdict() == verify.NotJudged:
		return "SO FAR within limits, the log ends hot"
	case n.rep.EndsHot():
		return "SO FAR OVER A LIMIT, the log ends hot"
	}
	word, _ := report.VerdictText(n.rep)
	return word
}

// verdictNumbers are the numbers behind a verdict.
func verdictNumbers(rep *verify.Report) string {
	_, numbers := report.VerdictText(rep)
	return numbers
}

// about says what was judged, and from when on.
func (n *night) about(say words.Words) string {
	l := n.rep.Load
	text := ""
	if l.Name != "" {
		text = l.Name + "; "
	}
	return text + report.GlassNames(l) + "; into " + string(l.Into) + ", followed from " + say.Moment(n.log, n.from) + " on"
}

// did says what the kiln did: as the glasses of the load see it, then, from that
// place on, against the program that it was told, which is named first.
func (n *night) did(say words.Words) (out []string, told int) {
	seen := map[*glass.Glass]bool{}
	for _, p := range n.rep.Load.Pieces {
		if seen[p.Glass] {
			continue
		}
		seen[p.Glass] = true
		low, _, err := piece.SoakRange(p.Glass)
		if err != nil {
			continue
		}
		if s, ok := n.log.Above(low); ok {
			out = append(out, say.Soak(n.log, s, low, p.Glass.Name))
		} else {
			out = append(out, fmt.Sprintf("never at %s, where %s begins to relax", low.Text(n.rep.Studio.Units), p.Glass.Name))
		}
		if low, high, err := verify.StrainRange(p.Glass); err == nil {
			if q, ok := n.log.Through(high, low); ok {
				out = append(out, say.Passage(n.log, q, high, low, p.Glass.Name))
			}
		}
	}
	told = len(out)
	if n.program != "" {
		out = append(out, say.Followed(n.log, n.followed, n.program)...)
	}
	return out, told
}

// assumed is what a replay assumes beside what its report says.
func (n *night) assumed() []string {
	out := []string{"straight lines between readings, smoothed where noise explains the difference; all that a piece saw is taken to be what the probe read"}
	if n.from > 0 && !n.inGiven {
		out = append(out, "the kiln was heated up empty, and the pieces went in when it was hot; give --in if not")
	}
	if n.log.Account.GapCount > 0 && len(n.apart) == 0 {
		out = append(out, "gaps were passed "+words.Way(n.worst))
	}
	return out
}

// byItsClock is the load with the hour at which the log has it go in, without one
// where the log tells no time of day.
func (n *night) byItsClock(load *piece.Load) *piece.Load {
	out := *load
	out.Start = nil
	if clock, ok := n.log.Clock(n.from); ok {
		out.Start = &clock
	}
	return &out
}

// nightPieces prints each piece's numbers beside their limits.
func nightPieces(a *desk.App, n *night) error {
	rep := n.rep
	sys := rep.Studio.Units
	in := func(s unit.Stress) string { return report.StressCell(s, sys) }
	say := words.About(rep)
	_, u := rep.Limits.Tension.In(sys)
	a.Lead(term.Bold, "Pieces", "  ", "worst case; of limit: this glass at worst or average, the nearer")
	cols := []term.Column{term.LongColumn("piece"), term.NumberColumn("tension\n" + u), term.NumberColumn("of limit\n%"), term.LongColumn("where and when"), term.NumberColumn("locked in\n" + u),
		term.NumberColumn("of limit\n%"), term.NumberColumn("relaxed\n%")}
	var rows [][]string
	for _, p := range rep.Pieces {
		name := p.Piece.What
		if p.Piece.Count > 1 {
			name = fmt.Sprintf("%d × %s", p.Piece.Count, name)
		}
		left, share, relaxed := "-", "-", "-"
		if p.ResidualJudged {
			left, share = in(max(p.Residual, 0)), report.Used(p.ResidualTension)
		}
		if p.SoakJudged {
			relaxed = strconv.FormatFloat(math.Floor(1000*p.Relaxed)/10, 'f', 1, 64)
		}
		when := fmt.Sprintf("%s, %s, near %s", words.Place(p.PeakPlace), say.Moment(n.log, n.from+unit.Seconds(p.PeakTime)), unit.Kelvin(rep.Nominal.At(p.PeakTime)).Text(sys))
		rows = append(rows, []string{name, in(p.Peak), report.Used(p.Tension), when, left, share, relaxed})
	}
	return a.Table(cols, rows)
}

// showNatural prints how the kiln falls by itself, as lines of a studio file.
func showNatural(a *desk.App, n *night, say words.Words) {
	a.Section("How this kiln falls")
	fall, err := n.log.Fall(n.rep.Studio.Kiln.Fall.Room, n.rep.Studio.Opening)
	var none *kilnlog.NoFallError
	if errors.As(err, &none) {
		a.Prose(0, "Not found: "+none.Error()+". To have it, "+none.Hint()+".")
		return
	}
	a.Prose(0, term.Capital(say.Natural(fall))+". For [kiln] of "+desk.StudioName+":")
	for _, line := range fall.StudioLines() {
		a.Print("  " + line + "\n")
	}
}

// showColumns says how each column of a log was understood.
func showColumns(a *desk.App, l *kilnlog.Log, sys unit.System) error {
	if a.JSON {
		return a.PrintJSON(newLogJSON(l, sys))
	}
	acc := &l.Account
	a.Prose(0, l.Name+": "+written(acc)+".")
	a.Print("\n")
	cols := []term.Column{term.NumberColumn("column"), term.LongColumn("name"), term.LongColumn("read as"), term.TextColumn("unit"), term.TextColumn("from")}
	var rows [][]string
	for _, c := range acc.Columns {
		u, from := "-", "-"
		if c.Unit != kilnlog.NoUnit {
			u, from = c.Unit.String(), "header"
		}
		switch {
		case c.UnitByFlag || c.Chosen:
			from = "flag"
		case acc.Header == 0 && c.Role != kilnlog.Unused && from == "-":
			from = "its cells"
		}
		role := c.Role.String()
		if c.Beside.Readings > 0 {
			role += fmt.Sprintf(", %s ± %s above the reading", c.Beside.Mean.Text(sys), c.Beside.Deviation.Text(sys))
		}
		rows = append(rows, []string{strconv.Itoa(c.Number), c.Name, role, u, from})
	}
	if err := a.Table(cols, rows); err != nil {
		return err
	}
	a.Print("\n")
	say := words.In(sys)
	a.Prose(0, say.Read(l))
	first, last := l.Readings[0].At, l.Readings[len(l.Readings)-1].At
	text := fmt.Sprintf("First reading %s, hottest %s, last %s. Noise %s", first.Text(sys), hottest(l).Text(sys), last.Text(sys), acc.Noise.Text(sys))
	if s := acc.Swing; s.Period > 0 {
		text += fmt.Sprintf("; a relay swings it by %s either way every %s", s.Amplitude.Text(sys), unit.FormatDuration(s.Period.Round(1e9)))
	}
	a.Prose(0, text+". Nothing was computed.")
	return nil
}

// written says how the text of a log is written.
func written(acc *kilnlog.Account) string {
	text := map[rune]string{',': "commas", ';': "semicolons", '\t': "tabs"}[acc.Delimiter] + " between the cells"
	if acc.Comma {
		text += ", decimal comma"
	}
	if acc.Latin1 {
		text += ", read as Latin-1"
	}
	if acc.Header > 0 {
		text += fmt.Sprintf(", header in line %d", acc.Header)
	} else {
		text += ", no header"
	}
	if acc.Dates != kilnlog.AnyOrder {
		text += ", dates " + acc.Dates.String()
		if acc.Settled > 0 {
			text += fmt.Sprintf(" (line %d settles it)", acc.Settled)
		}
	}
	return text
}
