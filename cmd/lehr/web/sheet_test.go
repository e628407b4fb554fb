package web

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/internal/roomtest"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
	"lehr/safety/emergency"
)

// TestSheet reads the page of the sample load back.
func TestSheet(t *testing.T) {
	for _, sys := range []unit.System{unit.Metric, unit.US} {
		rep := sampleReport(t, sys)
		page, err := Sheet(rep, Paper{})
		if err != nil {
			t.Fatal(err)
		}
		n := wantAccessible(t, page)
		word, _ := report.VerdictText(rep)
		verdict, _ := n.byID("verdict")
		if verdict.text() != word {
			t.Errorf("verdict %q, want %q", verdict.text(), word)
		}
		if end, _ := n.byID("end"); end.text() != report.EndText(rep) {
			t.Errorf("end %q, want %q", end.text(), report.EndText(rep))
		}
		program := n.section("program")
		rows := program.all("ol")[0].all("li")
		keyed := 0
		for _, seg := range rep.Schedule.Segments {
			if !seg.Off {
				keyed++
			}
		}
		if len(rows) != len(rep.Schedule.Segments) || len(program.all("input")) != keyed {
			t.Errorf("%d rows and %d boxes for %d segments, %d to key in", len(rows), len(program.all("input")), len(rep.Schedule.Segments), keyed)
		}
		for i, row := range rows {
			to, _ := rep.Schedule.Segments[i].To.In(rep.Studio.Controller.Units)
			var keys []string
			for _, b := range row.all("b")[1:] {
				keys = append(keys, b.text())
			}
			if len(keys) != 3 || keys[0] != report.RateText(rep, i) || keys[1] != term.Whole(to) {
				t.Errorf("segment %d: keyed in %q, want %q and %s", i+1, keys, report.RateText(rep, i), term.Whole(to))
			}
		}
		// A bar has its number beside it, and its length is that share.
		pieces := n.section("pieces").all("h3")
		if len(pieces) != 2 || !strings.Contains(pieces[0].text(), "6 × sphere 2.5in decides") {
			t.Errorf("%d pieces", len(pieces))
		}
		var uses []string
		for _, b := range n.section("pieces").all("b") {
			uses = append(uses, b.text())
		}
		var want []string
		for _, p := range rep.Pieces {
			want = append(want, report.PercentText(p.Tension.Use), report.PercentText(p.ResidualTension.Use))
		}
		if !slices.Equal(uses, want) {
			t.Errorf("shares %q, want %q", uses, want)
		}
		if got := len(n.section("hours").all("tr")) - 4; got != len(report.Readings(rep)) {
			t.Errorf("%d rows of hours, want %d", got, len(report.Readings(rep)))
		}
		wantSteps(t, n, keyed)
		text, say := n.text(), words.About(rep)
		pages, err := report.KilnPages(rep)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range pages {
			for _, line := range p.Lines {
				if !strings.Contains(text, strings.Join(strings.Fields(line.Text), " ")) {
					t.Errorf("no line %s: %s", line.ID, line.Text)
				}
			}
		}
		for _, list := range [][]string{say.Assumed(rep.Assumptions), report.ProgramNotes(rep), sheetSources(rep), say.List(report.OnPage(rep.Notes))} {
			for _, s := range list {
				if s = strings.Join(strings.Fields(s), " "); !strings.Contains(text, s) && !strings.Contains(text, term.Capital(s)) {
					t.Errorf("no %q", s)
				}
			}
		}
		if sys == unit.US && strings.Contains(text, "°C") || sys == unit.Metric && strings.Contains(text, "°F") {
			t.Error("a mixture of units")
		}
	}
}

