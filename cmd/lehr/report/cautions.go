package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
	"lehr/safety/checklist"
)

// KilnPages returns the pages for leaving the kiln with this program and for
// opening it; for reaching into it where it only warms.
func KilnPages(rep *verify.Report) ([]checklist.Page, error) {
	f, err := session.Facts(rep.Load, rep.Studio)
	if err != nil {
		return nil, err
	}
	p := kilnProgram(rep)
	then := f.Opening
	if rep.Load.Into == piece.WarmOnly {
		then = f.Reaching
	}
	return []checklist.Page{f.Leaving(p), then(p)}, nil
}

// kilnProgram is what the lines say of the program of a report.
func kilnProgram(rep *verify.Report) checklist.Program {
	segments := rep.Schedule.Segments
	last := segments[len(segments)-1].To
	p := checklist.Program{Units: rep.Studio.Units, Keyed: rep.Studio.Controller.Units, Total: unit.WholeMinutes(rep.Actual.Total()), Last: last, Stays: rep.Studio.Controller.After == kiln.AfterHold && !rep.Replayed,
		About: EndsEstimated(rep), Range: kilnsText(rep)}
	if closed, ok := rep.Notes.Find(finding.KeepClosed); ok {
		p.Closed = words.Closed(closed, func(t unit.Temp) string { return t.Text(p.Keyed) })
		p.Opens = opensText(rep, closed.Temp)
	}
	if end, days, ok := rep.Ends(); ok {
		p.Start = rep.Load.Start.Text(p.Units)
		p.End = end.Text(p.Units)
		switch {
		case days == 1:
			p.End += " the next day"
		case days > 1:
			p.End += fmt.Sprintf(", %d days later", days)
		}
	}
	if rep.Load.Into == piece.WarmOnly {
		p.Soak, p.Hold = last, segments[len(segments)-1].Hold
	}
	for i, s := range segments {
		if s.Purpose == program.PurposeSoak {
			p.Soak, p.Hold = s.To, p.Hold+s.Hold
		}
		if s.Off {
			p.Off = rep.Actual.Spans[i].From
		}
	}
	return p
}

// opensText says when a kiln can be opened that stays closed after its program until it
// reads a temperature, as an estimate where nobody has measured how it falls; "" where it
// stays closed until it is as cool as the room, or falls no further.
func opensText(rep *verify.Report, reads unit.Temp) string {
	fall := rep.Studio.Kiln.Fall
	if reads.IsZero() || !fall.Room.Less(reads) || !reads.Less(lastTemp(rep)) {
		return ""
	}
	opens := func(ends, timeConstant time.Duration) time.Duration {
		fall.TimeConstant = timeConstant
		return ends + fall.Alone(lastTemp(rep), reads)
	}
	about, between := "", ""
	if EndsEstimated(rep) {
		about = "about "
	}
	at := opens(rep.Actual.Total(), fall.TimeConstant)
	if n := len(rep.Kilns); n > 0 {
		first, last := opens(rep.Kilns[0].Total, rep.Kilns[0].TimeConstant), opens(rep.Kilns[n-1].Total, rep.Kilns[n-1].TimeConstant)
		if unit.WholeMinutes(last) > unit.WholeMinutes(first) {
			between = " (" + momentText(rep, first) + " to " + momentText(rep, last) + ")"
		}
	}
	if rep.Load.Start == nil {
		return "after " + about + momentText(rep, at) + between
	}
	return "at " + about + momentText(rep, at) + between
}

// NotKept names the lines for leaving and opening the kiln that what is known of
// the studio breaks, empty if none. It does not depend on the verdict.
func NotKept(rep *verify.Report) ([]string, error) {
	if !planned(rep) {
		return nil, nil
	}
	return Broken(rep)
}

// Broken is that of the pages of any program.
func Broken(rep *verify.Report) ([]string, error) {
	pages, err := KilnPages(rep)
	if err != nil {
		return nil, err
	}
	ids := []string{}
	for _, page := range pages {
		ids = append(ids, brokenOf(page)...)
	}
	return ids, nil
}

func brokenOf(page checklist.Page) (ids []string) {
	for _, l := range page.Lines {
		if l.Fault {
			ids = append(ids, l.ID)
		}
	}
	return ids
}

// NotKeptText says that what is known breaks lines, "" if there are none.
func NotKeptText(page checklist.Page) string {
	if ids := brokenOf(page); len(ids) > 0 {
		return "what is known breaks " + strings.Join(ids, ", ") + "."
	}
	return ""
}

// NotKeptWord stands before it.
const NotKeptWord = "NOT KEPT:"

