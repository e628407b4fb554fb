package report

import (
	"fmt"
	"strings"

	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"

	"lehr/glass/unit"
)

// daysBefore says on which day a time lies that precedes another by midnights.
func daysBefore(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return " the day before"
	}
	return fmt.Sprintf(" %d days before", n)
}

// ReadyWords is what is said of the time by which the kiln is to be ready.
type ReadyWords struct {
	Head   string   // "NOT READY by 08:00"
	Gap    string   // between Head and Tail
	Tail   string   // the rest of that line, and in which kilns it is so
	Lines  []string // by how much it is not met, and which start meets it
	Change []string // what else would have to change
	Met    bool
	Given  bool // the start was given
}

// ReadyBy says whether the kiln is ready by the time asked for, nil if nobody
// asked.
func ReadyBy(rep *verify.Report) *ReadyWords {
	r, sys := rep.Ready, rep.Studio.Units
	if r == nil {
		return nil
	}
	by, latest := r.By.Text(sys), startText(rep, r.Latest, r.Before)
	decides := r.Range != nil && r.Range.Decides
	w := &ReadyWords{Met: r.Met, Given: r.Given}
	switch {
	case !r.Given:
		then := "."
		if rep.Load.Into == piece.HotKiln {
			then = ": the last piece goes in then."
		}
		w.Head, w.Gap, w.Tail = "Start by "+latest, " ", "at the latest, to open the kiln at "+by+then
		if decides {
			w.Tail += " That is for the likeliest kiln. " + rangeText(rep) + " For the slowest that it may be, start by " + slowestStart(rep) + "."
		}
	case r.Met:
		spare := "no minute"
		if r.Spare > 0 {
			spare = unit.FormatDuration(r.Spare)
		}
		then := "."
		if rep.Load.Into == piece.HotKiln {
			then = "; the last piece goes in then."
		}
		w.Head, w.Tail = "Ready by "+by, ", with "+spare+" to spare; the latest start is "+latest+then
		if decides {
			w.Head += " in the likeliest kiln only"
			w.Tail += " " + rangeText(rep) + " For the slowest that it may be, the latest start is " + slowestStart(rep) + "."
		}
	default:
		w.Head, w.Lines, w.Change = "NOT READY by "+by, lateLines(rep), changeLines(rep)
		if decides {
			w.Head += " in the likeliest kiln"
			w.Tail = ". " + rangeText(rep)
		}
	}
	return w
}

// startText is a start, with how many days before the hour it lies.
func startText(rep *verify.Report, at unit.Clock, before int) string {
	return at.Text(rep.Studio.Units) + daysBefore(before)
}

// slowestStart is the start that is enough for the slowest kiln.
func slowestStart(rep *verify.Report) string {
	return startText(rep, rep.Ready.Range.Latest, rep.Ready.Range.Before)
}

// rangeText says when a kiln that nobody measured can be ready.
func rangeText(rep *verify.Report) string {
	first, last, _ := betweenText(rep)
	return fmt.Sprintf("Nobody measured how this kiln falls: it can be ready between %s and %s.", first, last)
}

// showReady prints whether the kiln is ready by the time asked for, nothing if
// nobody asked.
func (v *View) showReady(rep *verify.Report) {
	w := ReadyBy(rep)
	if w == nil {
		return
	}
	style := term.Bad
	switch {
	case !w.Given:
		style = term.Bold
	case w.Met:
		style = term.Good
	}
	v.Lead(style, w.Head, w.Gap, w.Tail)
	for _, s := range append(w.Lines, w.Change...) {
		v.Item("- ", s)
	}
}

// lateLines says by how much the time is not met, and which start meets it.
func lateLines(rep *verify.Report) []string {
	r, sys := rep.Ready, rep.Studio.Units
	by := r.By.Text(sys)
	end, _, _ := rep.Ends()
	start := "Or start by " + startText(rep, r.Latest, r.Before)
	if r.Range != nil {
		start += "; for the slowest kiln that it may be, by " + slowestStart(rep)
	}
	return []string{
		fmt.Sprintf("It is ready at %s, %s late; at %s the kiln still reads %s and is opened at %s.", end.Text(sys), unit.FormatDuration(-r.Spare), by, r.Then.Text(sys), rep.Studio.Opening.Text(sys)),
		start + ".",
	}
}

