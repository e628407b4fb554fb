package web

import (
	"fmt"

	"golang.org/x/net/html"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/session"
	"lehr/cmd/lehr/term"
	"lehr/safety/checklist"
	"lehr/safety/emergency"
)

// Split makes the page of a load that cannot share one program: why not, and
// one card for each firing of the split.
func Split(load *piece.Load, st kiln.Studio, s *plan.Sharing, p Paper) ([]byte, error) {
	name := load.Name
	if name == "" {
		name = loadTitle(load)
	}
	var cards []*html.Node
	for i, f := range s.Firings {
		own := p
		own.Keep = nil // the boxes of several firings have no one address
		cards = append(cards, firingCard(i, len(s.Firings), newProgramView(f.Report, own)))
	}
	if s.One != nil {
		cards = append(cards, singleCard(load, s.One, p))
	}
	var start *html.Node
	if load.Start != nil && len(s.Firings) > 1 {
		start = El("p", "Each firing is shown as if it began at "+load.Start.Text(st.Units)+".")
	}
	var reasons []string
	for _, r := range report.ShareReasons(load, st, s) {
		reasons = append(reasons, term.Capital(r)+".")
	}
	links := (&sheetView{Paper: p}).links()
	return Document("No shared program: "+name,
		Class("split"),
		El("header", links, El("h1", name), El("p", Class("quiet"), report.GlassNames(load)+"; "+countText(load)+". "+p.made())),
		El("main",
			El("section", Class("top"), At{"aria-label", "Verdict"},
				El("div", Class("verdict over"), El("p", Class("word"), At{"id", "verdict"}, "NO SHARED PROGRAM"),
					El("p", "This load cannot go through one program."), paragraphs(reasons),
					El("p", At{"id", "split"}, report.SplitText(s)), start)),
			cards,
			El("p", Class("quiet"), "Plan the firing you begin with by itself: its own page says what to look at before leaving the kiln alone.")),
		El("footer", El("p", Class("foot quiet"), "Local codes, the makers' instructions and licensed trades overrule these lines. Checklist of "+checklist.Version+". lehr computes; it does not watch your kiln."),
			El("p", Class("call"), session.Call(session.EmergencyNumber(load, st)))))
}

// firingCard is one firing of a split.
func firingCard(i, of int, v *sheetView) *html.Node {
	return El("section", Class("card"), At{"aria-label", fmt.Sprintf("Firing %d of %d", i+1, of)},
		El("h2", fmt.Sprintf("Firing %d of %d: %s", i+1, of, loadTitle(v.rep.Load))),
		El("div", Class("verdict-times"), plain(v.when()), plain(v.verdict())),
		plain(v.program()), plain(v.shares()))
}

// singleCard is the best one program for all of a load that cannot share one, for who has
// everything hot already, and what it does to whom.
func singleCard(load *piece.Load, one *plan.Single, p Paper) *html.Node {
	p.Keep = nil
	program := func(rep *verify.Report, cracks bool) *html.Node {
		v := newProgramView(rep, p)
		if cracks {
			v.EndText = "With what may crack in it the kiln is opened no earlier than when the room is reached."
		}
		return plain(v.program())
	}
	var own *html.Node
	if one.Firing < 0 {
		own = program(one.Report, len(one.Cracked) > 0)
	}
	var harms []string
	for _, s := range report.Harms(one) {
		harms = append(harms, s+".")
	}
	var again []*html.Node
	for _, f := range one.Again {
		again = append(again, El("p", report.AgainText(f)), program(f.Report, false))
	}
	if again != nil {
		again = append(again, El("p", report.UntilAgain))
	}
	return El("section", Class("card"), At{"aria-label", report.SingleTitle},
		El("h2", report.SingleTitle), El("p", report.SingleText(load, one)), paragraphs(report.SingleCautions(one)),
		Items("ul", harms), own, again)
}

// plain takes the ids from a part that stands on a page more than once.
func plain(n *html.Node) *html.Node {
	for d := range n.Descendants() {
		strip(d)
	}
	strip(n)
	return n
}

func strip(n *html.Node) {
	var kept []html.Attribute
	for _, a := range n.Attr {
		if a.Key != "id" && a.Key != "aria-labelledby" {
			kept = append(kept, a)
		}
	}
	if n.Data == "section" {
		n.Data = "div"
	}
	if n.Data == "h2" {
		n.Data = "h3"
	}
	n.Attr = kept
}

// Danger makes the page of dangers that are reported present: what to do, and
// nothing else. There is no program on it.
func Danger(lines []emergency.Line, number string, p Paper) ([]byte, error) {
	var now []*html.Node
	for _, l := range lines {
		now = append(now, El("p", Class("what"), l.Trigger), El("p", Class("what"), l.Do), El("ol", Each(steps(&l, p.Fields != nil), func(s string) *html.Node { return El("li", s) })))
	}
	var back *html.Node
	if p.Back != "" {
		back = El("p", El("a", At{"href", p.Back}, "It is over: change what was reported"))
	}
	var others []emergency.Line
	for _, l := range emergency.All() {
		reported := false
		for _, r := range lines {
			reported = reported || r.ID == l.ID
		}
		if !reported {
			others = append(others, l)
		}
	}
	return Document("DANGER",
		Class("sheet"),
		El("header", Class("danger"), At{"role", "alert"}, El("h1", "DANGER"), El("p", Class("call"), session.Call(number)), now),
		El("main",
			El("p", At{"id", "verdict"}, "Leave the kiln. No program is shown while a danger is reported."), back,
			Named("else", "If it is something else", wrongList(others, Paper{}))),
		El("footer", El("p", Class("foot quiet"), "Emergency services, local codes and licensed trades overrule this list of "+checklist.Version+". It is not medical advice. "+p.made())))
}

// wrongPage makes the page of what to do when something is wrong, all of it.
func wrongPage(number string, p Paper) ([]byte, error) {
	return Document("Something is wrong",
		Class("sheet"),
		El("header", (&sheetView{Paper: p}).links(), El("h1", "Something is wrong")),
		El("main", El("p", Class("call"), session.Call(number)),
			Each(emergency.All(), func(l emergency.Line) *html.Node {
				return El("section", Class("card"), At{"aria-label", l.Trigger}, El("h2", l.Trigger), El("p", El("b", l.Do)), Items("ul", steps(&l, p.Fields != nil)), p.goOn(l))
			})),
		El("footer", El("p", Class("foot quiet"), "Emergency services, local codes and licensed trades overrule this list of "+checklist.Version+". It is not medical advice.")))
}

// safetyPage makes the page of the whole list of a session.
func safetyPage(load *piece.Load, st kiln.Studio, p Paper) ([]byte, error) {
	facts, err := session.Facts(load, st)
	if err != nil {
		return nil, err
	}
	v := &sheetView{Paper: p}
	return Document("Safety of this session",
		Class("sheet"),
		El("header", v.links(), El("h1", "Safety of this session")),
		El("main", Each(facts.Pages(), v.cautions)),
		El("footer", El("p", Class("foot quiet"), "A fact that is not given counts as the hazard being present. Local codes, the makers' instructions and licensed trades overrule these lines. Checklist of "+checklist.Version+"."),
			El("p", Class("call"), session.Call(session.EmergencyNumber(load, st)))))
}
