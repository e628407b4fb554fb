package web

import (
	"fmt"
	"strings"

	"golang.org/x/net/html"

	"lehr/safety/checklist"
	"lehr/safety/emergency"
)

// page lays the sheet out.
func (v *sheetView) page() ([]byte, error) {
	var back *html.Node
	if strings.HasPrefix(v.Back, "/") { // a page of ours
		back = El("p", Class("back"), El("a", At{"href", v.Back}, "Change this load"))
	}
	var first *html.Node
	if len(v.Notes) > 0 {
		first = Named("first", "What to know first", Items("ul", v.Notes))
	}
	main := El("main",
		v.top(), first,
		El("div", Class("two"), El("div", v.program(), v.pieces()), v.curve()),
		El("div", Class("two pages"), Each(v.Pages, func(p checklist.Page) *html.Node {
			n := cautionSection(p)
			n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "cautions"})
			return n
		})),
		v.small())
	return Document("Kiln program: "+v.Name,
		El("header", back, El("h1", v.Name), El("p", Class("about"), strings.Join(v.About, "; "))),
		main,
		El("footer", Class("foot"), El("p", v.Foot), wrongSection(v.Call)))
}

// top is the verdict and the end.
func (v *sheetView) top() *html.Node {
	verdict := El("div", El("p", Class("word"), At{"id", "verdict"}, v.Verdict), El("p", v.Numbers+"."), paragraphs(v.Over))
	if !v.Within {
		verdict.Attr = append(verdict.Attr, html.Attribute{Key: "class", Val: "over"})
	}
	return El("section", Class("top"), At{"aria-label", "Verdict"}, verdict,
		El("div", El("p", Class("word"), At{"id", "end"}, v.Ends), El("p", strings.TrimSpace(v.End+" "+v.Share))))
}

// head makes the header of a column.
func head(parts ...any) *html.Node {
	return El("th", append([]any{At{"scope", "col"}}, parts...)...)
}

// numeral makes a cell that holds a number.
func numeral(s string) *html.Node { return El("td", Class("n"), s) }

// program is the table to key in, with a box to tick for each segment.
func (v *sheetView) program() *html.Node {
	unitHead := func(name, unit string) *html.Node { return head(Class("n"), name, El("br"), unit) }
	return Named("program", "Program, begins at "+v.Begin, El("table", Class("program"),
		El("thead", El("tr", head(Class("tick"), "set"), head("segment"), unitHead("rate", v.RateUnit), unitHead("to", v.To), unitHead("hold", "h:min"))),
		El("tbody", Each(v.Segments, func(s sheetSegment) *html.Node {
			tick, name := El("td", Class("tick")), fmt.Sprintf("%d %s", s.Number, s.What)
			if !s.Off {
				tick.AppendChild(El("input", At{"type", "checkbox"}, At{"aria-label", fmt.Sprintf("segment %d is keyed in", s.Number)}))
			}
			return El("tr", tick, El("th", At{"scope", "row"}, name, El("small", "takes "+s.Takes+", ends "+s.Ends)),
				numeral(s.Rate), numeral(s.Target), numeral(s.Hold))
		}))), paragraphs(v.ProgramNotes, Class("note")))
}

// pieces is the table of the numbers beside their limits.
func (v *sheetView) pieces() *html.Node {
	n := Class("n")
	return Named("pieces", "Pieces against their limits", El("table", Class("pieces"),
		El("thead", El("tr", head("piece"), head(n, "tension "+v.StressUnit+", of limit"), head(n, "locked in "+v.StressUnit+", of limit"),
			head(n, "relaxed %"), head(n, "retardation nm"))),
		El("tbody", Each(v.Pieces, func(p sheetPiece) *html.Node {
			var over *html.Node
			if p.Over != "" {
				over = El("strong", "OVER: "+p.Over)
			}
			return El("tr", El("th", At{"scope", "row"}, p.Name+" ", over, El("small", p.Where)),
				shared(p.Tension, p.TensionShare), shared(p.Left, p.LeftShare), numeral(p.Relaxed), numeral(p.Shows))
		}))), paragraphs(v.Deciders, Class("note")))
}

// shared makes a cell that holds a number and its share of a limit.
func shared(s, share string) *html.Node {
	n := numeral(s)
	if share != "" {
		n.AppendChild(El("small", " "+share))
	}
	return n
}

func (v *sheetView) curve() *html.Node {
	var note *html.Node
	if v.CurveNote != "" {
		note = El("p", Class("note"), v.CurveNote)
	}
	n := Named("curve", "Curve", Verbatim(v.Curve), note)
	n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "curve"})
	return n
}

// cautionSection is the lines of one pause point.
func cautionSection(p checklist.Page) *html.Node {
	return Named("page-"+string(p.Point), p.Title, El("ul", Each(p.Lines, func(l checklist.Line) *html.Node {
		return El("li", El("span", Class("signal"), string(l.Signal)), " "+l.ID+" "+l.Text)
	})))
}

// small is what few read: reasons, assumptions, sources.
func (v *sheetView) small() *html.Node {
	n := El("section", Class("small"), At{"aria-label", "Reasons, assumptions and sources"})
	for _, part := range []struct {
		heading, kind string
		texts         []string
	}{{"Why these numbers", "ol", v.Reasons}, {"Assumed", "ul", v.Assumed}, {"Sources", "ul", v.Sources}} {
		if len(part.texts) > 0 {
			n.AppendChild(El("h2", part.heading))
			n.AppendChild(Items(part.kind, part.texts))
		}
	}
	return n
}

// wrongSection is the list for a page: whom to call, large, and the first words
// of each line.
func wrongSection(call string) *html.Node {
	n := Named("wrong", "Something is wrong", El("p", Class("call"), call), El("ul", Each(emergency.All(), func(l emergency.Line) *html.Node {
		return El("li", El("span", Class("signal"), l.Trigger), " "+l.Do)
	})))
	n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "cautions wrong"})
	return n
}
