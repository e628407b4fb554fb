package kiln

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"lehr/glass/casetest"
	"lehr/glass/unit"
)

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

// studioCase is, for one key, a value that is taken and values that are not.
var studioCases = map[string]struct {
	good string
	bad  []string
}{
	"units":                      {`"f"`, []string{`"x"`, `3`}},
	"glass":                      {`"soda-104"`, []string{`3`}},
	"kiln.holding":               {`"1050 °F"`, []string{`1050`, `"50 °C"`, `"1400 °C"`, `nan`}},
	"kiln.highest":               {`"2000 °F"`, []string{`2000`, `"50 °C"`, `"1600 °C"`}},
	"kiln.fastest_heating":       {`"400 °C/h"`, []string{`400`, `"0 °C/h"`, `"9000 °C/h"`}},
	"kiln.cooling_time_constant": {`"4 h"`, []string{`4`, `"1 min"`, `"300 d"`, `"-4 h"`}},
	"kiln.cooling_points":        {`"565 °C 0 min, 480 °C 55 min, 300 °C 4 h"`, []string{`"x"`, `""`, `3`}},
	"kiln.room":                  {`"70 °F"`, []string{`70`, `"-40 °C"`, `"60 °C"`}},
	"kiln.spread":                {`"8 K"`, []string{`8`, `"-1 K"`, `"100 K"`}},
	"kiln.probe_error":           {`"10 °F"`, []string{`10`, `"200 °F"`}},
	"kiln.opening":               {`"110 °F"`, []string{`110`, `"20 °C"`, `"400 °C"`}},
	"kiln.door_open":             {`"20 s"`, []string{`20`, `"0 s"`, `"20 min"`}},
	"kiln.door_dip":              {`"72 °F"`, []string{`40`, `"0 K"`, `"-40 K"`, `"1000 K"`}},
	"kiln.door_view":             {`"15 %"`, []string{`15`, `"15"`, `"-1 %"`, `"120 %"`, `"wide"`}},
	"kiln.power":                 {`"2.4 kW"`, []string{`2400`, `"1 W"`, `"1 MW"`}},
	"kiln.holding_duty":          {"", []string{`"30 %"`, `0.3`, `"300 %"`}}, // asks for power and holding
	"kiln.price_per_kwh":         {`"0.30 EUR"`, []string{`0.30`, `"-1 EUR"`, `"free"`}},
	"controller.units":           {`"c"`, []string{`"k"`}},
	"controller.rate":            {`"minutes per ramp"`, []string{`"per day"`, `3`}},
	"controller.slowest":         {`"2 °C/h"`, []string{`2`, `"0 °C/h"`, `"-5 °C/h"`, `"5000 °C/h"`}},
	"controller.fastest":         {`"500 °F/h"`, []string{`500`, `"0.5 °C/h"`}},
	"controller.longest_hold":    {`"20 h"`, []string{`20`, `"10 min"`}},
	"controller.segments":        {`6`, []string{`1`, `1000`, `"six"`}},
	"controller.full_word":       {`"top"`, []string{`"as fast as the kiln can"`, `3`}},
	"controller.step":            {`"5 K"`, []string{`5`, `"2.5 K"`, `"0 K"`, `"30 K"`}},
	"controller.after":           {`"hold"`, []string{`"stay"`, `3`}},
	"limits.tension":             {`"3 MPa"`, []string{`3`, `"0 MPa"`, `"-2 MPa"`, `"1 GPa"`}},
	"limits.left":                {`"100 psi"`, []string{`100`, `"0 psi"`, `"1 GPa"`}},
	"limits.margin":              {`"3 %"`, []string{`3`, `"-1 %"`, `"51 %"`}},
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
	if !near(l.Tension.Megapascals(), 2) || !near(l.Residual.Megapascals(), 0.7) || !near(l.Relaxed, 0.95) || !near(float64(l.Even), 3) {
		t.Errorf("limits %+v", l)
	}
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
		if s.Limits.Check() != nil || !(c.Slowest > 0) || !(c.Fastest > c.Slowest) || c.Segments < 2 || c.Longest < time.Hour || s.Kiln.Spread < 0 || !(s.Opening.Sub(s.Kiln.Fall.Room) > 0) {
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
		{"[kiln]\nopening = \"650 °F\"\n", 2, "opening 650 °F: must be at least 9 °F above the room, 68 °F, and at most 572 °F", ""},
		{"[kiln]\nfastest_heating = \"50000 °F/h\"\n", 2, "fastest_heating 50000 °F/h: must be from 1.8 °F/h to 9000 °F/h", ""},
		{"[kiln]\ncooling_points = \"1100 °F 0 min, 1100 °F 35 min, 800 °F 2 h\"\n", 2, "point 2, 1100 °F 35 min: is not below the one before, 1100 °F", ""},
		{"[controller]\nfastest = \"50000 °F/h\"\n", 2, "fastest 50000 °F/h: must be above 0 and at most 36000 °F/h", ""},
		{"[limits]\neven = \"50 °F\"\n", 2, "even 50 °F: must be from 0.36 °F to 36 °F", ""},
	} {
		_, err := ReadStudio(strings.NewReader(c.text), "studio.toml")
		c.check(t, "studio.toml", err)
	}
}
