package checklist

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lehr/glass/unit"
	"lehr/safety/source"
)

// draws gives each fact a few values that matter to a condition, and "" for
// not given.
func drawFacts(t *rapid.T) Facts {
	table := map[string]any{}
	for _, f := range factTable {
		options := append([]string{""}, f.Words...)
		if f.Words == nil {
			options = append(options, f.Example)
		}
		options = append(options, map[string][]string{
			"room": {"5 m3", "3000 m3"}, "ceiling": {"2.4 m", "6 m"}, "largest_piece": {"10 mm", "6 in"}, "glass_temperature": {"20 °C", "1300 °C"},
			"eye_distance": {"50 mm", "3 m"}, "lens": {"didymium", "L3 U6", "Z87 [x {y", "4-5", "something"}, "lens_infrared": {"0 %", "100 %"}, "noise": {"70 dBA", "99 dBA", "150 dBA"},
			"kiln_temperature": {"20 °C", "40 °C", "300 °C", "1100 °C"}, "kiln_current": {"0.5 A", "900 A"}, "breaker": {"15 A", "60 A"}, "disconnect": {"{[", "] }"},
		}[f.Name]...)
		if v := rapid.SampledFrom(options).Draw(t, f.Name); v != "" {
			table[f.Name] = v
		}
	}
	f, err := FactsFrom(table)
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
	}
	return p
}

// forbidden are words that the product never prints: it cannot know.
var forbidden = regexp.MustCompile(`(?i)\b(safe|safely|ok|okay|compliant|complies|approved|guaranteed?)\b`)

// fromMemory are numbers that were not seen in print. No page may show one.
var fromMemory = regexp.MustCompile(`\b0\.2 ppm|\b13 ppm|\b2\.6\b|\b(85|71|56) °C|\b(1050|1070|1090|1110|1140|1210|1290|1390|1500|1650|1800|2150) °C|asbestos|\b860\b|-183`)

