package checklist

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"lehr/glass/unit"
	"lehr/safety/emergency"
	"lehr/safety/source"
)

// Blank is a place in a line for a value of this session.
type Blank struct {
	Name  string `json:"name"`            // a fact, or "start", "end", "total", "set_points", "last"
	Value string `json:"value,omitempty"` // empty if not known; the text then shows a line to write on
}

// Line is one line of a page, ready to read aloud.
type Line struct {
	ID      string            `json:"id"`
	Point   Point             `json:"point"`
	Signal  Signal            `json:"signal"`
	Text    string            `json:"text"`
	Note    string            `json:"note,omitempty"`    // said with it, smaller; often empty
	Fault   bool              `json:"fault"`             // what is known breaks the line, whatever is answered
	Confirm string            `json:"confirm,omitempty"` // the one word that confirms it, if done will not do
	Blanks  []Blank           `json:"blanks,omitempty"`
	Missing []Missing         `json:"missing,omitempty"` // facts that, all given as named, would take the line away
	Sources []source.Source   `json:"sources"`
	Status  source.Status     `json:"status"`
	Defer   []source.Deferral `json:"defer"`

	tested tested // the date that an answer must give, if any
	ends   []int  // where its sentences end in Text; none inside a fact that a person typed
}

// First returns the first sentences that fit into so many bytes, at least one.
func (l *Line) First(most int) string {
	if len(l.Text) <= most || len(l.ends) == 0 {
		return l.Text
	}
	last := l.ends[0]
	for _, end := range l.ends {
		if end <= most {
			last = end
		}
	}
	return l.Text[:last]
}

// Dated reports whether the answer to the line must be a date.
func (l Line) Dated() bool { return l.tested.fact != "" }

// Because returns why a line is shown although its hazard was not reported,
// and what would take it away; the empty string if nothing is missing.
func (l Line) Because() string {
	if len(l.Missing) == 0 {
		return ""
	}
	var names, values []string
	for _, m := range l.Missing {
		names = append(names, m.Fact)
		values = append(values, m.Fact+" is "+m.Removes)
	}
	verb := " is not given; the line goes if "
	if len(names) > 1 {
		verb = " are not given; the line goes if "
	}
	if l.Missing[0].Removes == "" {
		return inWords(names) + verb + "they keep the figure below the limit"
	}
	return inWords(names) + verb + inWords(values)
}

// Page is the lines of one pause point.
type Page struct {
	Point Point    `json:"point"`
	Title string   `json:"title"`
	Lines []Line   `json:"lines"` // gravest first, at most [maxLines]
	Foot  []string `json:"foot"`
}

// maxLines is the most lines a page has, whatever the facts.
const maxLines = 9

// listNote stands at the foot of every page, federalNote where a line cites a
// rule of the US Code of Federal Regulations.
const (
	listNote    = "List of " + Version + "."
	federalNote = "US federal rules were read in the 2015 edition, most of them written for welding metal; check the current edition."
)

// dangers says which lines of the emergency list a fact of now calls for.
var dangers = []struct {
	fact string
	ids  []string
}{
	{"gas_smell", []string{"W1"}},
	{"co_alarm", []string{"W2"}},
	{"fire", []string{"W3", "W4"}},
	{"gas_fire", []string{"W4"}},
	{"oxygen_spill", []string{"W14"}},
}

// IsDanger reports whether a fact, answered yes, is a danger.
func IsDanger(name string) bool {
	for _, d := range dangers {
		if d.fact == name {
			return true
		}
	}
	return false
}

