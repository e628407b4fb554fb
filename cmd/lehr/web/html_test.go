package web

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// node is a helper around a parsed page.
type node struct{ *html.Node }

func parseHTML(t *testing.T, page []byte) node {
	t.Helper()
	n, err := html.Parse(strings.NewReader(string(page)))
	if err != nil {
		t.Fatal(err)
	}
	return node{n}
}

// all returns the elements of a name below n, in order.
func (n node) all(name string) (out []node) {
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && d.Data == name {
			out = append(out, node{d})
		}
	}
	return out
}

func (n node) attr(name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// text is what a reader sees of n.
func (n node) text() string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// section is the section that a heading names.
func (n node) section(heading string) node {
	for _, s := range n.all("section") {
		if s.attr("aria-labelledby") == heading {
			return s
		}
	}
	return node{&html.Node{}}
}

// wantSteps follows the links through one segment at a time, to the look at all
// of them, and back.
func wantSteps(t *testing.T, n node, keyed int) {
	t.Helper()
	at, seen := "#s1", 0
	for ; strings.HasPrefix(at, "#s"); seen++ {
		step, ok := n.byID(at[1:])
		if !ok || seen > keyed {
			t.Fatalf("no step %s", at)
		}
		links := step.all("a")
		if back := links[0].attr("href"); seen > 0 && back != fmt.Sprintf("#s%d", seen) || seen == 0 && back != "#program" {
			t.Errorf("%s leads back to %s", at, back)
		}
		at = links[1].attr("href")
	}
	if _, ok := n.byID(at[1:]); seen != keyed+1 || !ok {
		t.Errorf("%d steps for %d segments, and then %s", seen, keyed, at)
	}
}

func (n node) byID(id string) (node, bool) {
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && (node{d}).attr("id") == id {
			return node{d}, true
		}
	}
	return node{}, false
}

// wantAccessible checks what every page of ours must have: a language, a title,
// the landmarks, one h1 and headings in order, table headers with scope, a name
// for every control and every picture, no id twice, nothing loaded.
func wantAccessible(t *testing.T, page []byte) node {
	t.Helper()
	n := parseHTML(t, page)
	if n.all("html")[0].attr("lang") != "en" || n.all("title")[0].text() == "" {
		t.Error("no language or no title")
	}
	for name, want := range map[string]int{"main": 1, "header": 1, "footer": 1, "h1": 1, "script": 0, "link": 0, "img": 0, "iframe": 0} {
		if got := len(n.all(name)); got != want {
			t.Errorf("%d elements %s, want %d", got, name, want)
		}
	}
	if !strings.HasPrefix(string(page), "<!DOCTYPE html>") || !strings.Contains(string(page), `name="viewport"`) {
		t.Error("no doctype or no viewport")
	}
	for _, th := range n.all("th") {
		if s := th.attr("scope"); s != "col" && s != "row" {
			t.Errorf("header %q without scope", th.text())
		}
	}
	ids := map[string]bool{}
	labels := map[string]bool{}
	for _, l := range n.all("label") {
		labels[l.attr("for")] = true
		for _, input := range l.all("input") {
			if l.text() != "" {
				labels[input.attr("id")] = true
			}
		}
	}
	for d := range n.Descendants() {
		if d.Type != html.ElementNode {
			continue
		}
		e := node{d}
		if id := e.attr("id"); id != "" {
			if ids[id] {
				t.Errorf("id %q twice", id)
			}
			ids[id] = true
		}
	}
	for _, name := range []string{"input", "select", "textarea"} {
		for _, e := range n.all(name) {
			if e.attr("type") != "hidden" && e.attr("aria-label") == "" && !labels[e.attr("id")] {
				t.Errorf("%s %q without a label", name, e.attr("id"))
			}
		}
	}
	for d := range n.Descendants() {
		e := node{d}
		for _, a := range []string{"aria-labelledby", "aria-describedby"} {
			for id := range strings.FieldsSeq(e.attr(a)) {
				if !ids[id] {
					t.Errorf("%s=%q: no such id", a, id)
				}
			}
		}
		if e.Data == "section" && e.attr("aria-labelledby") == "" && e.attr("aria-label") == "" {
			t.Error("a section without a name")
		}
	}
	for _, fault := range unnamed(n) {
		t.Error(fault)
	}
	for _, svg := range n.all("svg") {
		if svg.attr("aria-hidden") == "true" { // a bar beside its number
			continue
		}
		if svg.attr("role") != "img" || len(svg.all("title")) != 1 || len(svg.all("desc")[0].text()) < 80 {
			t.Error("a picture without words")
		}
	}
	if m := regexp.MustCompile(`(?i)(src|href|url)\s*[=(]\s*["']?(https?:)?//|@import|javascript:|\bon[a-z]+=`).Find(page); m != nil {
		t.Errorf("page loads or runs something: %s", m)
	}
	return n
}

// unnamed lists headings that skip a level, and links and buttons without a name.
func unnamed(n node) (out []string) {
	level := 0
	for d := range n.Descendants() {
		if d.Type != html.ElementNode {
			continue
		}
		e := node{d}
		switch {
		case len(e.Data) == 2 && e.Data[0] == 'h' && e.Data[1] >= '1' && e.Data[1] <= '6':
			if now := int(e.Data[1] - '0'); now > level+1 {
				out = append(out, fmt.Sprintf("heading %q of level %d after level %d", e.text(), now, level))
			}
			level = int(e.Data[1] - '0')
		case (e.Data == "a" || e.Data == "button" || e.Data == "summary") && e.text() == "" && e.attr("aria-label") == "":
			out = append(out, e.Data+" "+e.attr("href")+" without a name")
		}
	}
	return out
}
