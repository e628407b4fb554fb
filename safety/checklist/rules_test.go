package checklist

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/glass/unit"
	"lehr/safety/source"
	"lehr/safety/source/sourcetest"
)

// today is the day on which the tests read dates.
var today = time.Date(2026, 11, 25, 22, 15, 0, 0, time.UTC)

// facts reads facts as typed and stops the test if they cannot be.
func facts(t testing.TB, typed ...string) Facts {
	t.Helper()
	table := map[string]any{}
	for _, s := range typed {
		name, value, _ := strings.Cut(s, "=")
		table[name] = value
	}
	f, err := FactsFrom(table, Typed, today)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// drawFacts gives each fact a few values that matter to a condition, and ""
// for not given. Dangers are left out: they end everything.
func drawFacts(t *rapid.T) Facts {
	table := map[string]any{}
	for _, f := range factTable {
		options := append([]string{""}, f.Words...)
		if slices.ContainsFunc(dangers, func(d struct {
			fact string
			ids  []string
		}) bool {
			return d.fact == f.Name
		}) {
			options = []string{"", "no"}
		}
		if f.Words == nil {
			options = append(options, f.Example)
		}
		options = append(options, map[string][]string{
			"room": {"5 m3", "3000 m3"}, "ceiling": {"2.4 m", "6 m"}, "largest_piece": {"10 mm", "6 in"}, "glass_temperature": {"20 °C", "1300 °C"},
			"eye_distance": {"50 mm", "3 m"}, "lens": {"didymium", "none", "L3 U6", "Z87 [x {y", "4-5", "something"}, "lens_infrared": {"0.1 %", "100 %"}, "noise": {"70 dBA", "99 dBA", "150 dBA"},
			"kiln_temperature": {"20 °C", "40 °C", "300 °C", "1100 °C"}, "kiln_current": {"0.5 A", "900 A"}, "breaker": {"15 A", "60 A"}, "disconnect": {"{[", "] }"},
			"leak_tested": {"2025-01-01", "today"}, "co_alarm_tested": {"1999-12-31"}, "cut_off_tested": {"2026-08-01"},
		}[f.Name]...)
		if v := rapid.SampledFrom(options).Draw(t, f.Name); v != "" {
			table[f.Name] = v
		}
	}
	f, err := FactsFrom(table, Typed, today)
	if err != nil {
		t.Fatal(err)
	}
	f.Units = rapid.SampledFrom([]unit.System{unit.Metric, unit.US}).Draw(t, "units")
	return f
}

func drawProgram(t *rapid.T) Program {
	p := Program{Units: rapid.SampledFrom([]unit.System{unit.Metric, unit.US}).Draw(t, "program units")}
	if rapid.Bool().Draw(t, "program known") {
		p.Start, p.End, p.Soak, p.Last = "22:15", "Fri 09:45", unit.Celsius(560), unit.Celsius(370)
		p.Hold, p.Total = 75*60e9, 11*3600e9
		if p.About = rapid.Bool().Draw(t, "about"); p.About {
			p.Range = "06:48 +1d to 01:27 +2d"
		}
	}
	return p
}

// forbidden are words that the product never prints: it cannot know.
var forbidden = regexp.MustCompile(`(?i)\b(safe|safely|ok|okay|compliant|complies|approved|guaranteed?)\b`)

// fromMemory are numbers that were not seen in print. No page may show one.
var fromMemory = regexp.MustCompile(`\b0\.2 ppm|\b13 ppm|\b2\.6\b|\b(85|71|56) °C|\b(1050|1070|1090|1110|1140|1210|1290|1390|1500|1650|1800|2150) °C|\b860\b|-183`)

func TestPages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, p := drawFacts(t), drawProgram(t)
		pages := append(f.Pages(), f.Leaving(p), f.Opening(p), f.Reaching(p))
		for _, pg := range pages {
			if len(pg.Lines) > maxLines {
				t.Fatalf("%s: %d lines", pg.Point, len(pg.Lines))
			}
			rank := 0
			for _, l := range pg.Lines {
				if l.Signal.rank() < rank || l.Signal == Danger {
					t.Fatalf("%s: %s %s comes late", pg.Point, l.ID, l.Signal)
				}
				rank = l.Signal.rank()
				checkLine(t, f, l)
			}
			for _, s := range pg.Foot {
				if forbidden.MatchString(s) || s == "" {
					t.Fatalf("foot %q", s)
				}
			}
		}
	})
}

var (
	spoken   = regexp.MustCompile(`[A-Za-z]{3,}`) // words of a line, without numbers and units
	sentence = regexp.MustCompile(`[.:;]( |$)`)
)

func checkLine(t *rapid.T, f Facts, l Line) {
	words := l.Text + " " + l.Note + " " + l.Because()
	switch {
	case forbidden.MatchString(words):
		t.Fatalf("%s says more than it can know: %s", l.ID, words)
	case fromMemory.MatchString(words):
		t.Fatalf("%s prints a number from memory: %s", l.ID, words)
	case len(spoken.FindAllString(l.Text, -1)) > 30:
		t.Fatalf("%s is too long to read aloud: %s", l.ID, l.Text)
	case len(sentence.FindAllString(l.Text, -1)) > 4 && !l.Fault:
		t.Fatalf("%s asks too many things in one: %s", l.ID, l.Text)
	case strings.ContainsAny(l.Text, "\x00\n\t") || strings.TrimSpace(l.Text) != l.Text || l.Text == "":
		t.Fatalf("%s: %q", l.ID, l.Text)
	}
	for _, m := range l.Missing {
		if f.has(m.Fact) {
			t.Fatalf("%s asks for %s, which is given", l.ID, m.Fact)
		}
	}
	for _, b := range l.Blanks {
		if b.Value == "" && !strings.Contains(l.Text, "____") {
			t.Fatalf("%s: blank %s is not shown: %s", l.ID, b.Name, l.Text)
		}
	}
}

