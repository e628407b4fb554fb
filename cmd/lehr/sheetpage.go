package main

import (
	"fmt"
	"strings"

	"golang.org/x/net/html"

	"lehr/safety/checklist"
)

// page lays the sheet out.
func (v *sheetView) page() ([]byte, error) {
	var back *html.Node
	if strings.HasPrefix(v.Back, "/") { // a page of ours
		back = el("p", class("back"), el("a", at{"href", v.Back}, "Change this load"))
	}
	var first *html.Node
	if len(v.Notes) > 0 {
		first = named("first", "What to know first", items("ul", v.Notes))
	}
	main := el("main",
		v.top(), first,
		el("div", class("two"), el("div", v.program(), v.pieces()), v.curve()),
		el("div", class("two pages"), each(v.Pages, func(p checklist.Page) *html.Node {
			n := cautionSection(p)
			n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "cautions"})
			return n
		})),
		v.small())
	return document("Kiln program: "+v.Name,
		el("header", back, el("h1", v.Name), el("p", class("about"), strings.Join(v.About, "; "))),
		main,
		el("footer", class("foot"), el("p", v.Foot), wrongSection(v.Call)))
}

// top is the verdict and the end.
func (v *sheetView) top() *html.Node {
	verdict := el("div", el("p", class("word"), at{"id", "verdict"}, v.Verdict), el("p", v.Numbers+"."), paragraphs(v.Over))
	if !v.Within {
		verdict.Attr = append(verdict.Attr, html.Attribute{Key: "class", Val: "over"})
	}
	return el("section", class("top"), at{"aria-label", "Verdict"}, verdict,
		el("div", el("p", class("word"), at{"id", "end"}, v.Ends), el("p", strings.TrimSpace(v.End+" "+v.Share))))
}

// head makes the header of a column.
func head(parts ...any) *html.Node {
	return el("th", append([]any{at{"scope", "col"}}, parts...)...)
}

// numeral makes a cell that holds a number.
func numeral(s string) *html.Node { return el("td", class("n"), s) }

// program is the table to key in, with a box to tick for each segment.
func (v *sheetView) program() *html.Node {
	unitHead := func(name, unit string) *html.Node { return head(class("n"), name, el("br"), unit) }
	return named("program", "Program, begins at "+v.Begin, el("table", class("program"),
		el("thead", el("tr", head(class("tick"), "set"), head("segment"), unitHead("rate", v.RateUnit), unitHead("to", v.To), unitHead("hold", "h:min"))),
		el("tbody", each(v.Segments, func(s sheetSegment) *html.Node {
			tick, name := el("td", class("tick")), fmt.Sprintf("%d %s", s.Number, s.What)
			if !s.Off {
				tick.AppendChild(el("input", at{"type", "checkbox"}, at{"aria-label", fmt.Sprintf("segment %d is keyed in", s.Number)}))
			}
			return el("tr", tick, el("th", at{"scope", "row"}, name, el("small", "takes "+s.Takes+", ends "+s.Ends)),
				numeral(s.Rate), numeral(s.Target), numeral(s.Hold))
		}))), paragraphs(v.ProgramNotes, class("note")))
}

// pieces is the table of the numbers beside their limits.
func (v *sheetView) pieces() *html.Node {
	n := class("n")
	return named("pieces", "Pieces against their limits", el("table", class("pieces"),
		el("thead", el("tr", head("piece"), head(n, "tension "+v.StressUnit+", of limit"), head(n, "locked in "+v.StressUnit+", of limit"),
			head(n, "relaxed %"), head(n, "retardation nm"))),
		el("tbody", each(v.Pieces, func(p sheetPiece) *html.Node {
			var over *html.Node
			if p.Over != "" {
				over = el("strong", "OVER: "+p.Over)
			}
			return el("tr", el("th", at{"scope", "row"}, p.Name+" ", over, el("small", p.Where)),
				shared(p.Tension, p.TensionShare), shared(p.Left, p.LeftShare), numeral(p.Relaxed), numeral(p.Shows))
		}))), paragraphs(v.Deciders, class("note")))
}

// shared makes a cell that holds a number and its share of a limit.
func shared(s, share string) *html.Node {
	n := numeral(s)
	if share != "" {
		n.AppendChild(el("small", " "+share))
	}
	return n
}

func (v *sheetView) curve() *html.Node {
	var note *html.Node
	if v.CurveNote != "" {
		note = el("p", class("note"), v.CurveNote)
	}
	n := named("curve", "Curve", verbatim(v.Curve), note)
	n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "curve"})
	return n
}

// cautionSection is the lines of one pause point.
func cautionSection(p checklist.Page) *html.Node {
	return named("page-"+string(p.Point), p.Title, el("ul", each(p.Lines, func(l checklist.Line) *html.Node {
		return el("li", el("span", class("signal"), string(l.Signal)), " "+l.ID+" "+l.Text)
	})))
}

// small is what few read: reasons, assumptions, sources.
func (v *sheetView) small() *html.Node {
	n := el("section", class("small"), at{"aria-label", "Reasons, assumptions and sources"})
	for _, part := range []struct {
		heading, kind string
		texts         []string
	}{{"Why these numbers", "ol", v.Reasons}, {"Assumed", "ul", v.Assumed}, {"Sources", "ul", v.Sources}} {
		if len(part.texts) > 0 {
			n.AppendChild(el("h2", part.heading))
			n.AppendChild(items(part.kind, part.texts))
		}
	}
	return n
}
