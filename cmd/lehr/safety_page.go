package main

import (
	"slices"
	"strconv"
	"strings"

	"lehr/safety/checklist"
	"lehr/safety/source"
)

// signalStyle is how a signal word is marked on a terminal.
func signalStyle(s checklist.Signal) string {
	switch s {
	case checklist.Danger:
		return styleBad
	case checklist.Warning:
		return styleWarn
	case checklist.Caution:
		return styleStrong
	}
	return ""
}

// showLine prints one line of the list behind its mark, and under it why it
// shows.
func (a *app) showLine(mark string, l checklist.Line) {
	signal := string(l.Signal)
	a.print(pad(mark, 3) + a.style(signalStyle(l.Signal), signal) + strings.Repeat(" ", 9-len(signal)))
	a.hanging(12, l.Text)
	if l.Note != "" {
		a.print(strings.Repeat(" ", 12))
		a.hanging(12, l.Note)
	}
	if blanks := ofProgram(l); len(blanks) > 0 {
		a.print(strings.Repeat(" ", 12))
		a.hanging(12, a.style(styleFaint, "(lehr plan fills in "+strings.Join(blanks, " and ")+")"))
	}
	if why := goesIf(l); why != "" {
		a.print(strings.Repeat(" ", 12))
		a.hanging(12, a.style(styleFaint, "("+why+")"))
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
	if rest, ok := strings.CutPrefix(m.Removes, "not "); ok {
		return m.Fact + " other than " + rest
	}
	if rest, ok := strings.CutPrefix(m.Removes, "neither "); ok {
		return m.Fact + " other than " + strings.ReplaceAll(rest, " nor ", " or ")
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

// hanging prints text that begins in the given column, later lines below it.
func (a *app) hanging(column int, text string) {
	if a.ascii() {
		text = toASCII(text)
	}
	a.print(wrapText(text, a.width(), column, column)[column:])
}

// pad fills a word with spaces to a width.
func pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-len(s))) }

// showPages prints the pages of the points, of all if none is named. The error
// sets the exit status when a danger is reported.
func (a *app) showPages(f checklist.Facts, points []checklist.Point) error {
	pages := checklist.Checklist(f, points...)
	danger := dangerIn(pages)
	if a.json {
		if err := a.pagesJSON(f, pages); err != nil {
			return err
		}
		return overIf(danger)
	}
	for i, page := range pages {
		if i > 0 {
			a.print("\n")
		}
		a.pageHead(page.Point)
		for i, l := range page.Lines {
			a.showLine(strconv.Itoa(i+1), l)
		}
	}
	a.print("\n")
	a.prose(0, strings.Join(checklist.Foot(pages), " "))
	return overIf(danger)
}

// showWrong prints the page for when something is wrong so that all of it
// stands on a screen of 24 lines.
func (a *app) showWrong() {
	page := checklist.Checklist(checklist.Facts{}, checklist.Wrong)[0]
	a.print(a.style(styleBad, page.Title+".") + " " + page.Use + "\n")
	for _, l := range page.Lines {
		a.caution(l)
	}
	a.prose(0, "Emergency services, local codes and licensed trades overrule this list of "+checklist.Version+". It is not medical advice.")
}

func (a *app) pageHead(p checklist.Point) {
	a.print(a.style(styleStrong, p.Title()) + "\n")
	a.prose(0, p.Use())
	a.print("\n")
}

// dangerIn reports whether a hazard is reported present.
func dangerIn(pages []checklist.Page) bool {
	return slices.ContainsFunc(pages, func(p checklist.Page) bool {
		return slices.ContainsFunc(p.Lines, func(l checklist.Line) bool { return l.Signal == checklist.Danger })
	})
}

// overIf returns the error that sets the exit status when something is over.
func overIf(over bool) error {
	if over {
		return errOverLimit
	}
	return nil
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

func (a *app) pagesJSON(f checklist.Facts, pages []checklist.Page) error {
	out := struct {
		List  string            `json:"list"`
		Facts map[string]string `json:"facts"`
		Pages []pageJSON        `json:"pages"`
	}{checklist.Version, map[string]string{}, []pageJSON{}}
	for _, g := range f.Given() {
		out.Facts[g.Name] = g.Value
	}
	for _, p := range pages {
		page := pageJSON{p.Point, p.Title, p.Use, []lineJSON{}, p.Foot}
		for _, l := range p.Lines {
			page.Lines = append(page.Lines, lineJSON{l, l.Because()})
		}
		out.Pages = append(out.Pages, page)
	}
	return a.printJSON(out)
}

// showSources prints what figures rest on, each text once.
func (a *app) showSources(sources []source.Source) {
	var seen []string
	for _, s := range sources {
		if slices.Contains(seen, s.Key) {
			continue
		}
		if len(seen) == 0 {
			a.print("\n" + a.style(styleStrong, "Sources") + "\n")
		}
		seen = append(seen, s.Key)
		a.item("- ", s.Cite+" ("+s.Read+")")
	}
}

// showDeferrals prints to whom figures defer.
func (a *app) showDeferrals(list []source.Deferral) {
	var words []string
	for _, d := range list {
		words = append(words, d.Text())
	}
	a.print("\n")
	a.prose(0, strings.Join(words, " "))
}

func (a *app) assumed(list []string) {
	if len(list) == 0 {
		return
	}
	a.print("\n" + a.style(styleStrong, "Assumed") + "\n")
	for _, s := range list {
		a.item("- ", s)
	}
}
