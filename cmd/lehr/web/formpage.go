package web

import (
	"strconv"
	"strings"

	"golang.org/x/net/html"
)

// page lays the form out, with what is wrong on top and at each field.
func (f *form) page() ([]byte, error) {
	title := "Plan a kiln program"
	if f.wrong() {
		title = "Not planned: " + title
	}
	return Document(title,
		Class("form"),
		El("header", El("h1", "Plan a kiln program"), El("nav", Class("links"), At{"aria-label", "More"},
			El("a", At{"href", "/safety?" + f.query()}, "Safety of this session"), El("a", At{"href", "/wrong?" + f.query()}, "Something is wrong"))),
		El("main", f.alert(),
			El("form", At{"action", "/sheet"}, At{"method", "get"},
				Each([]*field{f.Glass, f.Pieces, f.Into, f.Start, f.Ready, f.Search, f.Name, f.Units}, (*field).node),
				f.power(),
				folded("Opened before the program", "What an opening of the hot kiln does to the pieces in it is computed where something is filled in here.", f.Door...),
				folded("Kiln, controller and limits", "An empty field stands for what is shown in it. A number needs its unit.", f.kiln()...),
				folded("Another program to compare with", "", f.Over),
				folded("The session", "", f.Facts, f.Now),
				El("p", El("button", At{"type", "submit"}, "Plan")),
				El("p", El("button", Class("second"), At{"type", "submit"}, At{"formaction", "/"}, "Show what stands in empty fields for this glass and these units")))),
		El("footer", El("p", Class("foot quiet"), "Nothing is written to a file; the last answers are kept in memory for a night, so that a page loads again without being planned again. lehr computes; it does not watch your kiln. Local codes, the makers' instructions and licensed trades come before anything it says.")))
}

// folded is a part of the form that is folded away until it is needed.
func folded(summary, about string, fields ...*field) *html.Node {
	n := El("details", El("summary", summary))
	if about != "" {
		n.AppendChild(El("p", Class("quiet"), about))
	}
	for _, x := range fields {
		n.AppendChild(x.node())
	}
	if open(fields...) {
		n.Attr = append(n.Attr, html.Attribute{Key: "open"})
	}
	return n
}

// alert says what is wrong, nil if nothing is.
func (f *form) alert() *html.Node {
	if !f.wrong() {
		return nil
	}
	var whole []string
	for _, s := range append(append([]string{f.Wrong}, f.Why...), f.WrongHint) {
		if s != "" {
			whole = append(whole, s)
		}
	}
	n := El("div", Class("alert"), At{"role", "alert"}, At{"id", "wrong"}, El("p", Class("word"), "Not planned"), paragraphs(whole))
	for _, x := range f.faults() {
		for _, e := range x.Faults {
			n.AppendChild(El("p", El("a", At{"href", "#" + x.Name}, x.Label), ": "+e.text()))
		}
	}
	return n
}

// text is a fault with the line that it is about.
func (e fault) text() string {
	if e.Where == "" {
		return e.Error
	}
	return e.Where + ": " + e.Error
}

// node makes a field with its label, what is said about it, and its errors.
func (x *field) node() *html.Node {
	control := x.control()
	control.Attr = append(control.Attr, html.Attribute{Key: "name", Val: x.Name}, html.Attribute{Key: "id", Val: x.Name})
	var described []string
	n := El("div", Class("field"), El("label", At{"for", x.Name}, x.Label))
	if x.About != "" {
		n.AppendChild(El("p", Class("quiet"), At{"id", x.Name + "-about"}, x.About))
		described = append(described, x.Name+"-about")
	}
	if len(x.Faults) > 0 {
		n.Attr[0].Val = "field faulty"
		list := El("div", Class("error"), At{"id", x.Name + "-error"})
		for _, e := range x.Faults {
			line := El("p", El("strong", e.text()))
			if e.Hint != "" {
				line.AppendChild(El("br"))
				line.AppendChild(El("span", e.Hint))
			}
			list.AppendChild(line)
		}
		n.AppendChild(list)
		control.Attr = append(control.Attr, html.Attribute{Key: "aria-invalid", Val: "true"})
		described = append([]string{x.Name + "-error"}, described...)
	}
	if len(described) > 0 {
		control.Attr = append(control.Attr, html.Attribute{Key: "aria-describedby", Val: strings.Join(described, " ")})
	}
	n.AppendChild(control)
	return n
}

// control makes what is filled in: a choice, lines, or a text. A browser may
// keep what was typed, so that going back loses nothing.
func (x *field) control() *html.Node {
	plain := []any{At{"autocapitalize", "none"}, At{"spellcheck", "false"}, At{"placeholder", x.Place}}
	switch {
	case x.Choices != nil:
		n := El("select")
		choices := x.Choices
		if x.Value == "" && choices[0].Value != "" {
			choices = append([]choice{{"", "choose"}}, choices...)
		}
		for _, c := range choices {
			option := El("option", At{"value", c.Value}, c.Text)
			if c.Value == x.Value {
				option.Attr = append(option.Attr, html.Attribute{Key: "selected"})
			}
			n.AppendChild(option)
		}
		return n
	case x.Lines > 0:
		return El("textarea", append(plain, At{"rows", strconv.Itoa(x.Lines)}, At{"maxlength", strconv.Itoa(mostText)}, x.Value)...)
	}
	return El("input", append(plain, At{"type", "text"}, At{"maxlength", "400"}, At{"value", x.Value})...)
}