// Knowing less never takes a line away. The number of workers is the one fact
// with a default: not given, it counts as one. A lens that is not known passes
// everything, so what only a worn lens makes of it does not count either.
func TestPages_lessKnownShowsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFacts(t)
		names := factNames()
		name := rapid.SampledFrom(names).Filter(func(n string) bool { return n != "workers" && n != "lens" }).Draw(t, "forgotten")
		less := Facts{Units: f.Units, Today: f.Today}
		for _, row := range factTable {
			if row.Name != name {
				row.in(&less).over(row.in(&f))
			}
		}
		for _, p := range Points() {
			shown := map[string]bool{}
			for _, l := range page(less, Program{}, p).Lines {
				shown[l.ID] = true
			}
			for _, l := range page(f, Program{}, p).Lines {
				if !shown[l.ID] {
					t.Fatalf("%s goes when %s is forgotten", l.ID, name)
				}
			}
		}
	})
}

// Giving the fact that a line asks for, with a value that removes it, takes
// the line away: the promise of [Line.Because].
func TestMissing_removesLine(t *testing.T) {
	answer := map[string]string{
		"vent": "flanged", "room": "3000 m3", "ceiling": "6 m", "fuming": "none", "chloride_fuming": "no", "color_metals": "none", "powder": "no", "hot_or_long": "no",
		"fuel_supply": "piped", "oxygen": "none", "stored_together": "no", "fuel_inside": "no",
		"largest_piece": "10 mm", "glass_temperature": "1100 °C", "eye_distance": "500 mm", "noise": "70 dBA", "alone": "no",
		"elements_exposed": "no", "kiln_temperature": "25 °C", "unattended": "no", "overnight": "no", "gas_burner": "no",
		"fiber": "no", "vermiculite": "no", "grinding_next": "no", "bead_release": "no",
	}
	for _, pg := range (Facts{}).Pages() {
		for _, l := range pg.Lines {
			if len(l.Missing) == 0 {
				continue
			}
			var typed []string
			for _, m := range l.Missing {
				v := answer[m.Fact]
				if v == "" {
					t.Fatalf("%s: no answer for %s", l.ID, m.Fact)
				}
				typed = append(typed, m.Fact+"="+v)
			}
			for _, left := range facts(t, typed...).Pages(l.Point)[0].Lines {
				if left.ID == l.ID {
					t.Errorf("%s stays though %v (%s)", l.ID, typed, l.Because())
				}
			}
		}
	}
}

// TestRules_grounds: every rule has a source, a status that its sources bear,
// and somebody who overrules it.
func TestRules_grounds(t *testing.T) {
	last := map[string]int{}
	for _, r := range rules {
		letter, n := r.ID[:1], int(r.ID[1]-'0')
		if n != last[letter]+1 {
			t.Errorf("%s follows %s%d", r.ID, letter, last[letter])
		}
		last[letter] = n
		if len(r.Sources) == 0 || len(r.Defer) == 0 || r.Status == "" || r.Words == "" || r.Signal == Danger {
			t.Errorf("%s lacks source, deferral, status or words, or is DANGER whatever is reported", r.ID)
		}
		for _, fault := range sourcetest.Faults(r.Status, r.Sources...) {
			t.Errorf("%s: %s", r.ID, fault)
		}
		for _, d := range r.Defer {
			if d.Text() == "" || !slices.Contains(source.Deferrals(), d) {
				t.Errorf("%s defers to %q", r.ID, d)
			}
		}
		names := slices.Clone(r.When.names)
		if r.Tested.fact != "" {
			names = append(names, r.Tested.fact)
		}
		for _, n := range names {
			if _, ok := lookup(n); !ok {
				t.Errorf("%s: condition on %q, which is no fact", r.ID, n)
			}
		}
		for _, b := range regexp.MustCompile(`\{(\w+)\}`).FindAllStringSubmatch(r.Words, -1) {
			if _, ok := lookup(b[1]); !ok && !slices.Contains(programBlanks, b[1]) {
				t.Errorf("%s: blank %q is neither fact nor program", r.ID, b[1])
			}
		}
	}
}

// TestRules_positive: the words are things to do, so that yes means done. A
// line that begins with no, never, not or nothing would mean both.
func TestRules_positive(t *testing.T) {
	negative := regexp.MustCompile(`(^|[.:;,] )(No|Nothing|Never|Do not|Don't|Nobody|no|never|nothing|nobody)\b`)
	for _, r := range rules {
		words := strings.ReplaceAll(r.Words, ": no burn, crack or wear", "") // says what whole means
		if m := negative.FindString(words); m != "" && r.Confirm == "" {
			t.Errorf("%s says %q: %s", r.ID, m, r.Words)
		}
	}
}
