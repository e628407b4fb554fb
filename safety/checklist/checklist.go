package checklist

import (
	"slices"
	"strings"

	"lehr/glass/unit"
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
	Note    string            `json:"note,omitempty"` // said with it, smaller; often empty
	Blanks  []Blank           `json:"blanks,omitempty"`
	Missing []Missing         `json:"missing,omitempty"` // facts that, all given as named, would take the line away
	Sources []source.Source   `json:"sources"`
	Status  source.Status     `json:"status"`
	Defer   []source.Deferral `json:"defer"`
}

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
	Use   string   `json:"use"`   // how to work the page
	Lines []Line   `json:"lines"` // gravest first, at most [MaxLines]
	Foot  []string `json:"foot"`
}

// MaxLines is the most lines a page has, whatever the facts.
const MaxLines = 9

// listNote stands at the foot of every page, federalNote where a line cites a
// rule of the US Code of Federal Regulations.
const (
	listNote    = "List of " + Version + "."
	federalNote = "US federal rules were read in the 2015 edition, most of them written for welding metal; check the current edition."
)

// Checklist returns the pages of the pause points asked for, in that order, or
// of all of them in the order of a session if none is named.
//
// A fact that was not given counts as the hazard being present. If a hazard is
// reported present now (gas, carbon monoxide, oxygen, a gas fire), a page with
// what to do comes first, whatever was asked for.
func Checklist(f Facts, points ...Point) []Page {
	return checklist(f, Program{Units: f.Units}, points)
}

// Leaving returns the page for leaving the kiln alone with this program.
func Leaving(f Facts, p Program) Page {
	f.Units = p.Units
	return page(f, p, Leave, false)
}

// Opening returns the page for opening the kiln when this program has ended.
func Opening(f Facts, p Program) Page {
	f.Units = p.Units
	return page(f, p, Open, false)
}

func checklist(f Facts, p Program, points []Point) []Page {
	if len(points) == 0 {
		points = Points()
	}
	var pages []Page
	if !slices.Contains(points, Wrong) || points[0] != Wrong {
		if urgent := page(f, p, Wrong, true); len(urgent.Lines) > 0 {
			pages = append(pages, urgent)
		}
	}
	for _, pt := range points {
		pages = append(pages, page(f, p, pt, false))
	}
	return pages
}

// page collects the lines of a pause point that show; onlyUrgent keeps those
// whose hazard is reported present.
func page(f Facts, p Program, at Point, onlyUrgent bool) Page {
	pg := Page{Point: at, Title: at.Title(), Use: at.Use()}
	for _, r := range rules {
		if r.At != at {
			continue
		}
		t, missing := r.When.test(f)
		if t == absent {
			continue
		}
		l := r.line(f, p, missing)
		if onlyUrgent && l.Signal != Danger {
			continue
		}
		pg.Lines = append(pg.Lines, l)
	}
	slices.SortStableFunc(pg.Lines, func(a, b Line) int { return a.Signal.rank() - b.Signal.rank() })
	pg.Foot = pageFoot(pg.Lines)
	return pg
}

// pageFoot returns the sentences at the foot: to whom the lines defer, the
// edition of the list.
func pageFoot(lines []Line) []string {
	var out []string
	for _, d := range source.Deferrals() {
		if slices.ContainsFunc(lines, func(l Line) bool { return slices.Contains(l.Defer, d) }) {
			out = append(out, d.Text())
		}
	}
	out = append(out, listNote)
	for _, l := range lines {
		if slices.ContainsFunc(l.Sources, func(s source.Source) bool { return strings.Contains(s.Cite, " CFR ") }) {
			return append(out, federalNote)
		}
	}
	return out
}

// Foot returns what stands at the foot of several pages read together, each
// sentence once.
func Foot(pages []Page) []string {
	var lines []Line
	for _, p := range pages {
		lines = append(lines, p.Lines...)
	}
	return pageFoot(lines)
}

// line makes the line of a rule for these facts.
func (r rule) line(f Facts, p Program, missing []Missing) Line {
	words := r.Words
	if r.Vary != nil {
		if w := r.Vary(f, p); w != "" {
			words = w
		}
	}
	text, blanks := render(words, f, p)
	l := Line{ID: r.ID, Point: r.At, Signal: r.Signal, Text: text, Note: r.Note, Blanks: blanks, Missing: missing, Status: r.Status, Defer: r.Defer}
	if r.Urgent != "" && field[Answer](f, r.Urgent) == Yes {
		l.Signal = Danger
	}
	l.Sources = source.Of(r.Sources...)
	return l
}

// render fills a template of a rule; see [rule].
func render(words string, f Facts, p Program) (string, []Blank) {
	var out strings.Builder
	var blanks []Blank
	for words != "" {
		i := strings.IndexAny(words, "[{")
		if i < 0 {
			out.WriteString(words)
			break
		}
		out.WriteString(words[:i])
		end := strings.IndexAny(words[i:], "]}")
		if end < 0 {
			panic("safety: open bracket in a rule: " + words)
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
			if b.Value == "" {
				if row, ok := lookup(inside); ok {
					b.Value = valueText(row.field(&f), f.Units)
				}
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
	return out.String(), blanks
}
