package web

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/net/html"

	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/safety/checklist"
	"lehr/safety/emergency"
)

// page lays the sheet out: what a person needs at the controller comes first,
// then the pieces, the hours, what to know, the curve, leaving and opening.
func (v *sheetView) page() ([]byte, error) {
	if v.rep.Replayed {
		return v.logged()
	}
	return Document("Kiln program: "+v.Name,
		Class("sheet"),
		El("header", v.links(), v.heading()),
		El("main",
			v.first(), v.past(),
			El("div", Class("grid"), El("div", v.program(), v.ways(), v.change(), v.shares()), v.curve()),
			v.wideNote(), v.know(), v.hours(),
			El("div", Class("two pages"), Each(v.Pages, v.cautions)),
			v.why(), v.steps()),
		El("footer", v.foot(), v.wrong()))
}

// logged lays out the page of what a kiln did: there is nothing to key in.
func (v *sheetView) logged() ([]byte, error) {
	return Document("What the kiln did: "+v.Name,
		Class("sheet"),
		El("header", v.heading()),
		El("main", v.first(),
			El("div", Class("grid"), El("div", v.past(), v.shares()), v.curve()),
			v.wideNote(), v.know(), El("div", Class("pages"), Each(v.Pages[min(1, len(v.Pages)):], v.cautions)), v.why()),
		El("footer", v.foot(), v.wrong()))
}

// past is what the kiln did, nil if the page says nothing of it.
func (v *sheetView) past() *html.Node {
	if v.Past == nil {
		return nil
	}
	n := Named("past", v.Past.Heading, Items("ul", v.Past.Lines(v.Fields)))
	n.Attr = append(n.Attr, Class("know").attribute())
	return n
}

// links lead away from the page; a file has none.
func (v *sheetView) links() *html.Node {
	if !strings.HasPrefix(v.Back, "/") {
		return nil
	}
	n := El("nav", Class("links screen"), At{"aria-label", "This page"}, El("a", At{"href", v.Back}, "Change this load"))
	if strings.HasPrefix(v.Download, "/") {
		n.AppendChild(El("a", At{"href", v.Download}, "Keep this page as a file"))
		n.AppendChild(El("a", At{"href", "/safety?" + strings.TrimPrefix(v.Back, "/?")}, "Safety of this session"))
	}
	return n
}

func (v *sheetView) heading() []*html.Node {
	about := strings.Join(v.About, "; ")
	n := []*html.Node{El("h1", v.Name), El("p", Class("quiet"), about, El("span", Class("screen"), ". "+v.made()), El("span", Class("paper"), ". "+v.Kiln+"."))}
	return n
}

// first is what stands first: ready or not, the verdict, the times.
func (v *sheetView) first() *html.Node {
	return El("section", Class("top"), At{"aria-label", "Verdict"}, v.ready(), v.when(), v.verdict())
}

func (v *sheetView) when() *html.Node {
	at := func(m moment) *html.Node {
		return El("div", El("small", m.Day), El("b", m.Time))
	}
	return El("div", Class("when"),
		El("div", Class("times"), at(v.Start), El("i", At{"aria-label", "to"}, "→"), at(v.End), El("small", Class("length"), v.Length)),
		v.night(0))
}

// night is the whole program as a bar to scale, cut where segments end; the
// segment with that number stands out, all if it is 0.
func (v *sheetView) night(on int) *html.Node {
	if len(v.Segments) == 0 {
		return nil
	}
	n := El("ol", Class("night"), At{"aria-hidden", "true"})
	if on > 0 {
		n.Attr[0].Val = "night one"
	}
	for _, s := range v.Segments {
		li := El("li", At{"style", fmt.Sprintf("flex-grow:%.1f", 100*s.Share)}, fmt.Sprint(s.Number))
		if s.Number == on {
			li.Attr = append(li.Attr, html.Attribute{Key: "class", Val: "on"})
		}
		n.AppendChild(li)
	}
	return n
}

