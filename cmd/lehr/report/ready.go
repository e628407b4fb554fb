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
	Head  string   // "NOT READY by 08:00"
	Gap   string   // between Head and Tail
	Tail  string   // the rest of that line
	Lines []string // what would have to change
	Met   bool
	Given bool // the start was given
}

// ReadyBy says whether the kiln is ready by the time asked for, nil if nobody
// asked.
func ReadyBy(rep *verify.Report) *ReadyWords {
	r, sys := rep.Ready, rep.Studio.Units
	if r == nil {
		return nil
	}
	by, latest := r.By.Text(sys), r.Latest.Text(sys)+daysBefore(r.Before)
	w := &ReadyWords{Met: r.Met, Given: r.Given}
	switch {
	case !r.Given:
		lead := "at the latest, to open the kiln at " + by + "."
		if rep.Load.Into == piece.HotKiln {
			lead = "at the latest, to open the kiln at " + by + ": the last piece goes in then."
		}
		w.Head, w.Gap, w.Tail = "Start by "+latest, " ", lead
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
	default:
		w.Head, w.Lines = "NOT READY by "+by, readyLines(rep)
	}
	return w
}

// showReady prints whether the kiln is ready by the time asked for, nothing if
// nobody asked.
func (v *View) showReady(rep *verify.Report) {
	w := ReadyBy(rep)
	if w == nil {
		return
	}
	switch {
	case !w.Given:
		v.Lead(term.Bold, w.Head, w.Gap, w.Tail)
	case w.Met:
		v.Lead(term.Good, w.Head, w.Gap, w.Tail)
	default:
		v.Print(v.Style(term.Bad, w.Head) + "\n")
		for _, s := range w.Lines {
			v.Item("- ", s)
		}
	}
}

// readyLines says what would have to change for the time to be met.
func readyLines(rep *verify.Report) []string {
	r, sys := rep.Ready, rep.Studio.Units
	by := r.By.Text(sys)
	late := unit.FormatDuration(-r.Spare)
	end, _, _ := rep.Ends()
	lines := []string{
		fmt.Sprintf("It is ready at %s, %s late; at %s the kiln still reads %s and is opened at %s.", end.Text(sys), late, by, r.Then.Text(sys), rep.Studio.Opening.Text(sys)),
	}
	if r.Kiln == 0 && rep.Shortest == nil && rep.Within {
		lines = append(lines, "Or by a shorter program within the same limits: --shortest may find one.")
	}
	lines = append(lines, fmt.Sprintf("Or start by %s%s.", r.Latest.Text(sys), daysBefore(r.Before)))
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