// planned reports whether the pages belong to a report: those of a program that
// was given belong to the plan.
func planned(rep *verify.Report) bool { return rep.Rule != "" || rep.Shortest != nil }

// showCautions prints the lines for leaving and opening the kiln.
func (v *View) showCautions(rep *verify.Report) error {
	if !planned(rep) {
		v.Print("\n")
		v.Prose(0, "lehr safety prints what to look at before leaving the kiln alone and before opening it.")
		return nil
	}
	pages, err := KilnPages(rep)
	if err != nil {
		return err
	}
	var missing []string
	if !v.Why && rep.Load.Into != piece.WarmOnly {
		pages = pages[:1] // before leaving; the other one is on the sheet
	}
	for _, page := range pages {
		v.showPage(page)
		for _, l := range page.Lines {
			for _, m := range l.Missing {
				if !slices.Contains(missing, m.Fact) {
					missing = append(missing, m.Fact)
				}
			}
		}
	}
	if !v.Why {
		v.Prose(0, "Local codes, makers' instructions and licensed trades overrule these lines.")
		v.Prose(0, fmt.Sprintf("Assumed: %s (--why). All lines: lehr safety. Wrong now: lehr wrong.", term.Counted(len(words.About(rep).Assumed(rep.Assumptions)), "thing")))
		return nil
	}
	v.Print("\n")
	foot := "Local codes, makers' instructions and licensed trades overrule these lines. Checklist of " + checklist.Version + "; the rest, with sources: lehr safety. Something is wrong now: lehr wrong."
	switch n := len(missing); {
	case n == 1:
		foot = "1 fact of the studio is not given, so that hazard is counted; list: lehr safety --facts. " + foot
	case n > 1:
		foot = fmt.Sprintf("%d facts of the studio are not given, so those hazards are counted; list: lehr safety --facts. ", n) + foot
	}
	v.Prose(0, foot)
	return nil
}

// showPage prints the lines of a page, each on one row unless --why is given.
func (v *View) showPage(page checklist.Page) {
	v.Print("\n" + v.Style(term.Bold, page.Title) + "\n")
	if text := NotKeptText(page); text != "" {
		v.Lead(term.Bad, NotKeptWord, " ", text)
	}
	for _, l := range page.Lines {
		if !v.Why && !l.Fault {
			l.Text = l.First(briefLength)
		}
		v.Caution(l)
	}
}

// ShowLeaving prints the lines for leaving the kiln with a program, or with none
// but the fall of a kiln that is off, and to whom they defer.
// keyed says that there are set points to write on the kiln.
func (v *View) ShowLeaving(rep *verify.Report, keyed bool) error {
	pages, err := KilnPages(rep)
	if err != nil {
		return err
	}
	if !v.Why {
		pages = pages[:1]
	}
	for _, page := range pages {
		var lines []checklist.Line
		for _, l := range page.Lines {
			if keyed || l.ID != "U9" {
				lines = append(lines, l)
			}
		}
		page.Lines = lines
		v.showPage(page)
	}
	v.Prose(0, "Local codes, makers' instructions and licensed trades overrule these lines. All lines: lehr safety. Wrong now: lehr wrong.")
	return nil
}

// briefLength is how many bytes of a line for leaving the kiln stand on one
// screen with the program.
const briefLength = 68

// Caution prints one line of a page behind its number and its signal word.
func (v *View) Caution(l checklist.Line) {
	v.Print(term.Pad(l.ID, 3) + v.Style(signalStyle(l.Signal), term.Pad(string(l.Signal), 9)))
	v.Hanging(12, l.Text)
}

// CautionJSON is one line of a page in JSON.
type CautionJSON struct {
	ID     string `json:"id"`
	Signal string `json:"signal"`
	Point  string `json:"point"`
	Text   string `json:"text"`
	Fault  bool   `json:"fault"`
}

// CautionsJSON are the lines for leaving and opening the kiln with a program.
func CautionsJSON(rep *verify.Report) ([]CautionJSON, error) {
	pages, err := KilnPages(rep)
	if err != nil {
		return nil, err
	}
	out := []CautionJSON{}
	for _, page := range pages {
		for _, l := range page.Lines {
			out = append(out, CautionJSON{l.ID, string(l.Signal), string(l.Point), l.Text, l.Fault})
		}
	}
	return out, nil
}

// signalStyle is how a signal word is marked on a terminal.
func signalStyle(s checklist.Signal) string {
	switch s {
	case checklist.Danger:
		return term.Bad
	case checklist.Warning:
		return term.Warn
	case checklist.Caution:
		return term.Bold
	}
	return ""
}
