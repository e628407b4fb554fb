package web

import (
	"context"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/words"
	"lehr/glass"
	"lehr/glass/unit"
)

// TestSheet_past: the page of a logged night has what the kiln did, the shares and
// the curve, and nothing to key in; a page with a past before its program has both.
func TestSheet_past(t *testing.T) {
	p, err := piece.Parse("sphere 40mm dark")
	if err != nil {
		t.Fatal(err)
	}
	if p.Glass, err = glass.Find("borosilicate-33"); err != nil {
		t.Fatal(err)
	}
	var readings []kiln.Reading
	for i, c := range []float64{560, 560, 470, 300, 40} {
		readings = append(readings, kiln.Reading{At: unit.Celsius(c), Time: time.Duration(2*i) * time.Hour})
	}
	c, err := kiln.NewCurve(readings)
	if err != nil {
		t.Fatal(err)
	}
	start := unit.Clock(22 * 60)
	rep, err := verify.Replay(context.Background(), c, &piece.Load{Into: piece.HotKiln, Start: &start, Pieces: []piece.Piece{p}}, kiln.DefaultStudio(), kiln.Limits{}, true)
	if err != nil {
		t.Fatal(err)
	}
	past := &Past{Verdict: "SO FAR within limits", Heading: "What the kiln did", Lines: func(words.Fields) []string { return []string{"One <line>", "another"} },
		Curve: func() (*picture.Curve, error) { return report.NewNightCurve(rep, report.Nominal{Clock: &start}) }}
	page, err := Sheet(rep, Paper{Past: past})
	if err != nil {
		t.Fatal(err)
	}
	n := wantAccessible(t, page)
	verdict, _ := n.byID("verdict")
	if list := n.section("past").all("li"); verdict.text() != past.Verdict || len(list) != 2 || list[0].text() != "One <line>" {
		t.Errorf("verdict %q, %d lines", verdict.text(), len(list))
	}
	if n.section("program").Node.Data != "" || len(n.section("pieces").all("h3")) != 1 || !strings.Contains(n.section("curve").text(), "What the kiln did") {
		t.Error("a program on the page of a night, or no shares, or no curve")
	}
	if times := n.all("main")[0].text(); !strings.Contains(times, "start 22:00 → last reading, the next day 06:00") {
		t.Errorf("%.120s", times)
	}
	rep.Load.Start = nil
	if page, err = Sheet(rep, Paper{Past: past}); err != nil {
		t.Fatal(err)
	}
	if times := wantAccessible(t, page).all("main")[0].text(); !strings.Contains(times, "start 0:00 → last reading 8:00") {
		t.Errorf("without a start: %.120s", times)
	}
	plan := sampleReport(t, unit.Metric)
	page, err = Sheet(plan, Paper{Past: past})
	if err != nil {
		t.Fatal(err)
	}
	n = wantAccessible(t, page)
	if n.section("past").Node.Data == "" || n.section("program").Node.Data == "" || strings.Contains(n.section("pieces").text(), "segment") {
		t.Error("no past, no program, or a segment of another program at the pieces")
	}
}
