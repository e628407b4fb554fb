package piece

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"lehr/glass"
	"lehr/glass/casetest"
	"lehr/glass/unit"
)

func readLoad(text string) (*Load, error) {
	return ReadLoad(strings.NewReader(text), "load.toml", "", glass.Find)
}

func TestReadLoad(t *testing.T) {
	l, err := readLoad(`
name  = "six and fourteen"
glass = "borosilicate-33"
start = "10:15 pm"
into  = "cold kiln"
[session]
alone = true
[[piece]]
what    = "sphere 2.5in"
count   = 6
resting = "raised"
note    = "encased stone"
core    = "1200 °F"
[[piece]]
what         = "14 x sphere 1.25in"
longest_soak = "3h"
hottest_soak = "570 °C"
glass        = "float"
[[piece]]
shape    = "tube"
diameter = "38 mm"
length   = "20 cm"
wall     = "4 mm"
open     = true
[[piece]]
shape  = "slab"
length = "200 mm"
width  = "150 mm"
height = "20 mm"
[[piece]]
shape     = "disc"
diameter  = "3 in"
thickness = "1 in"
resting   = "bedded"
`)
	if err != nil {
		t.Fatal(err)
	}
	if l.Name != "six and fourteen" || l.Into != ColdKiln || l.Start == nil || l.Start.String() != "22:15" || l.Count() != 23 || l.Session["alone"] != true {
		t.Errorf("load %+v", l)
	}
	for i, want := range []struct {
		what, glass string
		count       int
		size        unit.Length
		resting     Resting
	}{
		{"sphere 2.5in raised", "borosilicate-33", 6, 2.5 * unit.Inch, Raised},
		{"sphere 1.25in", "float", 14, 1.25 * unit.Inch, OnShelf},
		{"tube 38 mm x 200 mm wall 4 mm open", "borosilicate-33", 1, 38 * unit.Millimeter, OnShelf},
		{"slab 200 mm x 150 mm x 20 mm", "borosilicate-33", 1, 20 * unit.Millimeter, OnShelf},
		{"disc 76.2 mm x 25.4 mm bedded", "borosilicate-33", 1, 25.4 * unit.Millimeter, Bedded},
	} {
		p := l.Pieces[i]
		if p.What != want.what || p.Glass.Name != want.glass || p.Count != want.count || !near(p.Size, want.size) || p.Resting != want.resting {
			t.Errorf("piece %d: %+v, want %+v", i+1, p, want)
		}
		if q, err := Parse(p.What); err != nil || q.Resting != p.Resting || q.Size != p.Size {
			t.Errorf("piece %d: its name %q reads back as %+v, %v", i+1, p.What, q, err)
		}
	}
	if p := l.Pieces[0]; p.Note != "encased stone" || p.Core != unit.Fahrenheit(1200) {
		t.Errorf("note %q, core %s", p.Note, p.Core)
	}
	if p := l.Pieces[1]; p.LongestSoak != 3*time.Hour || p.HottestSoak != unit.Celsius(570) {
		t.Errorf("longest soak %s, hottest %s", p.LongestSoak, p.HottestSoak)
	}
	if p := l.Pieces[2]; !p.OpenEnded || !near(p.Wall, 4*unit.Millimeter) || !near(p.Across, 200*unit.Millimeter) {
		t.Errorf("tube %+v", p)
	}
}

// TestReadLoad_defaults: a load says as little as what is in it.
func TestReadLoad_defaults(t *testing.T) {
	l, err := ReadLoad(strings.NewReader("[[piece]]\nwhat = \"sphere 2in\"\n"), "load.toml", "soda-104", glass.Find)
	if err != nil {
		t.Fatal(err)
	}
	p := l.Pieces[0]
	if l.Into != HotKiln || l.Start != nil || p.Count != 1 || p.Resting != OnShelf || p.Glass.Name != "soda-104" || p.LongestSoak != 0 || !p.HottestSoak.IsZero() || !p.Core.IsZero() {
		t.Errorf("%+v", l)
	}
}

// refusal is a file that must be refused, at a line, in words, with a hint.
type refusal struct {
	text string
	line int
	want string
	hint string
}

func (c refusal) check(t *testing.T, name string, err error) {
	t.Helper()
	casetest.Refused(t, name, err, c.text, c.line, c.want, c.hint)
}

