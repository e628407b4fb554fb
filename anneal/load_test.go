package anneal

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"lehr/glass"
	"lehr/glass/strict"
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
		if q, err := ParsePiece(p.What); err != nil || q.Resting != p.Resting || q.Size != p.Size {
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
	if err == nil {
		t.Errorf("accepted:\n%s", c.text)
		return
	}
	var e *strict.Error
	if !errors.As(err, &e) || e.Line != c.line || !strings.HasPrefix(err.Error(), name) {
		t.Errorf("%s\nline %v, want %d: %v", c.text, e, c.line, err)
		return
	}
	if !strings.Contains(err.Error(), c.want) {
		t.Errorf("%s\n%s, want %q", c.text, err, c.want)
	}
	if c.hint != "" && !strings.Contains(hintOf(err), c.hint) {
		t.Errorf("%s\nhint %q, want %q", c.text, hintOf(err), c.hint)
	}
	if strings.Contains(err.Error(), "\n") {
		t.Errorf("%s\nmore than one line: %q", c.text, err)
	}
}

// hintOf is the first hint in the chain of an error.
func hintOf(err error) string {
	for ; err != nil; err = errors.Unwrap(err) {
		if h, ok := err.(interface{ Hint() string }); ok && h.Hint() != "" {
			return h.Hint()
		}
	}
	return ""
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

// studioCase is, for one key, a value that is taken and values that are not.
var studioCases = map[string]struct {
	good string
	bad  []string
}{
	"units":                      {`"f"`, []string{`"x"`, `3`}},
	"glass":                      {`"soda-104"`, []string{`3`}},
	"kiln.holding":               {`"1050 °F"`, []string{`1050`, `"50 °C"`, `"1400 °C"`, `nan`}},
	"kiln.fastest_heating":       {`"400 °C/h"`, []string{`400`, `"0 °C/h"`, `"9000 °C/h"`}},
	"kiln.cooling_time_constant": {`"4 h"`, []string{`4`, `"1 min"`, `"300 d"`, `"-4 h"`}},
	"kiln.cooling_points":        {`"565 °C 0 min, 480 °C 55 min, 300 °C 4 h"`, []string{`"x"`, `""`, `3`}},
	"kiln.room":                  {`"70 °F"`, []string{`70`, `"-40 °C"`, `"60 °C"`}},
	"kiln.spread":                {`"8 K"`, []string{`8`, `"-1 K"`, `"100 K"`}},
	"kiln.probe_error":           {`"10 °F"`, []string{`10`, `"200 °F"`}},
	"kiln.opening":               {`"110 °F"`, []string{`110`, `"20 °C"`, `"400 °C"`}},
	"kiln.power":                 {`"2.4 kW"`, []string{`2400`, `"1 W"`, `"1 MW"`}},
	"kiln.holding_duty":          {"", []string{`"30 %"`, `0.3`, `"300 %"`}}, // asks for power and holding
	"kiln.price_per_kwh":         {`"0.30 EUR"`, []string{`0.30`, `"-1 EUR"`, `"free"`}},
	"controller.units":           {`"c"`, []string{`"k"`}},
	"controller.rate":            {`"minutes per ramp"`, []string{`"per day"`, `3`}},
	"controller.slowest":         {`"2 °C/h"`, []string{`2`, `"0 °C/h"`, `"-5 °C/h"`, `"5000 °C/h"`}},
	"controller.fastest":         {`"500 °F/h"`, []string{`500`, `"0.5 °C/h"`}},
	"controller.longest_hold":    {`"20 h"`, []string{`20`, `"10 min"`}},
	"controller.segments":        {`6`, []string{`2`, `1000`, `"six"`}},
	"controller.full_word":       {`"top"`, []string{`"as fast as the kiln can"`, `3`}},
	"limits.tension":             {`"3 MPa"`, []string{`3`, `"0 MPa"`, `"-2 MPa"`, `"1 GPa"`}},
	"limits.left":                {`"100 psi"`, []string{`100`, `"0 psi"`, `"1 GPa"`}},
	"limits.relaxed":             {`"95 %"`, []string{`95`, `"10 %"`, `"100 %"`}},
	"limits.even":                {`"3 K"`, []string{`3`, `"0 K"`, `"100 K"`}},
}

// TestReadStudio gives every key a value that is taken, and values that are
// refused at their line.
func TestReadStudio(t *testing.T) {
	for _, key := range StudioKeys() {
		c, known := studioCases[key]
		if !known {
			t.Errorf("%s: no test", key)
			continue
		}
		table, name, found := strings.Cut(key, ".")
		head := "# a comment\n[" + table + "]\n"
		if !found {
			head, name = "# a comment\n\n", key
		}
		if c.good != "" {
			if _, err := ReadStudio(strings.NewReader(head+name+" = "+c.good+"\n"), "studio.toml"); err != nil {
				t.Errorf("%s = %s: %v", key, c.good, err)
			}
		}
		for _, bad := range c.bad {
			s, err := ReadStudio(strings.NewReader(head+name+" = "+bad+"\n"), "studio.toml")
			if err == nil {
				t.Errorf("%s = %s: accepted as %+v", key, bad, s)
				continue
			}
			if !strings.HasPrefix(err.Error(), "studio.toml:3: ") || !strings.Contains(err.Error(), name) {
				t.Errorf("%s = %s: %v", key, bad, err)
			}
		}
		_, err := ReadStudio(strings.NewReader(head+name+"x = 1\n"), "studio.toml")
		refusal{name + "x = 1", 3, "is not a key of this file", ""}.check(t, "studio.toml", err)
	}
}

// TestReadStudio_values checks that what was read is what was meant.
func TestReadStudio_values(t *testing.T) {
	s, err := ReadStudio(strings.NewReader(`
units = "f"
glass = "soda-104"
[kiln]
holding = "950 °F"
fastest_heating = "720 °F/h"
cooling_time_constant = "1 h"
room = "68 °F"
spread = "18 °F"
probe_error = "9 °F"
opening = "120 °F"
[controller]
rate = "minutes per ramp"
longest_hold = "20 h"
segments = 4
full_word = "top"
[limits]
tension = "2 MPa"
left = "0.7 MPa"
relaxed = "95 %"
even = "3 K"
[session]
alone = true
`), "studio.toml")
	if err != nil {
		t.Fatal(err)
	}
	k, c, l := s.Kiln, s.Controller, s.Limits
	near := func(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }
	if s.Units != unit.US || s.Glass != "soda-104" || s.File != "studio.toml" || s.Session["alone"] != true || s.Opening != unit.Fahrenheit(120) {
		t.Errorf("studio %+v", s)
	}
	if k.Holding != unit.Fahrenheit(950) || !near(k.Heating.KelvinPerHour(), 400) || k.Fall.TimeConstant != time.Hour || !k.Measured ||
		!near(float64(k.Spread), 10) || !near(float64(k.ProbeError), 5) || !near(k.Fall.Room.Celsius(), 20) {
		t.Errorf("kiln %+v", k)
	}
	if c.Units != unit.US || !c.Minutes || c.Segments != 4 || c.Longest != 20*time.Hour || c.FullWord != "top" {
		t.Errorf("controller %+v", c)
	}
	if !near(l.Tension.Megapascals(), 2) || !near(l.Left.Megapascals(), 0.7) || !near(l.Relaxed, 0.95) || !near(float64(l.Even), 3) {
		t.Errorf("limits %+v", l)
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
			q, err := ParsePiece(p.What)
			if err != nil || !near(q.Size, p.Size) || q.Resting != p.Resting || p.Glass == nil || !(p.Body().Sim.Outer > 0) || p.LongestSoak < 0 {
				t.Fatalf("%q: piece %+v, its name reads back as %+v (%v)", text, p, q, err)
			}
		}
	})
}

