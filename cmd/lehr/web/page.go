package web

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

// At is an attribute.
type At struct{ Name, Value string }

// El makes an element of attributes (At), texts (string), elements (*html.Node)
// and lists of elements. A nil element is left out.
func El(name string, parts ...any) *html.Node {
	n := &html.Node{Type: html.ElementNode, Data: name}
	for _, p := range parts {
		switch p := p.(type) {
		case At:
			n.Attr = append(n.Attr, html.Attribute{Key: p.Name, Val: p.Value})
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

// Class is the attribute of that name.
func Class(name string) At { return At{"class", name} }

func (a At) attribute() html.Attribute { return html.Attribute{Key: a.Name, Val: a.Value} }

// Verbatim puts in markup of our own.
func Verbatim(markup string) *html.Node { return &html.Node{Type: html.RawNode, Data: markup} }

// Each makes one element per item.
func Each[T any](items []T, f func(T) *html.Node) []*html.Node {
	var out []*html.Node
	for _, x := range items {
		out = append(out, f(x))
	}
	return out
}

// paragraphs makes one of each text.
func paragraphs(texts []string, parts ...any) []*html.Node {
	return Each(texts, func(s string) *html.Node { return El("p", append(parts[:len(parts):len(parts)], s)...) })
}

// Items makes a list of texts.
func Items(kind string, texts []string) *html.Node {
	return El(kind, Each(texts, func(s string) *html.Node { return El("li", s) }))
}

// Named makes a section with a heading that names it.
func Named(id, heading string, parts ...any) *html.Node {
	return El("section", append([]any{At{"aria-labelledby", id}, El("h2", At{"id", id}, heading)}, parts...)...)
}

// Document writes a page. A policy says what it may load: nothing.
func Document(title string, body ...any) ([]byte, error) {
	root := El("html", At{"lang", "en"},
		El("head",
			El("meta", At{"charset", "utf-8"}),
			El("meta", At{"name", "viewport"}, At{"content", "width=device-width, initial-scale=1"}),
			El("meta", At{"http-equiv", "Content-Security-Policy"}, At{"content", "default-src 'none'; style-src 'unsafe-inline'; form-action 'self'"}),
			El("title", title),
			El("style", pageStyle)),
		El("body", body...))
	var buf bytes.Buffer
	buf.WriteString("<!DOCTYPE html>\n")
	if err := html.Render(&buf, root); err != nil {
		return nil, err
	}
	buf.WriteByte('\n')
	return buf.Bytes(), nil
}
