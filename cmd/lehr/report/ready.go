package report

import (
	"fmt"
	"strings"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"

	"lehr/glass/strict"
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
func ReadyBy(rep *verify.Report, of words.Fields) *ReadyWords {
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
			w.Tail = "to open the kiln at " + by + then
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
		w.Head, w.Gap, w.Tail = "Ready by "+by, ", ", "with "+spare+" to spare; the latest start is "+latest+then
		if decides {
			w.Head += " in the likeliest kiln only"
			w.Tail += " " + rangeText(rep) + " For the slowest that it may be, the latest start is " + slowestStart(rep) + "."
		}
	default:
		w.Head, w.Lines, w.Change = "NOT READY by "+by, lateLines(rep), changeLines(rep, of)
		if decides {
			w.Head += " in the likeliest kiln"
			w.Gap, w.Tail = ". ", rangeText(rep)
		}
	}
	if f, ok := rep.Notes.Find(finding.KeepClosed); ok { // what is not so comes first
		w.Lines = append([]string{closedReady(rep, f)}, w.Lines...)
	}
	return w
}

// closedReady says that the hours of a program that ends too hot to open the kiln are
// not those at which it can be.
func closedReady(rep *verify.Report, f finding.Finding) string {
	closed, _ := ClosedText(rep)
	text := "These are hours at which it reads " + ReadingText(rep, lastTemp(rep)) + ": it stays closed " + closed
	if !f.Temp.IsZero() {
		text += ", " + words.AfterEnd(f)
	}
	return text + "."
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
	return "Nobody measured how this kiln falls: it can be ready between " + first + " and " + last + "."
}

// showReady prints whether the kiln is ready by the time asked for, nothing if
// nobody asked.
func (v *View) showReady(rep *verify.Report) {
	w := ReadyBy(rep, nil)
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
	end, _, _ := rep.Ends()
	start := "To be ready by " + r.By.Text(sys) + " with this program, start by " + startText(rep, r.Latest, r.Before)
	if r.Range != nil {
		start += "; for the slowest kiln that it may be, by " + slowestStart(rep)
	}
	late := "It is ready at " + end.Text(sys) + ", " + unit.FormatDuration(-r.Spare) + " late"
	if then, open := r.Then.Text(sys), rep.Studio.Opening.Text(sys); then != open { // minutes late, the last degree takes them
		late += "; at " + r.By.Text(sys) + " the kiln still reads " + then
		if !rep.Notes.Has(finding.KeepClosed) {
			late += ", above the " + open + " at which it is opened"
		}
	}
	return []string{late + ".", start + "."}
}

// changeLines says what else would have to change for the time to be met, the
// cheapest first.
func changeLines(rep *verify.Report, of words.Fields) (lines []string) {
	r, sys := rep.Ready, rep.Studio.Units
	length := func(d time.Duration) string { return unit.FormatDuration(unit.WholeMinutes(d)) }
	cheapest, likeliest := "Cheapest: ", ""
	shortest := of.Say("{--shortest}")
	if r.Range != nil {
		likeliest = " in the likeliest kiln"
	}
	if r.Searched > 0 {
		lines = append(lines, "A search for a shorter program within the same limits, "+shortest+", is late, too: it finds "+length(r.Searched)+".")
	} else if r.Kiln == 0 && rep.Shortest == nil && rep.Within && !r.Has(verify.BySearch) {
		lines, cheapest = append(lines, "Or by a shorter program within the same limits: "+shortest+" may find one."), "Else, cheapest: "
	}
	for i := range r.Ways {
		w, lead := &r.Ways[i], "Or "
		if i == 0 {
			lead = cheapest
		}
		tail := " The program then takes " + length(w.Total) + likeliest + "."
		switch w.By {
		case verify.BySearch:
			lead, tail = lead+"give nothing up, and search for a shorter program within the same limits: "+shortest+" finds ", length(w.Total)+"."
		case verify.ByMargin:
			to := percent(w.Margin)
			lead += "leave less of each limit unused, " + to + " instead of " + percent(rep.Limits.Margin) + ": --margin \"" + to + "\"."
		case verify.ByOpening:
			lead += warmerText(rep, w, of)
		default:
			lead += givesText(w, sys, of)
		}
		lines = append(lines, lead+tail)
	}
	last := ""
	switch {
	case r.Stopped:
		last = "This was stopped before every way was tried."
	case r.Kiln > 0:
		last = "No change of limits helps: the kiln alone needs " + length(r.Kiln) + " to " + rep.Studio.Opening.Text(sys) + "."
	case r.Least > 0:
		last = "No change of limits helps: with both at " + plan.MostGive.Text(sys) + " it still takes " + length(r.Least) + "."
	default:
		return lines
	}
	return append(lines, last)
}

// percent is a margin.
func percent(share float64) string { return fmt.Sprintf("%.4g %%", 100*share) }

// givesText says which limits give, and by how much.
func givesText(w *verify.Way, sys unit.System, of words.Fields) string {
	gives, ask, between := "", "", " "
	if of != nil {
		between = ", "
	}
	for i, g := range w.Gives {
		in, flag := " in average glass", "--max-tension"
		if g.AtWorst {
			in = " at worst"
		}
		if g.Limit == verify.LimitResidual {
			flag = "--max-left"
		}
		if i > 0 {
			gives, ask = gives+", and ", ask+between
		}
		gives += words.Limit(g.Limit) + " would be " + g.Reaches.Text(sys) + in + ", the limit is " + g.From.Text(sys)
		ask += of.Say(strict.Advice("{" + flag + "=" + g.Ask.Text(sys) + "}"))
	}
	limits := "let a limit give, at more risk of cracks: "
	if len(w.Gives) > 1 {
		limits = "let two limits give, at more risk of cracks: "
	}
	return limits + gives + " (" + ask + ")."
}

// warmerText says that the kiln may be opened warmer, and how.
func warmerText(rep *verify.Report, w *verify.Way, of words.Fields) string {
	sys := rep.Studio.Units
	at, text := w.Open.Text(sys), ": computed within every limit"
	if w.Opened.Use > 0 {
		text = ": computed " + words.Tension(w.Opened, sys)
	}
	if len(w.Still) > 0 {
		text += "; " + strings.Join(words.About(rep).List(w.Still), "")
	} else {
		text += ", and are that hot when they are taken out"
	}
	put := "Put opening = \"" + at + "\" under [kiln] in studio.toml, and change it back afterward: it counts for every later program."
	if of != nil {
		put = "Fill in " + of.Say(strict.Advice("{kiln.opening="+at+"}")) + "."
	}
	return "open it at " + at + text + ". " + put
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
	for i := range r.Ways {
		w := &r.Ways[i]
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