func FuzzStudio(f *testing.F) {
	f.Add("units = \"f\"\n[kiln]\nholding = \"950 °F\"\ncooling_time_constant = \"1 h\"\n[controller]\nrate = \"minutes per ramp\"\nsegments = 4\n[limits]\nleft = \"1 MPa\"\n")
	f.Add("[kiln]\ncooling_points = \"565 °C 0 min, 480 °C 55 min, 300 °C 4 h\"\nroom = \"20 °C\"\n")
	f.Add("[kiln]\nfastest_heating = \"400 °C/h\"\npower = \"2 kW\"\nholding = \"560 °C\"\nholding_duty = \"30 %\"\nprice_per_kwh = \"$0.15\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ReadStudio(strings.NewReader(text), "studio.toml")
		if err != nil {
			checkMessage(t, text, err)
			return
		}
		c := s.Controller
		if s.Limits.check() != nil || !(c.Slowest > 0) || !(c.Fastest > c.Slowest) || c.Segments < 3 || c.Longest < time.Hour || s.Kiln.Spread < 0 || !(s.Opening.Sub(s.Kiln.Fall.Room) > 0) {
			t.Fatalf("%q: accepted as %+v", text, s)
		}
		if tau := s.Kiln.Fall.TimeConstant; tau <= 0 {
			t.Fatalf("%q: time constant %s", text, tau)
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

// TestReadStudio_saysItInTheUnitsTyped: a refusal repeats the value and gives
// its limit in the units that were typed.
func TestReadStudio_saysItInTheUnitsTyped(t *testing.T) {
	for _, c := range []refusal{
		{"[kiln]\nholding = \"200 °F\"\n", 2, "holding 200 °F: must be from 212 °F to 2372 °F", ""},
		{"[kiln]\nspread = \"200 °F\"\n", 2, "spread 200 °F: must be from 0 °F to 108 °F", ""},
		{"[kiln]\nopening = \"650 °F\"\n", 2, "opening 650 °F: must be at least 9 °F above the room, 20 °C, and at most 572 °F", ""},
		{"[kiln]\nfastest_heating = \"50000 °F/h\"\n", 2, "fastest_heating 50000 °F/h: must be from 1.8 °F/h to 9000 °F/h", ""},
		{"[kiln]\ncooling_points = \"1100 °F 0 min, 1100 °F 35 min, 800 °F 2 h\"\n", 2, "point 2, 1100 °F 35 min: is not below the one before, 1100 °F", ""},
		{"[controller]\nfastest = \"50000 °F/h\"\n", 2, "fastest 50000 °F/h: must be above 0 and at most 36000 °F/h", ""},
		{"[limits]\neven = \"50 °F\"\n", 2, "even 50 °F: must be from 0.36 °F to 36 °F", ""},
	} {
		_, err := ReadStudio(strings.NewReader(c.text), "studio.toml")
		c.check(t, "studio.toml", err)
	}
}
