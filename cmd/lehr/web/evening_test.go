package web

import (
	"context"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/glass"
	"lehr/glass/unit"
)

// evening is a form that says when pieces went in and when the kiln was opened.
func eveningForm(more ...string) url.Values {
	f := with("pieces", "sphere 2.5in; in 2 h before; core even\npendant 45mm x 12mm; in 21:00")
	for name, value := range map[string]string{"door-at": "21:50, 40 min before", "door-every": "45 min", "door-since": "21:15", "door-open": "30 s", "door-dip": "12 °C", "door-view": "20 %"} {
		f.Set(name, value)
	}
	for i := 0; i < len(more); i += 2 {
		f.Set(more[i], more[i+1])
	}
	return f
}

// TestSite_evening: the form reads the hours of an evening as a load file does.
func TestSite_evening(t *testing.T) {
	st := kiln.DefaultStudio()
	f := newForm(st, eveningForm())
	got := f.read().load
	if f.wrong() {
		t.Fatalf("%+v", f.faults()[0])
	}
	want, err := piece.ReadLoad(strings.NewReader(`glass = "borosilicate-33"
start = "22:15"
[door]
at = ["21:50", "40 min before"]
every = "45 min"
since = "21:15"
open = "30 s"
dip = "12 °C"
view = "20 %"
[[piece]]
what = "sphere 2.5in"
in = "2 h before"
core = "even"
[[piece]]
what = "pendant 45mm x 12mm"
in = "21:00"
`), "load.toml", "", glass.Find)
	if err != nil {
		t.Fatal(err)
	}
	mine, ok := got.Openings(st.Door)
	theirs, _ := want.Openings(st.Door)
	if !ok || len(mine) != len(theirs) || len(mine) < 5 {
		t.Fatalf("%d openings, the file has %d", len(mine), len(theirs))
	}
	for i, o := range theirs {
		if mine[i] != o {
			t.Errorf("opening %d: %+v, the file has %+v", i, mine[i], o)
		}
	}
	if p := got.Pieces; p[0].In != 2*time.Hour || p[1].In != 75*time.Minute {
		t.Errorf("in %s and %s before", p[0].In, p[1].In)
	}
	w := ask(t, newSite(st), "GET", "/sheet?"+eveningForm().Encode(), nil)
	n := wantAccessible(t, w.Body.Bytes())
	rep, err := plan.Plan(context.Background(), want, st, plan.Options{})
	if err != nil || w.Code != 200 {
		t.Fatalf("status %d, %v", w.Code, err)
	}
	var holds []string
	for _, b := range n.section("program").all("ol")[0].all("li")[0].all("b") {
		holds = append(holds, b.text())
	}
	if s := rep.Schedule.Segments[0]; len(holds) != 4 || !strings.HasPrefix(unit.FormatDuration(s.Hold), strings.TrimPrefix(holds[3], "0:")) {
		t.Errorf("soaks %v, the file %s", holds, unit.FormatDuration(s.Hold))
	}
}

// TestSite_eveningFaults: each hour and each opening that cannot be is said at its
// field, all at once, and nothing of it twice.
func TestSite_eveningFaults(t *testing.T) {
	s := newSite(kiln.DefaultStudio())
	for _, c := range []struct {
		change []string
		want   map[string]string
	}{
		{[]string{"pieces", "sphere 2in; in 22:45\nsphere 1in; in 20 h before\nsphere 1in; in 20:00\nsphere 1in; in teatime"}, map[string]string{"pieces": "line 1: in 22:45: is 30 min after the start|line 2: |line 4: "}},
		{[]string{"pieces", "sphere 2in; in 21:00", "into", "cold kiln", "door-at", "", "door-every", "", "door-since", ""}, map[string]string{"pieces": "line 1: in 21:00: pieces go in before the program only where the kiln is hot"}},
		{[]string{"start", "", "pieces", "sphere 2in; in 2 h before"}, map[string]string{"door-at": "21:50: is a clock time, and the load has no start"}},
		{[]string{"door-every", "1 min", "door-open", "1 h", "door-dip", "12", "door-view", "200 %"}, map[string]string{"door-every": "must be from 2 min", "door-open": "must be from 1 s", "door-dip": "has no unit", "door-view": "must be from 0 %"}},
		{[]string{"door-every", ""}, map[string]string{"door-since": `nothing says how often give "30 min" under "Was opened every", too`}},
		{[]string{"door-at", "22:45"}, map[string]string{"door-at": "22:45: is 30 min after the start"}},
		{[]string{"door-since", "teatime"}, map[string]string{"door-since": "teatime"}},
		{[]string{"pieces", "sphere 2in"}, map[string]string{"door-at": "no piece lies in the kiln before the program"}},
		{[]string{"door-dip", "560 °C"}, map[string]string{"door-dip": "below the room"}},
	} {
		w := ask(t, s, "GET", "/sheet?"+eveningForm(c.change...).Encode(), nil)
		n := wantAccessible(t, w.Body.Bytes())
		for field, wants := range c.want {
			e, ok := n.byID(field + "-error")
			for _, want := range strings.Split(wants, "|") {
				if !ok || w.Code != 422 || !strings.Contains(e.text(), want) {
					t.Errorf("%v: status %d, no %q at %s", c.change, w.Code, want, field)
				}
			}
		}
		faulty := 0
		for _, div := range n.all("div") {
			if div.attr("class") == "field faulty" {
				faulty++
			}
		}
		if faulty != len(c.want) {
			t.Errorf("%v: %d fields are faulty, want %d: %s", c.change, faulty, len(c.want), n.all("main")[0].text())
		}
	}
}

