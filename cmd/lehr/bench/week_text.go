package bench

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"lehr/anneal/week"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// piecesOf lists what lies in a firing.
func (o *order) piecesOf(f week.Firing) string {
	var out []string
	for i, n := range f.Counts {
		if n > 0 {
			out = append(out, strconv.Itoa(n)+" × "+o.kinds[i].What)
		}
	}
	return strings.Join(out, ", ")
}

func hoursText(d time.Duration) string {
	m := int(d.Round(time.Minute).Minutes())
	return fmt.Sprintf("%d:%02d", m/60, m%60)
}

// showWeek prints a row a night, what decides below it, and what would save one.
func showWeek(a *desk.App, o *order, p *week.Plan, sys unit.System) error {
	head := term.Counted(len(p.Firings), "firing")
	switch {
	case p.Fewest && len(p.Firings) == p.Least:
		head += ", the fewest there can be"
	case p.Fewest:
		head += ", the fewest in rows"
	default:
		head += "; at least " + strconv.Itoa(p.Least) + " are needed"
	}
	a.Strong(head)
	var rows [][]string
	for _, f := range p.Firings {
		rows = append(rows, []string{f.Start.Format("Mon 2006-01-02"), o.kilns[f.Kiln].Name, o.piecesOf(f), hoursText(f.Hours),
			f.Ready().Format("Mon ") + unit.ClockOf(f.Ready()).Text(sys), term.Whole(100 * f.Free)})
	}
	if err := a.Table([]term.Column{term.TextColumn("night"), term.TextColumn("kiln"), term.LongColumn("pieces"), term.NumberColumn("h:min"), term.TextColumn("ready"), term.NumberColumn("free %")}, rows); err != nil {
		return err
	}
	a.Print("\n")
	for i, n := range p.Left {
		if n > 0 {
			a.Lead(term.Bad, "NO PLACE", " ", fmt.Sprintf("for %d × %s in the nights there are.", n, o.kinds[i].What))
		}
	}
	for _, l := range p.Late {
		k := o.kinds[l.Kind]
		a.Lead(term.Bad, "LATE", " ", fmt.Sprintf("%d × %s, by up to %s after %s %s.", l.Count, k.What, hoursText(l.By), k.Due.Format("Mon 2006-01-02"), unit.ClockOf(k.Due).Text(sys)))
	}
	for _, f := range p.Firings {
		if o.isOver(f) {
			a.Lead(term.Bad, "NOT WITHIN LIMITS", " ", fmt.Sprintf("or not judged: %s on %s in %s. Plan it from its card first.", o.piecesOf(f), f.Start.Format("Mon 2006-01-02"), o.kilns[f.Kiln].Name))
		}
	}
	for _, line := range o.weekNotes(p, sys) {
		a.Item("- ", line)
	}
	return nil
}

// weekNotes say what decides and what would save a night.
func (o *order) weekNotes(p *week.Plan, sys unit.System) (out []string) {
	by := map[string]string{
		"shelf":    "what covers the shelf",
		"conflict": "what cannot share a program",
		"both":     "what covers the shelf and cannot share, together",
		"search":   "a search through every way in rows",
	}
	out = append(out, fmt.Sprintf("At least %s by %s.", term.Counted(p.Least, "firing"), by[p.Because]))
	switch untried := o.untried(p); {
	case untried == "":
	case !p.Fewest:
		out = append(out, "Not proved the fewest: "+untried+".")
	case len(p.Late) > 0:
		out = append(out, "In time: "+untried+".")
	}
	for _, g := range groupConflicts(p.Conflicts) {
		var with []string
		for _, k := range g.with {
			with = append(with, o.kinds[k].What)
		}
		out = append(out, fmt.Sprintf("%s does not share with %s: %s.", o.kinds[g.kind].What, strings.Join(with, ", "), o.apartText(g.why)))
	}
	if len(p.Firings) > 1 {
		least := 0
		for i, f := range p.Firings {
			if f.Pieces() < p.Firings[least].Pieces() {
				least = i
			}
		}
		f := p.Firings[least]
		out = append(out, fmt.Sprintf("Without %s the %s of %s is free.", o.piecesOf(f), "night", f.Start.Format("Mon 2006-01-02")))
	}
	return append(out, "Each kind lies in rows of its own, square or offset; hours are of a program by the default rule, each to be planned and verified from its card: lehr week --cards.")
}