func TestPages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, p := drawFacts(t), drawProgram(t)
		pages := append(Checklist(f), Leaving(f, p), Opening(f, p))
		reported := f.GasSmell == Yes || f.COAlarm == Yes || f.OxygenSpill == Yes || f.GasFire == Yes
		if reported != (pages[0].Point == Wrong) {
			t.Fatalf("reported now: %v, first page %s", reported, pages[0].Point)
		}
		for _, pg := range pages {
			if len(pg.Lines) > MaxLines {
				t.Fatalf("%s: %d lines", pg.Point, len(pg.Lines))
			}
			rank := 0
			for _, l := range pg.Lines {
				if l.Signal.rank() < rank {
					t.Fatalf("%s: %s comes late", pg.Point, l.ID)
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

// spoken are the words of a line, without numbers and units.
var spoken = regexp.MustCompile(`[A-Za-z]{3,}`)

func checkLine(t *rapid.T, f Facts, l Line) {
	words := l.Text + " " + l.Note + " " + l.Because()
	switch {
	case forbidden.MatchString(words):
		t.Fatalf("%s says more than it can know: %s", l.ID, words)
	case fromMemory.MatchString(words):
		t.Fatalf("%s prints a number from memory: %s", l.ID, words)
	case len(spoken.FindAllString(l.Text, -1)) > 30:
		t.Fatalf("%s is too long to read aloud: %s", l.ID, l.Text)
	case !utf8Plain(l.Text):
		t.Fatalf("%s: %q", l.ID, l.Text)
	}
	urgent := map[string]Answer{"B1": f.GasSmell, "W1": f.GasSmell, "W2": f.COAlarm, "W3": f.OxygenSpill, "W4": f.GasFire}
	if (l.Signal == Danger) != (urgent[l.ID] == Yes) {
		t.Fatalf("%s is %s though reported is %q", l.ID, l.Signal, urgent[l.ID])
	}
	for _, m := range l.Missing {
		if f.Has(m.Fact) {
			t.Fatalf("%s asks for %s, which is given", l.ID, m.Fact)
		}
	}
	for _, b := range l.Blanks {
		if b.Value == "" && !strings.Contains(l.Text, "____") {
			t.Fatalf("%s: blank %s is not shown: %s", l.ID, b.Name, l.Text)
		}
	}
}

func utf8Plain(s string) bool {
	return !strings.ContainsAny(s, "\x00\n\t") && strings.TrimSpace(s) == s && s != ""
}

// Knowing less never takes a line away. The number of workers is the one fact
// with a default: not given, it counts as one.
func TestPages_lessKnownShowsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFacts(t)
		name := rapid.SampledFrom(factNames()).Filter(func(n string) bool { return n != "workers" }).Draw(t, "forgotten")
		var less Facts
		less.Units = f.Units
		for _, row := range factTable {
			if row.Name != name {
				assign(row.field(&less), row.field(&f))
			}
		}
		for _, p := range Points() {
			shown := map[string]bool{}
			for _, l := range page(less, Program{}, p, false).Lines {
				shown[l.ID] = true
			}
			for _, l := range page(f, Program{}, p, false).Lines {
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
		"vent": "flanged", "room": "3000 m3", "ceiling": "6 m", "fuming": "none", "chloride_fuming": "no", "color_metals": "none", "hot_or_long": "no",
		"gas_smell": "no", "fuel_supply": "piped", "oxygen": "none", "stored_together": "no", "fuel": "natural gas", "home": "no", "fuel_inside": "no",
		"lens": "R3", "largest_piece": "10 mm", "glass_temperature": "1100 °C", "eye_distance": "500 mm", "glass": "soft", "noise": "70 dBA", "alone": "no",
		"elements_exposed": "no", "kiln_temperature": "25 °C", "unattended": "no", "overnight": "no", "torch_used": "no", "gas_burner": "no",
		"fiber": "no", "vermiculite": "no", "grinding_next": "no", "bead_release": "no",
	}
	for _, pg := range Checklist(Facts{}) {
		for _, l := range pg.Lines {
			if len(l.Missing) == 0 {
				continue
			}
			table := map[string]any{}
			for _, m := range l.Missing {
				v := answer[m.Fact]
				if m.Fact == "vent" && l.ID == "A5" {
					v = "plain"
				}
				if v == "" {
					t.Fatalf("%s: no answer for %s", l.ID, m.Fact)
				}
				table[m.Fact] = v
			}
			f, err := FactsFrom(table)
			if err != nil {
				t.Fatal(err)
			}
			for _, left := range Checklist(f, l.Point)[0].Lines {
				if left.ID == l.ID {
					t.Errorf("%s stays though %v (%s)", l.ID, table, l.Because())
				}
			}
		}
	}
}

func TestRules_haveSourceStatusDeferral(t *testing.T) {
	want := map[Point]string{Air: "A9", Gas: "B9", You: "C9", Reach: "R6", Leave: "U8", Open: "O6", Wrong: "W9"}
	seen := map[string]bool{}
	used := map[string]bool{source.Practice: true}
	for _, r := range rules {
		if seen[r.ID] {
			t.Errorf("%s is there twice", r.ID)
		}
		seen[r.ID] = true
		if len(r.Sources) == 0 || len(r.Defer) == 0 || r.Status == "" || r.Words == "" {
			t.Errorf("%s lacks source, deferral, status or words", r.ID)
		}
		if r.Status == source.Memory {
			t.Errorf("%s rests on memory alone", r.ID)
		}
		if r.Status == source.CommonPractice != slices.Contains(r.Sources, source.Practice) && r.Status == source.CommonPractice {
			t.Errorf("%s is common practice but does not say so", r.ID)
		}
		if r.Signal == Danger {
			t.Errorf("%s is DANGER whatever is reported", r.ID)
		}
		for _, d := range r.Defer {
			if d.Text() == "" || !slices.Contains(source.Deferrals(), d) {
				t.Errorf("%s defers to %q", r.ID, d)
			}
		}
		for _, key := range r.Sources {
			used[key] = true
			if len(source.Of(key)) == 0 {
				t.Errorf("%s: source %q is not listed", r.ID, key)
			}
		}
		names := append([]string{r.Urgent}, r.When.names...)
		for _, n := range names[1:] {
			if _, ok := lookup(n); !ok {
				t.Errorf("%s: condition on %q, which is no fact", r.ID, n)
			}
		}
		if r.Urgent != "" {
			if _, ok := lookup(r.Urgent); !ok {
				t.Errorf("%s: urgent on %q", r.ID, r.Urgent)
			}
		}
		for _, b := range regexp.MustCompile(`\{(\w+)\}`).FindAllStringSubmatch(r.Words, -1) {
			if _, ok := lookup(b[1]); !ok && !slices.Contains(programBlanks, b[1]) {
				t.Errorf("%s: blank %q is neither fact nor program", r.ID, b[1])
			}
		}
	}
	count := 0
	for at, last := range want {
		letter, n := last[:1], int(last[1]-'0')
		count += n
		for i := 1; i <= n; i++ {
			id := letter + string(rune('0'+i))
			if !seen[id] {
				t.Errorf("%s: %s is missing", at, id)
			}
		}
	}
	if count != len(rules) {
		t.Errorf("%d rules, want %d", len(rules), count)
	}
	for _, key := range keysInDocs(t) {
		used[key] = true
	}
	for _, s := range source.All() {
		if s.Cite == "" || s.Read == "" || !used[s.Key] {
			t.Errorf("source %q lacks text or is used by no rule and no figure", s.Key)
		}
	}
}

// keysInDocs returns the source keys that doc comments name, and fails for an
// exported figure whose comment has no Source or Checked line or whose cases
// file is not there.
func keysInDocs(t *testing.T) []string {
	t.Helper()
	files, _ := filepath.Glob("../*/*.go")
	var keys []string
	figures := []string{"planck.go", "infrared.go", "hood.go", "dilution.go", "combustion.go", "oxygen.go", "exposure.go", "circuit.go", "noise.go", "heat.go"}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		text := ""
		for _, c := range f.Comments {
			text += c.Text()
		}
		for _, s := range source.All() {
			if strings.Contains(text, s.Key) {
				keys = append(keys, s.Key)
			}
		}
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || !fn.Name.IsExported() || fn.Recv != nil || !slices.Contains(figures, filepath.Base(name)) {
				continue
			}
			doc := fn.Doc.Text()
			if fn.Type.Results.NumFields() == 1 && fn.Name.Name != "Burn" { // tables and look-ups
				continue
			}
			if strings.HasPrefix(doc, "Fuel ") {
				continue
			}
			if !strings.Contains(doc, "ource:") && !strings.Contains(doc, "and source") || !strings.Contains(doc, "Checked:") {
				t.Errorf("%s: %s has no Source or Checked line", name, fn.Name.Name)
			}
			for _, m := range regexp.MustCompile(`testdata/cases/[a-z-]+\.toml`).FindAllString(doc, -1) {
				if _, err := os.Stat(filepath.Join("../..", m)); err != nil {
					t.Error(err)
				}
			}
		}
	}
	return keys
}

// Lines take up what is known.
func TestWords(t *testing.T) {
	for _, c := range []struct {
		id    string
		facts map[string]any
		us    bool
		want  string
	}{
		{"A1", map[string]any{"capture_speed": "0.2 m/s"}, false, "moves at only 0.2 m/s; US welding rules ask for 0.5 m/s."},
		{"A1", map[string]any{"capture_speed": "0.2 m/s"}, true, "moves at only 39.4 ft/min; US welding rules ask for 100 ft/min."},
		{"A1", map[string]any{"capture_speed": "0.5 m/s"}, false, "leans toward the hood"},
		{"A4", map[string]any{"vent": "windows", "room": "76 m3"}, true, "2,000 cfm of fresh air per worker"},
		{"A6", map[string]any{"fuming": "gold"}, false, "tested with smoke."},
		{"A6", map[string]any{"fuming": "gold, silver"}, false, "0.01 mg/m³"},
		{"A8", map[string]any{"color_metals": "cobalt, cadmium, lead"}, false, "Your colors hold cadmium and lead."},
		{"B1", map[string]any{"gas_smell": true}, false, "Do not light."},
		{"C1", map[string]any{"lens": "Z87 U6"}, false, "Your lens (Z87 U6) claims no infrared protection."},
		{"C3", map[string]any{"largest_piece": "50 mm", "glass_temperature": "1200 °C", "eye_distance": "300 mm"}, false,
			"up to 920 W/m² infrared at your eyes, 9.2 times the long-work limit. Use a lens passing at most 10 %"},
		{"C7", map[string]any{"noise": "94 dBA"}, false, "At 94 dBA the daily limit without it is about 1 h."},
		{"O2", map[string]any{"kiln_temperature": "200 °C"}, true, "above 109 °F"},
		{"U1", map[string]any{"cut_off": false}, false, "No second cut-off is fitted"},
		{"U3", map[string]any{"kiln_current": "24 A", "breaker": "25 A"}, false, "24 A × 1.25 = 30 A, more than its 25 A breaker"},
		{"U3", map[string]any{"kiln_power": "5760 W", "kiln_voltage": "240 V", "breaker": "30 A"}, false, "24 A × 1.25 = 30 A, breaker 30 A"},
	} {
		f, err := FactsFrom(c.facts)
		if err != nil {
			t.Fatal(err)
		}
		if c.us {
			f.Units = unit.US
		}
		found := false
		for _, pg := range Checklist(f) {
			for _, l := range pg.Lines {
				if l.ID == c.id {
					found = true
					if !strings.Contains(l.Text, c.want) {
						t.Errorf("%s with %v: %s", c.id, c.facts, l.Text)
					}
				}
			}
		}
		if !found {
			t.Errorf("%s is not shown with %v", c.id, c.facts)
		}
	}
	p := Program{End: "Fri 09:45", Total: 11*3600e9 + 30*60e9, Soak: unit.Celsius(560), Hold: 75 * 60e9, Last: unit.Celsius(370), Units: unit.US}
	for id, want := range map[string]string{
		"U5": "For 11 h 30 min, until Fri 09:45:",
		"U8": "set points 1040 °F for 1 h 15 min, off at 698 °F, expected end Fri 09:45.",
		"O2": "Program ends Fri 09:45 at 698 °F.",
	} {
		for _, l := range append(Leaving(Facts{}, p).Lines, Opening(Facts{}, p).Lines...) {
			if l.ID == id && !strings.Contains(l.Text, want) {
				t.Errorf("%s: %s", id, l.Text)
			}
		}
	}
}