func (v *sheetView) verdict() *html.Node {
	n := El("div", Class("verdict"), El("p", Class("word"), At{"id", "verdict"}, v.Verdict))
	if !v.Within {
		n.Attr[0].Val = "verdict over"
	}
	if v.Decides != "" {
		n.AppendChild(bar(v.Use))
		n.AppendChild(El("p", At{"id", "decides"}, v.Decides))
	}
	for _, p := range append(paragraphs(v.Over, Class("bad")), paragraphs(v.Mend)...) {
		n.AppendChild(p)
	}
	return n
}

// ready says whether the kiln is ready in time, nil if nobody asked.
func (v *sheetView) ready() *html.Node {
	r := v.Ready
	if r == nil {
		return nil
	}
	n := El("div", Class("verdict ready"), At{"id", "ready"}, El("p", Class("word"), r.Head))
	if !r.Met {
		n.Attr[0].Val = "verdict ready over"
	}
	if r.Tail != "" {
		n.AppendChild(El("p", term.Capital(r.Tail)))
	}
	for _, p := range paragraphs(r.Lines) {
		n.AppendChild(p)
	}
	return n
}

// change is what else would meet the hour, nil if nothing is to be said.
func (v *sheetView) change() *html.Node {
	if v.Ready == nil || len(v.Ready.Change) == 0 {
		return nil
	}
	return Named("change", "To be ready in time", Items("ul", v.Ready.Change))
}

// ways leads to the parts of the page that a person at the kiln looks for.
func (v *sheetView) ways() *html.Node {
	return El("nav", Class("go screen"), At{"aria-label", "Parts of this page"},
		El("a", At{"href", "#s1"}, "Key in, one at a time"),
		El("a", At{"href", "#hours"}, "Where should it be now?"),
		El("a", At{"href", "#page-leave"}, "Before leaving"),
		El("a", At{"href", "#wrong"}, "Something is wrong"))
}

// program is what is keyed in, in large numerals, with a box to tick for each
// segment.
func (v *sheetView) program() *html.Node {
	list := El("ol", Class("program"))
	for _, s := range v.Segments {
		row := El("li")
		if s.Off {
			row.AppendChild(El("span"))
		} else {
			row.AppendChild(El("label", v.tick(fmt.Sprintf("keyed%d", s.Number), At{"aria-label", fmt.Sprintf("segment %d is keyed in", s.Number)})))
		}
		row.AppendChild(El("div", Class("name"), El("span", El("b", fmt.Sprint(s.Number)), " "+s.What), El("small", "until "+s.Ends)))
		row.AppendChild(v.numerals(s))
		list.AppendChild(row)
	}
	heading := "Program, from " + v.rep.Schedule.From.Text(v.rep.Studio.Controller.Units)
	return Named("program", heading, list, paragraphs(v.ProgramNotes, Class("quiet")), El("p", Class("quiet"), At{"id", "end"}, v.EndText), v.keeper())
}

// numerals are the three numbers that a controller asks for.
func (v *sheetView) numerals(s sheetSegment) *html.Node {
	rate := El("div", El("b", s.Rate))
	if strings.Trim(s.Rate, "0123456789.") == "" {
		rate.AppendChild(El("small", v.RateUnit))
	}
	return El("div", Class("keys"), rate, El("div", El("b", s.Target), El("small", v.To)), El("div", El("b", s.Hold), El("small", "hold")))
}

