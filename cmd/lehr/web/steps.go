package web

import (
	"fmt"

	"golang.org/x/net/html"
)

// steps shows one segment at a time, each a part of the page that covers the
// rest while the address names it (#s1, #s2, ...): plain links, no scripts. The
// last one repeats all of them for a look at the controller.
func (v *sheetView) steps() *html.Node {
	n := El("div", Class("steps screen"))
	last := len(v.Segments)
	for last > 0 && v.Segments[last-1].Off {
		last--
	}
	for i := range last {
		n.AppendChild(v.step(i, last))
	}
	n.AppendChild(v.overlook(last))
	return n
}

func (v *sheetView) step(i, last int) *html.Node {
	s := v.Segments[i]
	back := El("a", At{"href", "#program"}, "Program")
	if i > 0 {
		back = El("a", At{"href", fmt.Sprintf("#s%d", i)}, At{"aria-label", fmt.Sprintf("back to segment %d", i)}, fmt.Sprintf("← %d", i))
	}
	on := fmt.Sprintf("Keyed in: on to %d →", i+2)
	if i == last-1 {
		on = "Keyed in: look it over →"
	}
	row := func(name, value, unit string) *html.Node {
		return El("div", El("dt", name), El("dd", El("b", value), " "+unit))
	}
	rate := v.RateUnit
	if s.Rate == "any" {
		rate += ": the kiln is there already"
	}
	n := El("section", Class("step"), At{"id", fmt.Sprintf("s%d", i+1)}, At{"aria-labelledby", fmt.Sprintf("s%d-name", i+1)},
		El("p", Class("where quiet"), El("span", fmt.Sprintf("Segment %d of %d", i+1, len(v.Segments))), El("span", s.Begins+" → "+s.Ends)),
		v.night(i+1),
		El("h2", At{"id", fmt.Sprintf("s%d-name", i+1)}, fmt.Sprintf("%d %s", s.Number, s.What)),
		El("dl", row("rate", s.Rate, rate), row("to", s.Target, v.To), row("hold", s.Hold, "h:min")))
	if s.Why != "" {
		n.AppendChild(El("p", Class("quiet"), s.Why+"."))
	}
	n.AppendChild(El("nav", Class("move"), At{"aria-label", fmt.Sprintf("From segment %d", i+1)}, back, El("a", Class("on"), At{"href", fmt.Sprintf("#s%d", i+2)}, on)))
	return n
}

// overlook repeats what was keyed in, and says what the kiln should read soon.
func (v *sheetView) overlook(last int) *html.Node {
	n := El("section", Class("step"), At{"id", fmt.Sprintf("s%d", last+1)}, At{"aria-labelledby", "look"},
		El("p", Class("where quiet"), El("span", fmt.Sprintf("All %d keyed in", last)), El("span", v.Start.Time+" → "+v.End.Time)),
		v.night(0),
		El("h2", At{"id", "look"}, "Look it over on the controller"),
		El("ol", Class("all"), Each(v.Segments[:last], func(s sheetSegment) *html.Node {
			return El("li", El("b", fmt.Sprint(s.Number)), El("span", s.Rate+" "+v.RateUnit), El("span", s.Target+" "+v.To), El("span", s.Hold))
		})))
	for _, p := range paragraphs(v.ProgramNotes, Class("quiet")) {
		n.AppendChild(p)
	}
	for _, r := range v.Hours {
		if r.At > 15*60 && !r.Ends {
			n.AppendChild(El("p", fmt.Sprintf("Then start it. Look again at %s: it should read %d %s.", r.Time, r.Kiln, v.To)))
			break
		}
	}
	n.AppendChild(El("nav", Class("move"), At{"aria-label", "From the look"},
		El("a", At{"href", fmt.Sprintf("#s%d", last)}, At{"aria-label", fmt.Sprintf("back to segment %d", last)}, fmt.Sprintf("← %d", last)),
		El("a", Class("on"), At{"href", "#page-leave"}, "Before leaving →")))
	return n
}
