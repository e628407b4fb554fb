package main

import (
	"bytes"
	_ "embed"
	"fmt"

	"golang.org/x/net/html"
)

// The pages are trees of nodes that golang.org/x/net/html writes: what a person
// typed is a text or the value of an attribute, and can become nothing else.
// The template packages would make the linker keep every method of every type,
// 5 MB of them.

//go:embed page.css
var pageStyle string

// at is an attribute.
type at struct{ name, value string }

// el makes an element of attributes (at), texts (string), elements (*html.Node)
// and lists of elements. A nil element is left out.
func el(name string, parts ...any) *html.Node {
	n := &html.Node{Type: html.ElementNode, Data: name}
	for _, p := range parts {
		switch p := p.(type) {
		case at:
			n.Attr = append(n.Attr, html.Attribute{Key: p.name, Val: p.value})
		case string:
			n.AppendChild(&html.Node{Type: html.TextNode, Data: p})
		case *html.Node:
			if p != nil {
				n.AppendChild(p)
			}
		case []*html.Node:
			for _, c := range p {
				n.AppendChild(c)
			}
		default:
			panic(fmt.Sprintf("lehr: %T in an element", p))
		}
	}
	return n
}

// class is the attribute of that name.
func class(name string) at { return at{"class", name} }

// verbatim puts in markup of our own.
func verbatim(markup string) *html.Node { return &html.Node{Type: html.RawNode, Data: markup} }

// each makes one element per item.
func each[T any](items []T, f func(T) *html.Node) []*html.Node {
	var out []*html.Node
	for _, x := range items {
		out = append(out, f(x))
	}
	return out
}

// paragraphs makes one of each text.
func paragraphs(texts []string, parts ...any) []*html.Node {
	return each(texts, func(s string) *html.Node { return el("p", append(parts[:len(parts):len(parts)], s)...) })
}

// items makes a list of texts.
func items(kind string, texts []string) *html.Node {
	return el(kind, each(texts, func(s string) *html.Node { return el("li", s) }))
}

// named makes a section with a heading that names it.
func named(id, heading string, parts ...any) *html.Node {
	return el("section", append([]any{at{"aria-labelledby", id}, el("h2", at{"id", id}, heading)}, parts...)...)
}

// document writes a page. A policy says what it may load: nothing.
func document(title string, body ...any) ([]byte, error) {
	root := el("html", at{"lang", "en"},
		el("head",
			el("meta", at{"charset", "utf-8"}),
			el("meta", at{"name", "viewport"}, at{"content", "width=device-width, initial-scale=1"}),
			el("meta", at{"http-equiv", "Content-Security-Policy"}, at{"content", "default-src 'none'; style-src 'unsafe-inline'; form-action 'self'"}),
			el("title", title),
			el("style", pageStyle)),
		el("body", body...))
	var buf bytes.Buffer
	buf.WriteString("<!DOCTYPE html>\n")
	if err := html.Render(&buf, root); err != nil {
		return nil, err
	}
	buf.WriteByte('\n')
	return buf.Bytes(), nil
}
