package bench

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"lehr/anneal/polariscope"
	"lehr/glass/unit"
)

// TestColorChart: every field has the color of its retardation, every name stands at
// its field, and the words are those of the page, whose size no width of a screen
// changes: none is drawn, and none is under 12 px.
func TestColorChart(t *testing.T) {
	page, err := colorChart(nil, unit.Metric)
	if err != nil {
		t.Fatal(err)
	}
	root, err := html.Parse(strings.NewReader(string(page)))
	if err != nil {
		t.Fatal(err)
	}
	row := 0
	named := map[string]int{}
	for n := range root.Descendants() {
		switch {
		case n.Type == html.ElementNode && n.Data == "text":
			t.Error("a word is drawn, and shrinks with the screen")
		case n.Type == html.ElementNode && n.Data == "rect":
			if got, want := attr(n, "fill"), polariscope.ColorOf(unit.Length(row*chartStep)*polariscope.Nanometer).Hex(); got != want {
				t.Errorf("field %d is %s, want %s", row, got, want)
			}
			row++
		case n.Type == html.TextNode && n.Parent.Data == "span":
			if named[n.Data] == 0 {
				named[n.Data] = row + 1 // its field follows
			}
		}
	}
	if row != chartEnds/chartStep+1 {
		t.Errorf("%d fields", row)
	}
	for _, n := range polariscope.Names() {
		if nm := float64(n.Retardation / polariscope.Nanometer); nm <= chartEnds && named[n.Name] == 0 {
			t.Errorf("no %s", n.Name)
		}
	}
	if at := named["1000 nm"]; at != 101 || named["sky blue"] != 67 {
		t.Errorf("1000 nm stands at field %d, sky blue at %d", at, named["sky blue"])
	}
	sizes := regexp.MustCompile(`html \{ font-size: ([0-9.]+)%(?s:.*)\.fan li \{[^}]*font-size: ([0-9.]+)rem`).FindStringSubmatch(string(page))
	if sizes == nil {
		t.Fatal("no size of the words")
	}
	root16, _ := strconv.ParseFloat(sizes[1], 64)
	rem, _ := strconv.ParseFloat(sizes[2], 64)
	if px := 16 * root16 / 100 * rem; px < 12 {
		t.Errorf("words of %.1f px", px)
	}
}

func attr(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}