// TestForm_waitsAt: the empty field of the holding temperature says where pieces of
// the chosen glass then wait, in the units chosen: where their program begins.
func TestForm_waitsAt(t *testing.T) {
	for _, g := range glass.Builtin() {
		for units, sys := range map[string]unit.System{"c": unit.Metric, "f": unit.US} {
			v := with("glass", g.Name)
			v.Set("units", units)
			v.Set("pieces", "sphere 20mm")
			f := newForm(kiln.DefaultStudio(), v)
			place := f.Holding.Place
			a := f.read()
			rep, err := plan.Plan(context.Background(), a.load, a.studio, a.options)
			if err != nil {
				t.Fatalf("%s: %v", g.Name, err)
			}
			at, _, _ := strings.Cut(place, ", the soak of ")
			shown, err := unit.ParseTemp(at)
			if err != nil || !strings.HasSuffix(at, map[unit.System]string{unit.Metric: "°C", unit.US: "°F"}[sys]) || !strings.HasSuffix(place, g.Name) {
				t.Errorf("%s: shows %q", g.Name, place)
			}
			if d := float64(rep.Schedule.From.Sub(shown)); d > 1.2 || d < -1.2 {
				t.Errorf("%s: shows %q, the program begins at %s", g.Name, place, rep.Schedule.From.Text(sys))
			}
			v.Set("into", string(piece.WarmOnly))
			if place = newForm(kiln.DefaultStudio(), v).Holding.Place; !strings.HasPrefix(place, "at most "+plan.HoldingOf(g).Text(sys)+", for "+g.Name) {
				t.Errorf("warm only, %s: shows %q", g.Name, place)
			}
		}
	}
	st := kiln.DefaultStudio()
	st.Kiln.Holding = unit.Celsius(540)
	if got := newForm(st, with("units", "f")).Holding.Place; got != "1004 °F" {
		t.Errorf("the studio's holding shows as %q", got)
	}
}

// TestForm_valueFaults: what is wrong with a value begins with the value, and never
// with the key that a file has for it.
func TestForm_valueFaults(t *testing.T) {
	for name, c := range map[string][2]string{
		"door-at": {"25:00", "25:00: has an hour above 23"}, "door-every": {"100 h", "4 d 4 h: must be from 2 min to 16 h"}, "door-dip": {"5000 °C", "5000 K: must be above 0 and at most 900 K"},
		"room": {"500 K", "226.85 °C: must be from -20 °C to 45 °C"}, "probe": {"560 °C", "560 K: must be from 0 K to 60 K"}, "heating": {"30 s, 40 s", "point 1, 30 s: is not a temperature and a rate"},
	} {
		f := newForm(kiln.DefaultStudio(), eveningForm(name, c[0]))
		f.read()
		at := slices.IndexFunc(f.faults(), func(x *field) bool { return x.Name == name })
		if at < 0 || f.faults()[at].Faults[0].Error != c[1] {
			t.Errorf("%s=%q: faults %+v, want %q", name, c[0], f.faults(), c[1])
		}
	}
}
