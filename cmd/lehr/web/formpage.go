package web

import (
	"strconv"

	"golang.org/x/net/html"
)

// page lays the form out, with what is wrong on top and at each field.
func (f *form) page() ([]byte, error) {
	title := "Plan a kiln program"
	if f.wrong() {
		title = "Not planned: " + title
	}
	more := El("details", El("summary", "Kiln, controller and limits"),
		El("p", Class("note"), "Leave a field empty for what stands in it. A number needs its unit."),
		Each(f.kiln(), (*field).node))
	if f.kilnOpen() {
		more.Attr = append(more.Attr, html.Attribute{Key: "open"})
	}
	return Document(title,
		Class("form"),
		El("header", El("h1", "Plan a kiln program")),
		El("main", f.alert(),
			El("form", At{"action", "/sheet"}, At{"method", "get"},
				f.Glass.node(), f.Pieces.node(), f.Into.node(), f.Start.node(), f.Units.node(), more,
				El("p", El("button", At{"type", "submit"}, "Plan")))),
		El("footer", Class("foot"), El("p", "Nothing is stored. lehr computes; it does not watch your kiln. Local codes, the makers' instructions and licensed trades come before anything it says.")))
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
	return El("div", Class("danger"), At{"role", "alert"}, At{"id", "wrong"}, El("p", Class("word"), "Not planned"), paragraphs(whole),
		Each(f.faults(), func(x *field) *html.Node {
			return El("p", El("a", At{"href", "#" + x.Name}, x.Label), ": "+x.Error)
		}))
}

// node makes a field with its label, what is said about it, and its error.
func (x *field) node() *html.Node {
	control := x.control()
	control.Attr = append(control.Attr, html.Attribute{Key: "name", Val: x.Name}, html.Attribute{Key: "id", Val: x.Name})
	describe := func(id string) {
		control.Attr = append(control.Attr, html.Attribute{Key: "aria-describedby", Val: id})
	}
	n := El("div", Class("field"), El("label", At{"for", x.Name}, x.Label))
	if x.About != "" {
		n.AppendChild(El("p", Class("note"), At{"id", x.Name + "-about"}, x.About))
	}
	switch {
	case x.Error != "":
		n.Attr[0].Val = "field faulty"
		fault := El("p", Class("error"), At{"id", x.Name + "-error"}, El("strong", x.Error))
		if x.Hint != "" {
			fault.AppendChild(El("br"))
			fault.AppendChild(El("span", x.Hint))
		}
		n.AppendChild(fault)
		control.Attr = append(control.Attr, html.Attribute{Key: "aria-invalid", Val: "true"})
		describe(x.Name + "-error")
	case x.About != "":
		describe(x.Name + "-about")
	}
	n.AppendChild(control)
	return n
}

// control makes what is filled in: a choice, lines, or a text.
func (x *field) control() *html.Node {
	plain := []any{At{"autocapitalize", "none"}, At{"autocomplete", "off"}, At{"spellcheck", "false"}, At{"placeholder", x.Place}}
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
	case x.Lines:
		// The first line break of a text area is left out when it is read.
		return El("textarea", append(plain, At{"rows", "5"}, At{"maxlength", strconv.Itoa(mostText)}, "\n"+x.Value)...)
	}
	return El("input", append(plain, At{"type", "text"}, At{"maxlength", "200"}, At{"value", x.Value})...)
}
