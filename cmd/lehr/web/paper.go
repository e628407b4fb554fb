package web

import (
	"maps"
	"net/url"
	"slices"
	"strings"
	"time"

	"golang.org/x/net/html"

	"lehr/anneal/verify"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/words"
)

// Paper is what a page says beside its report. The zero value is a page without
// date, version and links.
type Paper struct {
	Back     string       // where the form is, "" in a file
	Download string       // where the page is as a file, "" in one
	Planned  time.Time    // when it was made, zero if it is not to say
	Version  string       // of the program
	Drawn    report.Drawn // what the curve shows
	Past     *Past        // what happened before the program, or instead of one; nil if nothing
	// Draw is where a served page shows other kinds of piece in its curve; nil in a
	// file.
	Draw func(kinds []int) string
	// Fields are those of the form of a served page, by whose names it then speaks.
	Fields words.Fields
	// Keep is the form of a served page, with which ticks are kept in its
	// address; nil in a file.
	Keep url.Values
}

// Past is what a page says of what the kiln did: before the program of the page, or,
// for a report of what it did, instead of one.
type Past struct {
	Verdict string // in a word or two, "" for that of the report
	Heading string
	Lines   func(words.Fields) []string    // for who fills in a form with these fields
	Curve   func() (*picture.Curve, error) // of the past, too
}

// tick makes a box to tick. On a served page it can be kept: see ticked.
func (p Paper) tick(id string, more ...any) *html.Node {
	n := El("input", append([]any{At{"type", "checkbox"}, At{"id", id}}, more...)...)
	if p.Keep != nil {
		n.Attr = append(n.Attr, html.Attribute{Key: "form", Val: "ticks"}, html.Attribute{Key: "name", Val: "tick"}, html.Attribute{Key: "value", Val: id})
	}
	return n
}

// keeper is the form by which the ticks of a served page are put into its
// address, where they outlast a reload; nil in a file.
func (p Paper) keeper() *html.Node {
	if p.Keep == nil {
		return nil
	}
	n := El("form", Class("screen"), At{"id", "ticks"}, At{"action", "/sheet"}, At{"method", "get"})
	for _, name := range slices.Sorted(maps.Keys(p.Keep)) {
		for _, value := range p.Keep[name] {
			n.AppendChild(El("input", At{"type", "hidden"}, At{"name", name}, At{"value", value}))
		}
	}
	n.AppendChild(El("button", Class("second"), At{"type", "submit"}, "Keep the ticks of this page"))
	n.AppendChild(El("p", Class("quiet"), "Until then, loading the page again clears them."))
	return n
}

// about speaks of a report to the reader of the page.
func (p Paper) about(rep *verify.Report) words.Words { return words.About(rep).For(p.Fields) }

// made says when and by which version a page was made, and with which list.
func (p Paper) made() string {
	var parts []string
	if !p.Planned.IsZero() {
		word := "Planned "
		if p.Past != nil {
			word = "Made "
		}
		parts = append(parts, word+p.Planned.Format("Mon Jan 2, 2006, 15:04"))
	}
	if p.Version != "" {
		parts = append(parts, "lehr "+p.Version)
	}
	return strings.Join(parts, "; ")
}