// shares are the pieces as one bar for each judgment.
func (v *sheetView) shares() *html.Node {
	n := Named("pieces", "Share of each limit")
	for _, p := range v.Pieces {
		if slices.ContainsFunc(p.Bars, func(b sheetBar) bool { return b.Use > 1 }) { // room for the word, in every row
			n.Attr = append(n.Attr, Class("over-one").attribute())
			break
		}
	}
	for _, p := range v.Pieces {
		card := El("div", Class("piece"), El("h3", p.Name, El("span", Class("decides"), " "+p.Decides)))
		for _, b := range p.Bars {
			use := El("b", report.PercentText(b.Use))
			if b.Use > 1 {
				use = El("b", Class("bad"), "OVER "+report.PercentText(b.Use))
			}
			card.AppendChild(El("div", Class("use"), El("span", b.What), bar(b.Use), use))
		}
		if p.Over != "" {
			card.AppendChild(El("p", Class("bad"), "OVER: "+p.Over))
		}
		if p.Note != "" {
			card.AppendChild(El("p", Class("quiet"), "Note: "+p.Note))
		}
		card.AppendChild(El("p", Class("quiet screen"), p.Text))
		n.AppendChild(card)
	}
	n.AppendChild(El("p", Class("quiet"), v.Numbers))
	if v.Share != "" {
		n.AppendChild(El("p", Class("quiet screen"), v.Share))
	}
	return n
}

func (v *sheetView) curve() *html.Node {
	n := Named("curve", "Curve", Verbatim(v.Curve))
	n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "curve"})
	if v.CurveNote != "" {
		n.AppendChild(El("p", Class("quiet screen"), v.CurveNote))
	}
	if links := v.draws(); len(links) > 0 {
		n.AppendChild(El("nav", Class("go screen"), At{"aria-label", "Pieces in the curve"}, links))
	}
	return n
}

// wideNote is the note of the curve as it stands on paper, across both columns; nil
// without one.
func (v *sheetView) wideNote() *html.Node {
	if v.CurveNote == "" {
		return nil
	}
	return El("p", Class("quiet paper"), v.CurveNote)
}

// draws leads to the same page with one kind of piece more or less in its curve.
func (v *sheetView) draws() (links []*html.Node) {
	shown, most := v.Drawn.Choices(v.rep)
	var now []int
	for i, is := range shown {
		if is {
			now = append(now, i)
		}
	}
	if v.Draw == nil {
		return nil
	}
	for i, p := range v.rep.Pieces {
		without := slices.DeleteFunc(slices.Clone(now), func(k int) bool { return k == i })
		switch {
		case shown[i] && len(now) > 1:
			links = append(links, El("a", At{"href", v.Draw(without)}, "Leave out "+p.Piece.What))
		case !shown[i] && len(now) < most:
			links = append(links, El("a", At{"href", v.Draw(append(without, i))}, "Draw "+p.Piece.What+", too"))
		}
	}
	return links
}

// hours is the table of what the kiln should read.
func (v *sheetView) hours() *html.Node {
	u := v.To
	first := "clock"
	if v.rep.Load.Start == nil {
		first = "h:min"
	}
	table := func(rows []report.Reading, name string) *html.Node {
		if len(rows) == 0 {
			return nil
		}
		return El("table", Class("hours"), At{"aria-label", name},
			El("thead", El("tr", head(first), head(Class("n"), "reads"), head(Class("n"), "band"), head(Class("n"), "seg."))),
			El("tbody", Each(rows, func(r report.Reading) *html.Node {
				row := El("tr", El("th", At{"scope", "row"}, r.Time, El("small", " "+r.Day)),
					El("td", Class("n"), El("b", fmt.Sprint(r.Kiln))), El("td", Class("n band"), fmt.Sprintf("%d–%d", r.Low, r.High)), El("td", Class("n"), segmentMark(r)))
				switch {
				case r.Ends:
					row.Attr = append(row.Attr, html.Attribute{Key: "class", Val: "ends"})
				case r.Half && len(v.Hours) > mostOnPaper:
					row.Attr = append(row.Attr, html.Attribute{Key: "class", Val: "screen"})
				}
				return row
			})))
	}
	blocks := El("div", Class("blocks"), At{"tabindex", "0"}, At{"role", "group"}, At{"aria-label", "Readings"}) // it scrolls where letters are large
	const columns = 4
	for i := range columns {
		from, to := len(v.Hours)*i/columns, len(v.Hours)*(i+1)/columns
		if t := table(v.Hours[from:to], fmt.Sprintf("Readings, part %d of %d", i+1, columns)); t != nil {
			blocks.AppendChild(t)
		}
	}
	n := Named("hours", "Where should the kiln be now? "+u, El("p", Class("quiet"), v.BandText), blocks)
	n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "now"})
	return n
}