// TestSheet_overLimit wants the verdict, the piece and the limit in words.
func TestSheet_overLimit(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	fast := rep.Schedule
	fast.Segments = append([]program.Segment(nil), fast.Segments...)
	fast.Segments[1].Rate *= 20
	over, err := verify.Program(context.Background(), fast, rep.Load, rep.Studio, kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if over.Within {
		t.Fatal("twenty times the rate is within limits")
	}
	page, err := Sheet(over, Paper{})
	if err != nil {
		t.Fatal(err)
	}
	n := wantAccessible(t, page)
	verdict, _ := n.byID("verdict")
	if verdict.text() != "OVER A LIMIT" || !strings.Contains(n.section("pieces").text(), "OVER:") {
		t.Errorf("verdict %q, pieces %q", verdict.text(), n.section("pieces").text())
	}
}

// TestSheet_hostileNames wants the words of a load to stay words.
func TestSheet_hostileNames(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	rep.Load.Name = `</title><script>alert(1)</script>"'&`
	rep.Pieces[0].Piece.What = `<svg onload=alert(1)>`
	rep.Notes = finding.List{finding.OfGlass(finding.StaysAboveMarks, `<img src=x onerror=alert(1)>`)}
	page, err := Sheet(rep, Paper{Back: `javascript:alert(1)`})
	if err != nil {
		t.Fatal(err)
	}
	n := parseHTML(t, page)
	if len(n.all("script"))+len(n.all("img")) > 0 || len(n.all("svg")) != 1+1+4 { // curve, verdict, two bars a piece
		t.Error("a name became an element")
	}
	if h := n.all("h1")[0].text(); h != strings.Join(strings.Fields(rep.Load.Name), " ") {
		t.Errorf("h1 %q", h)
	}
	for _, a := range n.all("a") {
		if strings.HasPrefix(a.attr("href"), "javascript:") {
			t.Errorf("link to %s", a.attr("href"))
		}
	}
}

// TestSheet_contrast computes the contrast of letters on their ground from the
// style sheet, light and dark: at least 4.5 to 1, WCAG 2.2, criterion 1.4.3.
func TestSheet_contrast(t *testing.T) {
	set := regexp.MustCompile(`--(\w+): (#[0-9a-f]{6})`)
	blocks := strings.SplitN(pageStyle, "@media (prefers-color-scheme: dark)", 2)
	dark, _, _ := strings.Cut(blocks[1], "}\n}")
	for name, block := range map[string]string{"light": strings.SplitN(blocks[0], "}", 2)[0], "dark": dark} {
		colors := map[string]string{}
		for _, m := range set.FindAllStringSubmatch(block, -1) {
			colors[m[1]] = m[2]
		}
		for _, pair := range [][2]string{{"ink", "paper"}, {"soft", "paper"}, {"over", "paper"}, {"tone", "paper"}, {"paper", "ink"}, {"ink", "wash"}, {"ink", "zone"}} {
			if c := contrast(t, colors[pair[0]], colors[pair[1]]); c < 4.5 {
				t.Errorf("%s: %s on %s has contrast %.2f", name, pair[0], pair[1], c)
			}
		}
		for _, line := range []string{"tone", "line", "over"} { // 1.4.11: graphical objects
			if c := contrast(t, colors[line], colors["paper"]); c < 3 {
				t.Errorf("%s: %s on paper has contrast %.2f", name, line, c)
			}
		}
	}
}

// contrast is the contrast ratio of two colors by WCAG 2.2.
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	luminance := func(s string) float64 {
		var rgb [3]int
		if _, err := fmt.Sscanf(s, "#%02x%02x%02x", &rgb[0], &rgb[1], &rgb[2]); err != nil {
			t.Fatalf("color %q: %v", s, err)
		}
		return 0.2126*linear(rgb[0]) + 0.7152*linear(rgb[1]) + 0.0722*linear(rgb[2])
	}
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// TestSheet_wrong: the page holds what to do when something is wrong, and the
// number of the studio file or none.
func TestSheet_wrong(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	for number, want := range map[string]string{"555 0199": "CALL 555 0199.", "": "not given"} {
		rep.Studio.Session = map[string]any{"emergency_number": number}
		if number == "" {
			rep.Studio.Session = nil
		}
		page, err := Sheet(rep, Paper{})
		if err != nil {
			t.Fatal(err)
		}
		n := wantAccessible(t, page)
		if _, ok := n.byID("wrong"); !ok || !strings.Contains(n.text(), want) {
			t.Errorf("%q: no %q", number, want)
		}
		for _, l := range emergency.All() {
			if !strings.Contains(n.text(), l.Trigger+" "+l.Do) {
				t.Errorf("no line %s", l.ID)
			}
		}
	}
}

// linear undoes the gamma of sRGB.
func linear(c int) float64 {
	x := float64(c) / 255
	if x <= 0.04045 {
		return x / 12.92
	}
	return math.Pow((x+0.055)/1.055, 2.4)
}

// sampleReport plans the sample load.
var sampleReport = roomtest.Report

// TestSheet_overNoShare: where what is over a limit is no share of one, no bar that
// keeps its limit stands beside it.
func TestSheet_overNoShare(t *testing.T) {
	rep := *sampleReport(t, unit.Metric)
	rep.Pieces = slices.Clone(rep.Pieces)
	rep.Pieces[1].Over.Add(finding.Of(finding.OverHottest).At(unit.Celsius(560)).Against(unit.Celsius(540)))
	rep.Pieces[1].Within, rep.Within = false, false
	page, err := Sheet(&rep, Paper{})
	if err != nil {
		t.Fatal(err)
	}
	n := wantAccessible(t, page)
	word, _ := n.byID("verdict")
	box := node{word.Parent}
	if word.text() != "OVER A LIMIT" || !strings.Contains(box.text(), "sphere 1.25in: as hot as 560 °C, bears 540 °C") || len(box.all("svg")) > 0 {
		t.Errorf("the box has %d bars and says %q", len(box.all("svg")), box.text())
	}
}

// TestSheet_sources: the texts that limits rest on are left to another page, and no
// text of a person, whatever word it begins with.
func TestSheet_sources(t *testing.T) {
	rep := *sampleReport(t, unit.Metric)
	rep.Sources = slices.Clone(rep.Sources)
	own := finding.Source{Cite: "limit: a page of my own", Status: "memory"}
	rep.Sources.Add(own)
	got := sheetSources(&rep)
	if !slices.Contains(got, "limit: a page of my own [memory]") {
		t.Errorf("%q is not among %q", own.Cite, got)
	}
	limits := 0
	for _, s := range rep.Sources {
		if s.Limit {
			limits++
		}
	}
	if limits == 0 || len(got) != len(rep.Sources)-limits+1 {
		t.Errorf("%d lines of %d sources, %d of limits", len(got), len(rep.Sources), limits)
	}
}