func TestReadLoad_refusals(t *testing.T) {
	const head = "glass = \"borosilicate-33\"\n[[piece]]\n"
	const one = head + "what = \"sphere 2in\"\n"
	for _, c := range []refusal{
		{"", 0, "the load has no pieces", "[[piece]]"},
		{"glass = \"borosilicate-33\"\n", 0, "the load has no pieces", "[[piece]]"},
		{"[[piece]]\nwhat = \"sphere 2in\"\n", 2, "no glass is named", `glass = "borosilicate-33"`},
		{"glass = \"borosilicat\"\n[[piece]]\nwhat = \"sphere 2in\"\n", 1, `no glass "borosilicat"`, "did you mean borosilicate-33?"},
		{one + "glass = \"granite\"\n", 4, `no glass "granite"`, "lehr glass"},
		{"into = \"oven\"\n" + one, 1, `into: "oven": is none of the three ways into a kiln`, `"warm only"`},
		{"start = \"25:00\"\n" + one, 1, "start 25:00: has an hour above 23", `write "22:15"`},
		{"strat = \"22:00\"\n" + one, 1, "strat: is not a key of this file", "did you mean start?"},
		{head + "waht = \"sphere 2in\"\n", 3, "waht: is not a key", "did you mean what?"},
		{head + "count = 2\n", 2, "the piece does not say what it is", `what = "sphere 2.5in"`},
		{head + "what = \"sphere 64\"\n", 3, `what: piece "sphere 64": size 64: has no unit`, `write "64 mm" or "64 in"`},
		{head + "what = \"sphere 5m\"\n", 3, "must be from 1 mm to 300 mm", ""},
		{head + "what = 3\n", 3, "what", ""},
		{one + "count = 0\n", 4, "count 0: must be from 1 to 10000", ""},
		{one + "count = 1000000\n", 4, "must be from 1 to 10000", ""},
		{head + "what = \"6 x sphere 2in\"\ncount = 6\n", 4, "count 6: what already begins with the count 6", ""},
		{one + "resting = \"floor\"\n", 4, `resting: "floor": is no way to rest a piece`, `"bedded"`},
		{one + "longest_soak = 3\n", 4, "longest_soak 3: has no unit", `"3 h"`},
		{one + "longest_soak = \"10 s\"\n", 4, "longest_soak 10 s: must be at least 1 min", ""},
		{one + "hottest_soak = 570\n", 4, "hottest_soak 570: has no unit", `"570 °C"`},
		{one + "hottest_soak = \"850 °F\"\n", 4, "hottest_soak 850 °F: below 961 °F, where borosilicate-33 begins to relax within hours", ""},
		{one + "core = \"9000 °F\"\n", 4, "core 9000 °F: must be from 68 °F to 2732 °F", ""},
		{one + "hottest_soak = \"400 °C\"\n", 4, "hottest_soak 400 °C: below 516 °C, where borosilicate-33 begins to relax within hours", ""},
		{one + "hottest_soak = nan\n", 4, "hottest_soak: must be a finite number", ""},
		{one + "hottest_soak = -inf\n", 4, "must be a finite number", ""},
		{one + "core = \"4000 °C\"\n", 4, "core 4000 °C: must be from 20 °C to 1500 °C", ""},
		{one + "core = \"-40 °F\"\n", 4, "must be from 20 °C to 1500 °C", ""},
		{one + "shape = \"rod\"\n", 4, "both what and shape are given", ""},
		{one + "diameter = \"2 in\"\n", 3, "the size stands in what", ""},
		{head + "shape = \"tube\"\ndiameter = \"40mm\"\nwall = \"30mm\"\n", 3, "must be less than half the diameter 40 mm", ""},
		{head + "shape = \"rod\"\ndiameter = \"40mm\"\nheight = \"1in\"\n", 3, "a rod has a diameter and a length", ""},
		{head + "shape = \"disc\"\ndiameter = \"40mm\"\nheight = \"1in\"\nthickness = \"1in\"\n", 3, "height and thickness are the same", ""},
		{head + "shape = \"blob\"\ndiameter = \"40mm\"\n", 3, `no shape "blob"`, "shapes are"},
		{head + "shape = \"sphere\"\ndiameter = 40\n", 4, "diameter 40: has no unit", ""},
		{head + "what = \"9000 x sphere 2in\"\n[[piece]]\nwhat = \"9000 x sphere 1in\"\n", 4, "more than 10000 pieces", ""},
		{"glass = \"borosilicate-33\n", 1, "", ""},
		{"glass = \"a\"\nglass = \"b\"\n", 2, "", ""},
	} {
		_, err := readLoad(c.text)
		c.check(t, "load.toml", err)
	}
}

func FuzzLoad(f *testing.F) {
	f.Add("glass = \"borosilicate-33\"\nstart = \"22:15\"\ninto = \"cold kiln\"\n[[piece]]\nwhat = \"6 x sphere 2.5in\"\nlongest_soak = \"3h\"\nhottest_soak = \"565 °C\"\ncore = \"700 °C\"\n")
	f.Add("glass = \"soda-104\"\n[[piece]]\nshape = \"tube\"\ndiameter = \"40mm\"\nwall = \"3mm\"\nopen = true\nresting = \"raised\"\n[session]\nalone = true\n")
	f.Add("glass = \"float\"\n[[piece]]\nwhat = 1e999\n")
	f.Add("[[piece]]\n[[piece]]\n")
	f.Fuzz(func(t *testing.T, text string) {
		l, err := ReadLoad(strings.NewReader(text), "load.toml", "", glass.Find)
		if err != nil {
			checkMessage(t, text, err)
			return
		}
		if n := l.Count(); n < 1 || n > MostPieces || len(l.Pieces) == 0 {
			t.Fatalf("%q: %d pieces", text, n)
		}
		for _, p := range l.Pieces {
			q, err := Parse(p.What)
			if err != nil || !near(q.Size, p.Size) || q.Resting != p.Resting || p.Glass == nil || !(p.Body().Sim.Outer > 0) || p.LongestSoak < 0 {
				t.Fatalf("%q: piece %+v, its name reads back as %+v (%v)", text, p, q, err)
			}
		}
	})
}

// checkMessage wants an error that a person can read: short and of one line.
// Control characters of the file are replaced where it is printed.
func checkMessage(t *testing.T, text string, err error) {
	t.Helper()
	s := err.Error()
	if s == "" || len([]rune(s)) > 2000 || strings.Contains(s, "\n") {
		t.Fatalf("%q: message %s", text, fmt.Sprintf("%.300q", s))
	}
}