// mostOnPaper is the most rows of hours that fit on the sheet of paper; half
// hours of a longer program are left to the screen.
const mostOnPaper = 45

func segmentMark(r report.Reading) string {
	if r.Ends {
		return fmt.Sprintf("%d ends", r.Segment)
	}
	return fmt.Sprint(r.Segment)
}

// know is what the reader should know first, nil if nothing.
func (v *sheetView) know() *html.Node {
	var lines []string
	for _, s := range slices.Concat(v.First, v.Before) {
		lines = append(lines, term.Capital(s))
	}
	if len(lines) == 0 {
		return nil
	}
	n := Named("first", "What to know first", Items("ul", lines))
	n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "know"})
	return n
}

// cautions is the lines of one pause point, under their signal words.
func (v *sheetView) cautions(p checklist.Page) *html.Node {
	n := Named("page-"+string(p.Point), p.Title)
	n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "cautions"})
	if text := report.NotKeptText(p); text != "" {
		n.AppendChild(El("p", El("b", report.NotKeptWord), " "+text))
	}
	list := El("ul")
	for _, l := range p.Lines {
		id := "line-" + string(p.Point) + "-" + l.ID
		list.AppendChild(El("li", El("label", At{"for", id}, v.tick(id),
			El("span", El("b", Class("signal"), string(l.Signal)), " "+l.ID+" "+l.Text))))
	}
	n.AppendChild(list)
	return n
}

// why is what few read: reasons, assumptions, sources.
func (v *sheetView) why() *html.Node {
	n := El("details", Class("screen"), El("summary", "Why, what was assumed, sources"))
	for _, part := range []struct {
		heading, kind string
		texts         []string
	}{{"Why these numbers", "ol", v.Reasons}, {report.InsideTitle, "ul", v.Inside}, {"Assumed", "ul", v.Assumed}, {"Sources", "ul", v.Sources}} {
		if len(part.texts) > 0 {
			n.AppendChild(El("h3", part.heading))
			n.AppendChild(Items(part.kind, part.texts))
		}
	}
	return n
}

// foot stands under the page: what it leaves out, and who overrules it.
func (v *sheetView) foot() *html.Node {
	return El("p", Class("foot quiet"),
		"Local codes, the makers' instructions and licensed trades overrule these lines. Checklist of "+checklist.Version+". lehr computes; it does not watch your kiln. ",
		El("span", Class("paper"), v.Call+" "+v.made()+". Page 1 of 2."))
}

// wrong is the list for when something is wrong: whom to call, large, and the
// first words of each line. On paper it is the back of the sheet.
func (v *sheetView) wrong() *html.Node {
	n := Named("wrong", "Something is wrong", El("p", Class("paper"), strings.TrimSuffix(v.Name+", page 2 of 2. "+v.made(), ". ")), El("p", Class("call"), v.Call), wrongList(emergency.All(), v.Paper))
	n.Attr = append(n.Attr, html.Attribute{Key: "class", Val: "wrong"})
	return n
}

func wrongList(lines []emergency.Line, p Paper) *html.Node {
	return El("ul", Each(lines, func(l emergency.Line) *html.Node {
		return El("li", El("b", Class("signal"), l.Trigger), " "+l.Do, p.goOn(l))
	}))
}

// head is a cell that heads a column.
func head(parts ...any) *html.Node {
	return El("th", append([]any{At{"scope", "col"}}, parts...)...)
}