// changeLines says what else would have to change for the time to be met.
func changeLines(rep *verify.Report) (lines []string) {
	r, sys := rep.Ready, rep.Studio.Units
	if r.Kiln == 0 && rep.Shortest == nil && rep.Within {
		lines = append(lines, "Or by a shorter program within the same limits: --shortest may find one.")
	}
	for _, w := range r.Ways {
		if !w.Open.IsZero() {
			lines = append(lines, warmerText(rep, w))
			continue
		}
		var gives []string
		for _, g := range w.Gives {
			gives = append(gives, fmt.Sprintf("%s would be %s, the limit is %s", words.Limit(g.Limit), g.Reaches.Text(sys), g.From.Text(sys)))
		}
		lines = append(lines, fmt.Sprintf("Or a limit gives: %s. The program then takes %s.", strings.Join(gives, ", and "), unit.FormatDuration(unit.WholeMinutes(w.Total))))
	}
	switch {
	case r.Kiln > 0:
		lines = append(lines, fmt.Sprintf("No change of limits helps: the kiln alone needs %s to %s.", unit.FormatDuration(unit.WholeMinutes(r.Kiln)), rep.Studio.Opening.Text(sys)))
	case r.Least > 0:
		lines = append(lines, fmt.Sprintf("No change of limits helps: with both at %s it still takes %s.", plan.MostGive.Text(sys), unit.FormatDuration(unit.WholeMinutes(r.Least))))
	}
	return lines
}

// warmerText says that the kiln may be opened warmer.
func warmerText(rep *verify.Report, w verify.Way) string {
	sys := rep.Studio.Units
	at, bear := w.Open.Text(sys), "the pieces bear it"
	if b := w.Opened; b.Use > 0 {
		bear = "the pieces bear it, with " + words.Tension(b, sys)
	}
	hot := ", and are that hot when they are taken out"
	if len(w.Still) > 0 {
		hot = "; " + strings.Join(words.About(rep).List(w.Still), "")
	}
	return fmt.Sprintf("Or open it at %s: %s%s. The program then takes %s: put opening = \"%s\" under [kiln] in studio.toml.",
		at, bear, hot, unit.FormatDuration(unit.WholeMinutes(w.Total)), at)
}

// readyJSON is the answer to --ready-by.
type readyJSON struct {
	By     string     `json:"by"`
	Met    bool       `json:"met"`
	Latest string     `json:"latest_start"`
	Before int        `json:"latest_start_days_before"`
	Given  bool       `json:"start_given"`
	Spare  Num        `json:"spare_min"`
	ThenC  *Num       `json:"kiln_then_C"`
	Ways   []readyWay `json:"ways"`
	Least  *Num       `json:"shortest_with_limits_at_most_h"`
	Range  *rangeJSON `json:"kiln_not_measured"` // null where somebody measured it
}

// rangeJSON is when a kiln that nobody measured can be ready.
type rangeJSON struct {
	First   string `json:"ready_from"`
	Last    string `json:"ready_until"`
	Latest  string `json:"latest_start_slowest_kiln"`
	Before  int    `json:"latest_start_slowest_kiln_days_before"`
	Decides bool   `json:"hour_in_between"`
}

type readyWay struct {
	Gives  []readyGive `json:"gives"`
	OpenC  *Num        `json:"opening_C"`
	TotalH Num         `json:"total_h"`
}

type readyGive struct {
	Limit   string `json:"limit"`
	From    Num    `json:"limit_MPa"`
	Reaches Num    `json:"would_be_MPa"`
}

func newReadyJSON(rep *verify.Report) *readyJSON {
	r := rep.Ready
	if r == nil {
		return nil
	}
	j := &readyJSON{By: r.By.String(), Met: r.Met, Latest: r.Latest.String(), Before: r.Before, Given: r.Given,
		Spare: Num(r.Spare.Minutes()), Ways: []readyWay{}}
	if k := r.Range; k != nil {
		j.Range = &rangeJSON{clockJSON(rep, k.Quickest.Seconds()), clockJSON(rep, k.Slowest.Seconds()), k.Latest.String(), k.Before, k.Decides}
	}
	if !r.Met {
		c := Num(r.Then.Celsius())
		j.ThenC = &c
	}
	for _, w := range r.Ways {
		way := readyWay{TotalH: Num(w.Total.Hours()), Gives: []readyGive{}}
		if !w.Open.IsZero() {
			c := Num(w.Open.Celsius())
			way.OpenC = &c
		}
		for _, g := range w.Gives {
			way.Gives = append(way.Gives, readyGive{words.Limit(g.Limit), MPa(g.From), MPa(g.Reaches)})
		}
		j.Ways = append(j.Ways, way)
	}
	if r.Least > 0 {
		h := Num(r.Least.Hours())
		j.Least = &h
	}
	return j
}