// Dangers returns what to do about the hazards that are reported present now.
// While there is one, nothing else is to be said: no list and no program.
func (f Facts) Dangers() []emergency.Line {
	var ids []string
	for _, d := range dangers {
		if field[Answer](f, d.fact) != Yes {
			continue
		}
		for _, id := range d.ids {
			if !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	return emergency.Of(ids...)
}

// Pages returns the pages of the pause points asked for, in that order, or
// of all of them in the order of a session if none is named. It returns none
// while a danger is reported; see [Facts.Dangers].
//
// A fact that was not given counts as the hazard being present, and the line says
// which fact would remove it; what is known to break a line makes it a fault,
// whatever is answered. Most of the rules quoted are written for welding metal and
// are read across to glass.
func (f Facts) Pages(points ...Point) []Page {
	if len(f.Dangers()) > 0 {
		return nil
	}
	if len(points) == 0 {
		points = Points()
	}
	var pages []Page
	for _, pt := range points {
		pages = append(pages, page(f, Program{Units: f.Units}, pt))
	}
	return pages
}

// Leaving returns the page for leaving the kiln alone with this program.
func (f Facts) Leaving(p Program) Page {
	f.Units = p.Units
	return page(f, p, Leave)
}

// Reaching returns the page for reaching into the kiln that this program leaves
// hot.
func (f Facts) Reaching(p Program) Page {
	f.Units = p.Units
	if !p.Last.IsZero() {
		f.KilnTemp = p.Last
	}
	return page(f, p, Reach)
}

// Opening returns the page for opening the kiln when this program has ended.
// What the kiln reads now says nothing of that hour.
func (f Facts) Opening(p Program) Page {
	f.Units, f.KilnTemp = p.Units, unit.Temp{}
	pg := page(f, p, Open)
	for i, l := range pg.Lines {
		pg.Lines[i].Missing = slices.DeleteFunc(l.Missing, func(m Missing) bool { return m.Fact == "kiln_temperature" })
	}
	return pg
}

// page collects the lines of a pause point that show, the gravest first.
func page(f Facts, p Program, at Point) Page {
	pg := Page{Point: at, Title: at.Title()}
	for _, r := range rules {
		if r.At != at {
			continue
		}
		if t, missing := r.When.test(f); t != absent {
			pg.Lines = append(pg.Lines, r.line(f, p, missing))
		}
	}
	sort.SliceStable(pg.Lines, func(i, j int) bool { return pg.Lines[i].Signal.rank() < pg.Lines[j].Signal.rank() })
	pg.Foot = Foot([]Page{pg})
	return pg
}

// Foot returns what stands at the foot of pages read together, each sentence
// once: to whom the lines defer, and the edition of the list.
func Foot(pages []Page) []string {
	var lines []Line
	for _, p := range pages {
		lines = append(lines, p.Lines...)
	}
	var out []string
	for _, d := range source.Deferrals() {
		if slices.ContainsFunc(lines, func(l Line) bool { return slices.Contains(l.Defer, d) }) {
			out = append(out, d.Text())
		}
	}
	out = append(out, listNote)
	for _, l := range lines {
		if slices.ContainsFunc(l.Sources, func(s source.Source) bool { return s.Federal() }) {
			return append(out, federalNote)
		}
	}
	return out
}

// line makes the line of a rule for these facts.
func (r rule) line(f Facts, p Program, missing []Missing) Line {
	words, note, fault := r.Words, r.Note, false
	if r.Vary != nil {
		s := r.Vary(f, p)
		fault = s.fault
		if s.words != "" {
			words = s.words
		}
		if s.note != "" {
			note = s.note
		}
	}
	l := Line{ID: r.ID, Point: r.At, Signal: r.Signal, Fault: fault, Confirm: r.Confirm, Missing: missing, Sources: source.Of(r.Sources...), Status: r.Status, Defer: r.Defer}
	l.Text, l.Blanks, l.ends = render(words, f, p)
	if r.Tested.fact != "" && strings.Contains(words, "{"+r.Tested.fact+"}") {
		age, known := field[Date](f, r.Tested.fact).age(f.Today)
		if old := known && age > r.Tested.days; old {
			note = fmt.Sprintf("That is %d days ago, more than the %d we allow; test it again.", age, r.Tested.days)
			l.Fault, l.tested = true, r.Tested
		} else if !known {
			l.tested = r.Tested
		}
	}
	l.Note = note
	return l
}

// render fills a template of a rule; see [rule].
func render(words string, f Facts, p Program) (text string, blanks []Blank, ends []int) {
	var out strings.Builder
	put := func(words string) {
		for i := range words {
			if strings.HasPrefix(words[i:], ". ") {
				ends = append(ends, out.Len()+i+1)
			}
		}
		out.WriteString(words)
	}
	for words != "" {
		i := strings.IndexAny(words, "[{")
		if i < 0 {
			put(words)
			break
		}
		put(words[:i])
		end := strings.IndexAny(words[i:], "]}")
		if end < 0 {
			panic("checklist: open bracket in a rule: " + words)
		}
		inside := words[i+1 : i+end]
		if words[i] == '[' {
			us, metric, _ := strings.Cut(inside, "|")
			if f.Units == unit.US {
				metric = us
			}
			out.WriteString(metric)
		} else {
			b := Blank{Name: inside, Value: p.fill(inside)}
			if row, ok := lookup(inside); ok && b.Value == "" {
				b.Value = row.in(&f).text(f.Units)
			}
			blanks = append(blanks, b)
			if b.Value == "" {
				out.WriteString("____")
			} else {
				out.WriteString(b.Value)
			}
		}
		words = words[i+end+1:]
	}
	return out.String(), blanks, ends
}
