package main

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
	more := el("details", el("summary", "Kiln, controller and limits"),
		el("p", class("note"), "Leave a field empty for what stands in it. A number needs its unit."),
		each(f.kiln(), (*field).node))
	if f.kilnOpen() {
		more.Attr = append(more.Attr, html.Attribute{Key: "open"})
	}
	return document(title,
		class("form"),
		el("header", el("h1", "Plan a kiln program")),
		el("main", f.alert(),
			el("form", at{"action", "/sheet"}, at{"method", "get"},
				f.Glass.node(), f.Pieces.node(), f.Into.node(), f.Start.node(), f.Units.node(), more,
				el("p", el("button", at{"type", "submit"}, "Plan")))),
		el("footer", class("foot"), el("p", "Nothing is stored. lehr computes; it does not watch your kiln. Local codes, the makers' instructions and licensed trades come before anything it says.")))
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
	return el("div", class("danger"), at{"role", "alert"}, at{"id", "wrong"}, el("p", class("word"), "Not planned"), paragraphs(whole),
		each(f.faults(), func(x *field) *html.Node {
			return el("p", el("a", at{"href", "#" + x.Name}, x.Label), ": "+x.Error)
		}))
}

// node makes a field with its label, what is said about it, and its error.
func (x *field) node() *html.Node {
	control := x.control()
	control.Attr = append(control.Attr, html.Attribute{Key: "name", Val: x.Name}, html.Attribute{Key: "id", Val: x.Name})
	describe := func(id string) {
		control.Attr = append(control.Attr, html.Attribute{Key: "aria-describedby", Val: id})
	}
	n := el("div", class("field"), el("label", at{"for", x.Name}, x.Label))
	if x.About != "" {
		n.AppendChild(el("p", class("note"), at{"id", x.Name + "-about"}, x.About))
	}
	switch {
	case x.Error != "":
		n.Attr[0].Val = "field faulty"
		fault := el("p", class("error"), at{"id", x.Name + "-error"}, el("strong", x.Error))
		if x.Hint != "" {
			fault.AppendChild(el("br"))
			fault.AppendChild(el("span", x.Hint))
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
	plain := []any{at{"autocapitalize", "none"}, at{"autocomplete", "off"}, at{"spellcheck", "false"}, at{"placeholder", x.Place}}
	switch {
	case x.Choices != nil:
		n := el("select")
		choices := x.Choices
		if x.Value == "" && choices[0].Value != "" {
			choices = append([]choice{{"", "choose"}}, choices...)
		}
		for _, c := range choices {
			option := el("option", at{"value", c.Value}, c.Text)
			if c.Value == x.Value {
				option.Attr = append(option.Attr, html.Attribute{Key: "selected"})
			}
			n.AppendChild(option)
		}
		return n
	case x.Lines:
		// The first line break of a text area is left out when it is read.
		return el("textarea", append(plain, at{"rows", "5"}, at{"maxlength", strconv.Itoa(mostText)}, "\n"+x.Value)...)
	}
	return el("input", append(plain, at{"type", "text"}, at{"maxlength", "200"}, at{"value", x.Value})...)
}
