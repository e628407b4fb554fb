package web

import (
	"context"
	"os"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/unit"
	"lehr/safety/emergency"
)

// TestSplit: a load that cannot share gives the reasons and one card for each
// firing, with its program and its pieces.
func TestSplit(t *testing.T) {
	file, err := os.Open("../../../testdata/loads/two-glasses.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	load, err := piece.ReadLoad(file, "two-glasses.toml", "", glass.Find)
	if err != nil {
		t.Fatal(err)
	}
	st := kiln.DefaultStudio()
	s, err := plan.Share(context.Background(), load, st, plan.Options{}, plan.ShareHow{})
	if err != nil {
		t.Fatal(err)
	}
	if s.Shareable || len(s.Firings) < 2 {
		t.Fatal("the load shares one program")
	}
	page, err := Split(load, st, s, Paper{Planned: time.Date(2026, 3, 4, 21, 5, 0, 0, time.UTC), Version: "v1"})
	if err != nil {
		t.Fatal(err)
	}
	n := wantAccessible(t, page)
	if verdict, _ := n.byID("verdict"); verdict.text() != "NO SHARED PROGRAM" {
		t.Errorf("verdict %q", verdict.text())
	}
	text := n.text()
	for _, want := range append(report.ShareReasons(load, st, s), report.SplitText(s), "Planned Wed Mar 4, 2026, 21:05; lehr v1") {
		if !strings.Contains(text, want) && !strings.Contains(text, term.Capital(want)) {
			t.Errorf("no %q", want)
		}
	}
	var cards []node
	for _, x := range n.all("section") {
		if x.attr("class") == "card" {
			cards = append(cards, x)
		}
	}
	if len(cards) != len(s.Firings) {
		t.Fatalf("%d cards for %d firings", len(cards), len(s.Firings))
	}
	for i, f := range s.Firings {
		if got := len(cards[i].all("ol")[1].all("li")); got != len(f.Report.Schedule.Segments) {
			t.Errorf("firing %d: %d segments, want %d", i+1, got, len(f.Report.Schedule.Segments))
		}
		for _, p := range f.Report.Pieces {
			if !strings.Contains(cards[i].text(), report.CountName(p.Piece)) {
				t.Errorf("firing %d lacks %s", i+1, p.Piece.What)
			}
		}
	}
}

// TestDanger: what to do is all there is, with the words of the list; nothing of
// a program.
func TestDanger(t *testing.T) {
	gas := emergency.Of("W1")
	page, err := Danger(gas, "555 0199", Paper{Back: "/?a=b"})
	if err != nil {
		t.Fatal(err)
	}
	n := wantAccessible(t, page)
	if h := n.all("h1")[0].text(); h != "DANGER" {
		t.Errorf("h1 %q", h)
	}
	for _, want := range append([]string{gas[0].Do, "CALL 555 0199."}, gas[0].Then...) {
		if !strings.Contains(n.all("header")[0].text(), want) {
			t.Errorf("no %q on top", want)
		}
	}
	if len(n.all("table"))+len(n.all("input")) > 0 || strings.Contains(n.text(), "°") {
		t.Error("there is more on the page than the danger")
	}
}

// TestSheet_ready: an hour that is not met stands first, with what would help.
func TestSheet_ready(t *testing.T) {
	load := sampleReport(t, unit.Metric).Load
	for by, want := range map[unit.Clock]string{8 * 60: "NOT READY by 08:00", 20 * 60: "Ready by 20:00"} {
		rep, err := plan.ReadyBy(context.Background(), load, kiln.DefaultStudio(), plan.Options{}, plan.ReadyHow{By: by, Planner: plan.Plan})
		if err != nil {
			t.Fatal(err)
		}
		page, err := Sheet(rep, Paper{})
		if err != nil {
			t.Fatal(err)
		}
		n := wantAccessible(t, page)
		ready, _ := n.byID("ready")
		if ready.Node == nil || !strings.HasPrefix(ready.text(), want) {
			t.Fatalf("no %q", want)
		}
		words := report.ReadyBy(rep, nil)
		for _, line := range words.Lines {
			if !strings.Contains(n.text(), line) {
				t.Errorf("%s: no %q", want, line)
			}
		}
		if first := n.section("first"); n.all("main")[0].text()[:len(want)] != want || first.Node == nil {
			t.Errorf("%s does not stand first: %.60s", want, n.all("main")[0].text())
		}
		// The picture that stands alone says it, too.
		c, err := report.NewCurve(rep, report.Drawn{})
		if err != nil || !strings.HasPrefix(c.Heading[1], want) {
			t.Errorf("the picture begins with %q", c.Heading)
		}
	}
}

// TestSplit_one: for who has everything hot already the page has the best one program,
// what it does to whom, and beside what may crack no reading at which to open.
func TestSplit_one(t *testing.T) {
	load, err := piece.ReadLoad(strings.NewReader("glass = \"borosilicate-33\"\ninto = \"hot kiln\"\n[[piece]]\nwhat = \"sphere 1in\"\n[[piece]]\nwhat = \"sphere 4in\"\n"), "load.toml", "", glass.Find)
	if err != nil {
		t.Fatal(err)
	}
	st := kiln.DefaultStudio()
	st.Controller.Slowest, st.Controller.Segments = unit.KelvinPerHour(200), 3
	_, s, err := plan.Instead(t.Context(), load, st, plan.Options{}, nil, plan.ShareHow{})
	if err != nil || s == nil || s.One == nil || len(s.One.Cracked) != 1 {
		t.Fatalf("%v: %+v", err, s)
	}
	page, err := Split(load, st, s, Paper{})
	if err != nil {
		t.Fatal(err)
	}
	text := ""
	for _, n := range wantAccessible(t, page).all("section") {
		if n.attr("aria-label") == report.SingleTitle {
			text = n.text()
		}
	}
	for _, want := range append(report.Harms(s.One), "may still crack", "no earlier than when the room is reached", "until ") {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in %q", want, text)
		}
	}
	if strings.Contains(text, "open when it reads") {
		t.Errorf("it says when to open beside what may crack: %s", text)
	}
}
