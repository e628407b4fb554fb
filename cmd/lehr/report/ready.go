package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

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
	late := fmt.Sprintf("It is ready at %s, %s late", end.Text(sys), unit.FormatDuration(-r.Spare))
	if then, open := r.Then.Text(sys), rep.Studio.Opening.Text(sys); then != open { // minutes late, the last degree takes them
		late += fmt.Sprintf("; at %s the kiln still reads %s and is opened at %s", by, then, open)
	}
	return []string{late + ".", start + "."}
}

// changeLines says what else would have to change for the time to be met, the
// cheapest first.
func changeLines(rep *verify.Report) (lines []string) {
	r, sys := rep.Ready, rep.Studio.Units
	length := func(d time.Duration) string { return unit.FormatDuration(unit.WholeMinutes(d)) }
	cheapest := "Cheapest: "
	if r.Searched > 0 {
		lines = append(lines, "A search for a shorter program within the same limits, --shortest, is late, too: it finds "+length(r.Searched)+".")
	} else if r.Kiln == 0 && rep.Shortest == nil && rep.Within && !slices.ContainsFunc(r.Ways, func(w verify.Way) bool { return w.By == verify.BySearch }) {
		lines, cheapest = append(lines, "Or by a shorter program within the same limits: --shortest may find one."), "Else, cheapest: "
	}
	for i, w := range r.Ways {
		lead := "Or "
		if i == 0 {
			lead = cheapest
		}
		takes := " The program then takes " + length(w.Total)
		switch w.By {
		case verify.BySearch:
			lines = append(lines, lead+"give nothing up, and search for a shorter program within the same limits: --shortest finds "+length(w.Total)+".")
		case verify.ByMargin:
			lines = append(lines, fmt.Sprintf("%sleave less of each limit unused, %s instead of %s: --margin \"%s\".%s.", lead, percent(w.Margin), percent(rep.Limits.Margin), percent(w.Margin), takes))
		case verify.ByOpening:
			lines = append(lines, lead+warmerText(rep, w)+takes+": put opening = \""+w.Open.Text(sys)+"\" under [kiln] in studio.toml.")
		default:
			lines = append(lines, lead+givesText(rep, w)+takes+".")
		}
	}
	switch {
	case r.Stopped:
		lines = append(lines, "This was stopped before every way was tried.")
	case r.Kiln > 0:
		lines = append(lines, fmt.Sprintf("No change of limits helps: the kiln alone needs %s to %s.", length(r.Kiln), rep.Studio.Opening.Text(sys)))
	case r.Least > 0:
		lines = append(lines, fmt.Sprintf("No change of limits helps: with both at %s it still takes %s.", plan.MostGive.Text(sys), length(r.Least)))
	}
	return lines
}

// percent is a margin.
func percent(share float64) string { return fmt.Sprintf("%.4g %%", 100*share) }

// givesText says which limits give, and by how much.
func givesText(rep *verify.Report, w verify.Way) string {
	sys := rep.Studio.Units
	var gives, ask []string
	for _, g := range w.Gives {
		in := " in average glass"
		if g.AtWorst {
			in = " at worst"
		}
		gives = append(gives, fmt.Sprintf("%s would be %s%s, the limit is %s", words.Limit(g.Limit), g.Reaches.Text(sys), in, g.From.Text(sys)))
		flag := "--max-tension"
		if g.Limit == verify.LimitResidual {
			flag = "--max-left"
		}
		ask = append(ask, fmt.Sprintf("%s \"%s\"", flag, g.Ask.Text(sys)))
	}
	limits := "let a limit give"
	if len(gives) > 1 {
		limits = "let two limits give"
	}
	return fmt.Sprintf("%s: %s (%s).", limits, strings.Join(gives, ", and "), strings.Join(ask, " "))
}

// warmerText says that the kiln may be opened warmer.
func warmerText(rep *verify.Report, w verify.Way) string {
	sys := rep.Studio.Units
	bear := "the pieces bear it"
	if b := w.Opened; b.Use > 0 {
		bear = "the pieces bear it, with " + words.Tension(b, sys)
	}
	hot := ", and are that hot when they are taken out"
	if len(w.Still) > 0 {
		hot = "; " + strings.Join(words.About(rep).List(w.Still), "")
	}
	return fmt.Sprintf("open it at %s: %s%s.", w.Open.Text(sys), bear, hot)
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
	By     string      `json:"by"`
	Gives  []readyGive `json:"gives"`
	OpenC  *Num        `json:"opening_C"`
	Margin *Num        `json:"margin"`
	TotalH Num         `json:"total_h"`
}

type readyGive struct {
	Limit   string `json:"limit"`
	From    Num    `json:"limit_MPa"`
	Reaches Num    `json:"would_be_MPa"`
	AtWorst bool   `json:"at_worst"` // else in average glass
	Ask     Num    `json:"ask_for_MPa"`
}

var meansText = [...]string{verify.BySearch: "shortest", verify.ByMargin: "margin", verify.ByOpening: "opening", verify.ByLimit: "limits"}

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
		way := readyWay{By: meansText[w.By], TotalH: Num(w.Total.Hours()), Gives: []readyGive{}}
		if w.By == verify.ByMargin {
			m := Num(w.Margin)
			way.Margin = &m
		}
		if !w.Open.IsZero() {
			c := Num(w.Open.Celsius())
			way.OpenC = &c
		}
		for _, g := range w.Gives {
			way.Gives = append(way.Gives, readyGive{words.Limit(g.Limit), MPa(g.From), MPa(g.Reaches), g.AtWorst, MPa(g.Ask)})
		}
		j.Ways = append(j.Ways, way)
	}
	if r.Least > 0 {
		h := Num(r.Least.Hours())
		j.Least = &h
	}
	return j
}
