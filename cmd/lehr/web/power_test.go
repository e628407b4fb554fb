package web

import (
	"bytes"
	"context"
	"errors"
	"net/http"
	"strings"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/outage"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
	"lehr/safety/emergency"
)

// failedForm is a load whose kiln lost its power.
func failedForm(was, reads string) string {
	f := with("was", was)
	f.Set("reads", reads)
	return "/sheet?" + f.Encode()
}

// ofFlag is an error of a flag of the command line.
type ofFlag struct {
	flag string
	error
}

func (e ofFlag) Flag() (string, error) { return e.flag, e.error }

// TestSite_power: from what to do in a power failure a link leads to the two
// readings of the form, with the load that was filled in, and they reach the answer,
// whose page has what comes first before its program.
func TestSite_power(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	var was, now outage.Reading
	s.failed = func(ctx context.Context, l *piece.Load, st kiln.Studio, o plan.Options, a, b outage.Reading) (*verify.Report, *Past, error) {
		was, now = a, b
		if b.At == unit.Celsius(15) {
			return nil, nil, ofFlag{"--was, --now", term.WithHint(errors.New("found at 15 °C, the room or below"), "treat the pieces as finished work")}
		}
		if a.At == unit.Celsius(40) {
			return nil, nil, ofFlag{"--was", term.WithAdvice(errors.New("02:10 is outside the program"), "correct the hour, or {--start} if the load began at another")}
		}
		rep, err := plan.Plan(ctx, l, st, o)
		return rep, &Past{Heading: "After the power failure", Lines: func(words.Fields) []string { return []string{"go on"} }, Curve: func() (*picture.Curve, error) { return report.NewCurve(rep, report.Drawn{}) }}, err
	}
	for _, page := range []string{"/wrong?", "/sheet?"} {
		n := wantAccessible(t, ask(t, s, "GET", page+goodForm().Encode(), nil).Body.Bytes())
		link := ""
		for _, a := range n.all("a") {
			if strings.HasSuffix(a.attr("href"), "#"+powerPart) {
				link = a.attr("href")
			}
		}
		body := ask(t, s, "GET", strings.TrimSuffix(link, "#"+powerPart), nil).Body.Bytes()
		form := wantAccessible(t, body)
		part, _ := form.byID(powerPart)
		if part.Node == nil || !bytes.Contains(body, []byte(`id="power" open`)) || len(part.all("input")) != 2 || form.all("textarea")[0].text() != "6 x sphere 2.5in 14 x sphere 1.25in" {
			t.Errorf("%s: link %q leads to no two readings beside the load", page, link)
		}
		if strings.Contains(n.text(), "(--was,") {
			t.Errorf("%s: says what to type at a command line", page)
		}
	}
	w := ask(t, s, "GET", failedForm("02:10 500 °C", "4:30 am 310 °C"), nil)
	n := wantAccessible(t, w.Body.Bytes())
	if w.Code != 200 || was.At != unit.Celsius(500) || *was.Clock != 130 || now.At != unit.Celsius(310) || *now.Clock != 270 {
		t.Fatalf("status %d, was %+v, now %+v", w.Code, was, now)
	}
	if past := n.section("past").text(); !strings.HasPrefix(past, "After the power failure") || n.section("program").Node.Data == "" {
		t.Errorf("past %q, or no program", past)
	}
	for _, a := range n.all("a") {
		if strings.Contains(a.attr("href"), "draw=") {
			t.Errorf("a link to a curve of other pieces: %s", a.attr("href"))
		}
	}
	// What goes wrong stands at the field, with what was typed.
	for _, c := range []struct{ was, reads, field, fault string }{
		{"", "310 °C", "was", "is empty"},
		{"500 °C", "", "reads", "is empty"},
		{"500", "310 °C", "was", "has no unit"},
		{"25:10 500 °C", "310 °C", "was", "has an hour above 23"},
		{"2:10 500 °C", "2:10 310 °C", "reads", "same hour"},
		{"500 °C", "15 °C", "reads", "the room or below"},
		{"2:10 40 °C", "4:30 30 °C", "was", "02:10 is outside the program correct the hour, or \"Start\" if"},
	} {
		w := ask(t, s, "GET", failedForm(c.was, c.reads), nil)
		n := wantAccessible(t, w.Body.Bytes())
		if e, _ := n.byID(c.field + "-error"); w.Code != http.StatusUnprocessableEntity || e.Node == nil || !strings.Contains(e.text(), c.fault) {
			t.Errorf("was %q, reads %q: status %d, no %q at %s", c.was, c.reads, w.Code, c.fault, c.field)
		}
	}
	for field, value := range map[string]string{"ready-by": "8:00", "search": "shortest", "over": "from = \"560 °C\"", "into": "warm only"} {
		f := with(field, value)
		f.Set("was", "500 °C")
		f.Set("reads", "310 °C")
		n := parseHTML(t, ask(t, s, "GET", "/sheet?"+f.Encode(), nil).Body.Bytes())
		if e, _ := n.byID(field + "-error"); e.Node == nil || !strings.Contains(e.text(), "after a power failure") {
			t.Errorf("%s=%q beside two readings is not refused", field, value)
		}
	}
}

// TestPowerFailure: the line that leads to the form is the one that a person in a
// power failure finds.
func TestPowerFailure(t *testing.T) {
	if found, _ := emergency.Find("power failure"); len(found) != 1 || found[0].GoesOn() == 0 || !strings.Contains(found[0].Then[found[0].GoesOn()-1], "--was, --now") {
		t.Errorf("found %v", found)
	}
}
