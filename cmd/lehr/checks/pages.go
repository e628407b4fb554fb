package checks

import (
	"slices"
	"strings"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/safety/checklist"
	"lehr/safety/source"
)

// showLine prints one line of the list, and under it what is said with it and
// why it shows.
func showLine(a *desk.App, l checklist.Line) {
	a.View().Caution(l)
	below := func(text, style string) {
		if text != "" {
			a.Print(strings.Repeat(" ", 12))
			if style != "" {
				text = a.Style(style, text)
			}
			a.Hanging(12, text)
		}
	}
	below(l.Note, "")
	if blanks := ofProgram(l); len(blanks) > 0 {
		below("(lehr plan fills in "+strings.Join(blanks, " and ")+")", term.Faint)
	}
	if why := goesIf(l); why != "" {
		below("("+why+")", term.Faint)
	}
}

// ofProgram names the blanks of a line that only a program fills.
func ofProgram(l checklist.Line) (names []string) {
	words := map[string]string{"start": "the start", "end": "the end", "total": "the hours", "set_points": "the set points", "last": "the last temperature"}
	for _, b := range l.Blanks {
		if word := words[b.Name]; word != "" && b.Value == "" {
			names = append(names, word)
		}
	}
	return names
}

// stated writes what would have to be stated to take a line away.
func stated(m checklist.Missing) string {
	if m.Other != "" {
		return m.Fact + " other than " + m.Other
	}
	return m.Fact + " = " + m.Removes
}

// goesIf says, shorter than Because, which facts would take a line away.
func goesIf(l checklist.Line) string {
	var names, values []string
	for _, m := range l.Missing {
		names = append(names, m.Fact)
		values = append(values, stated(m))
	}
	switch {
	case len(names) == 0:
		return ""
	case l.Missing[0].Removes == "":
		return "drops out if you state " + strings.Join(names, ", ") + " and the figure from them is below the limit"
	}
	return "drops out if you state " + strings.Join(values, " and ")
}

// showPages prints the pages of the points, of those before lighting if none is
// named. The error sets the exit status when what is known breaks a line.
func showPages(a *desk.App, f checklist.Facts, points []checklist.Point) error {
	next := len(points) == 0
	if next {
		points = checklist.Lighting()
	}
	pages := f.Pages(points...)
	var faults []string
	for _, p := range pages {
		for _, l := range p.Lines {
			if l.Fault {
				faults = append(faults, l.ID)
			}
		}
	}
	if a.JSON {
		if err := pagesJSON(a, f, pages, faults); err != nil {
			return err
		}
		return desk.OverIf(len(faults) > 0)
	}
	if len(faults) > 0 {
		a.Lead(term.Bad, "NOT KEPT:", " ", "what is known breaks "+strings.Join(faults, ", ")+".")
		a.Print("\n")
	}
	for i, page := range pages {
		if i > 0 {
			a.Print("\n")
		}
		pageHead(a, page.Point)
		for _, l := range page.Lines {
			showLine(a, l)
		}
	}
	a.Print("\n")
	if next {
		a.Prose(0, nextPoints)
	}
	a.Prose(0, strings.Join(checklist.Foot(pages), " "))
	return desk.OverIf(len(faults) > 0)
}

// nextPoints names what is gone through after the torch is lit.
const nextPoints = "Next, each at its time: lehr safety --at reach, before you reach into the kiln; --at leave, before you leave it alone; --at open, before you open it. Something is wrong now: lehr wrong."

func pageHead(a *desk.App, p checklist.Point) {
	a.Print(a.Style(term.Bold, p.Title()) + "\n")
	a.Prose(0, checklist.Use)
	a.Print("\n")
}

// lineJSON is a line of the list with the words that say why it shows.
type lineJSON struct {
	checklist.Line
	Because string `json:"because,omitempty"`
}

type pageJSON struct {
	Point checklist.Point `json:"point"`
	Title string          `json:"title"`
	Use   string          `json:"use"`
	Lines []lineJSON      `json:"lines"`
	Foot  []string        `json:"foot"`
}

func pagesJSON(a *desk.App, f checklist.Facts, pages []checklist.Page, faults []string) error {
	out := struct {
		List   string            `json:"list"`
		Facts  map[string]string `json:"facts"`
		Faults []string          `json:"faults"`
		Pages  []pageJSON        `json:"pages"`
	}{checklist.Version, map[string]string{}, filled(faults), []pageJSON{}}
	for _, g := range f.Given() {
		out.Facts[g.Name] = g.Value
	}
	for _, p := range pages {
		page := pageJSON{p.Point, p.Title, checklist.Use, []lineJSON{}, p.Foot}
		for _, l := range p.Lines {
			page.Lines = append(page.Lines, lineJSON{l, l.Because()})
		}
		out.Pages = append(out.Pages, page)
	}
	return a.PrintJSON(out)
}

// showSources prints what figures rest on, each text once.
func showSources(a *desk.App, sources []source.Source) {
	var seen []string
	for _, s := range sources {
		if slices.Contains(seen, s.Key) {
			continue
		}
		if len(seen) == 0 {
			a.Print("\n" + a.Style(term.Bold, "Sources") + "\n")
		}
		seen = append(seen, s.Key)
		a.Item("- ", s.Cite+" ("+s.Read+")")
	}
}

// showDeferrals prints to whom figures defer.
func showDeferrals(a *desk.App, list []source.Deferral) {
	a.Print("\n")
	a.Prose(0, strings.Join(deferralTexts(list), " "))
}