// untried says what was not tried, "" if all was.
func (o *order) untried(p *week.Plan) string {
	text := untrieds[p.Untried]
	switch p.Untried {
	case week.OneWay:
		text = fmt.Sprintf(text, len(o.kinds), week.MostKinds)
	case week.SomeWays, week.NoneInTime:
		text = fmt.Sprintf(text, p.Tried)
	}
	if p.Unasked {
		if text != "" {
			text += "; "
		}
		text += "of some kinds it was not asked whether they share a program"
	}
	return text
}

var untrieds = [...]string{
	week.Nothing:     "",
	week.NoPlace:     "not all of it fits into the nights that are free",
	week.OneWay:      "with %d kinds no other way than longest first was tried; up to %d are searched",
	week.SomeWays:    "%d firings were searched for within a number of steps, not in every way",
	week.NoneInTime:  "no plan of up to %d firings is in time",
	week.Interrupted: "the search was interrupted",
}

// conflictGroup is a kind and those it cannot share with; why is of the first.
type conflictGroup struct {
	kind int
	with []int
	why  error
}

// groupConflicts puts pairs together under the kind that is in most of them.
func groupConflicts(pairs []week.Conflict) (out []conflictGroup) {
	for len(pairs) > 0 {
		times := map[int]int{}
		most := -1
		for _, c := range pairs {
			for _, k := range []int{c.A, c.B} {
				times[k]++
				if most < 0 || times[k] > times[most] {
					most = k
				}
			}
		}
		g := conflictGroup{kind: most}
		var rest []week.Conflict
		for _, c := range pairs {
			switch most {
			case c.A:
				g.with = append(g.with, c.B)
			case c.B:
				g.with = append(g.with, c.A)
			default:
				rest = append(rest, c)
				continue
			}
			if g.why == nil {
				g.why = c.Why
			}
		}
		out, pairs = append(out, g), rest
	}
	return out
}

func weekJSON(a *desk.App, o *order, p *week.Plan) error {
	type lies struct {
		What  string `json:"what"`
		Count int    `json:"count"`
	}
	type firing struct {
		Kiln   string     `json:"kiln"`
		Start  string     `json:"start"`
		Ready  string     `json:"ready"`
		Hours  report.Num `json:"hours_h"`
		Pieces []lies     `json:"pieces"`
		Free   report.Num `json:"free_share"`
		Within bool       `json:"within"`
	}
	type late struct {
		What  string     `json:"what"`
		Count int        `json:"count"`
		By    report.Num `json:"by_h"`
	}
	type conflict struct {
		A   string `json:"a"`
		B   string `json:"b"`
		Why string `json:"why"`
	}
	out := struct {
		Firings   []firing   `json:"firings"`
		Least     int        `json:"least_firings"`
		Because   string     `json:"least_because"`
		Fewest    bool       `json:"fewest"`
		Untried   string     `json:"untried,omitempty"`
		NoPlace   []lies     `json:"no_place"`
		Late      []late     `json:"late"`
		Conflicts []conflict `json:"conflicts"`
	}{[]firing{}, p.Least, p.Because, p.Fewest, o.untried(p), []lies{}, []late{}, []conflict{}}
	const form = "2006-01-02T15:04"
	for _, f := range p.Firings {
		j := firing{Kiln: o.kilns[f.Kiln].Name, Start: f.Start.Format(form), Ready: f.Ready().Format(form), Hours: report.Num(f.Hours.Hours()), Free: report.Num(f.Free), Within: !o.isOver(f)}
		for i, n := range f.Counts {
			if n > 0 {
				j.Pieces = append(j.Pieces, lies{o.kinds[i].What, n})
			}
		}
		out.Firings = append(out.Firings, j)
	}
	for i, n := range p.Left {
		if n > 0 {
			out.NoPlace = append(out.NoPlace, lies{o.kinds[i].What, n})
		}
	}
	for _, l := range p.Late {
		out.Late = append(out.Late, late{o.kinds[l.Kind].What, l.Count, report.Num(l.By.Hours())})
	}
	for _, c := range p.Conflicts {
		out.Conflicts = append(out.Conflicts, conflict{o.kinds[c.A].What, o.kinds[c.B].What, o.apartText(c.Why)})
	}
	return a.PrintJSON(out)
}
