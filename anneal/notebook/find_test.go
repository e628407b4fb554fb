package notebook

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"lehr/glass/unit"
)

func find(t *testing.T, r Record, text []byte, words ...string) []int {
	t.Helper()
	q, err := ParseQuery(words)
	if err != nil {
		t.Fatal(err)
	}
	hits := q.Match(r)
	if len(hits) > 0 && !q.Maybe(r.Name+Ext, text) {
		t.Errorf("%v: the quick look says no", words)
	}
	return hits
}

func TestMatch(t *testing.T) {
	r, err := Read([]byte(night), "2026-11-25-big.toml")
	if err != nil {
		t.Fatal(err)
	}
	for words, want := range map[string]string{
		"":                   "[0 1]",
		"3in cobalt cracked": "[0]",
		"76.2mm":             "[0]",
		"1.25in cracked":     "[]",
		"cobalt whole":       "[]",
		"BIG":                "[0 1]",
		"2026-11":            "[0 1]",
		"fair.toml whole":    "[1]",
		"door":               "[0 1]",
		"amber":              "[]",
	} {
		if got := fmt.Sprint(find(t, r, []byte(night), strings.Fields(words)...)); got != want {
			t.Errorf("%s: got %s, want %s", words, got, want)
		}
	}
	if _, err := ParseQuery([]string{"3in", "2in"}); err == nil {
		t.Error("two sizes")
	}
	for _, q := range []Query{{Kiln: "small"}, {Result: Remelted}, {From: time.Date(2026, 12, 1, 0, 0, 0, 0, time.UTC)}, {Until: time.Date(2026, 11, 1, 0, 0, 0, 0, time.UTC)}} {
		if got := q.Match(r); len(got) > 0 {
			t.Errorf("%+v: got %v", q, got)
		}
	}
	if got := (Query{Kiln: "Big", Result: Whole}).Match(r); fmt.Sprint(got) != "[1]" {
		t.Errorf("got %v", got)
	}
}

func TestCompare(t *testing.T) {
	a, _ := Read([]byte(night), "a.toml")
	if d := Compare(a, a, unit.Metric); len(d) > 0 {
		t.Errorf("%v", d)
	}
	text := strings.NewReplacer(`load_sha256 = "0123"`, `load_sha256 = "4567"`, `"cracked later"`, `"whole"`, "days = 12\n", "", "sphere 1 1/4 in", "sphere 2in").Replace(night)
	b, err := Read([]byte(text), "b.toml")
	if err != nil {
		t.Fatal(err)
	}
	want := `[{load loads/fair.toml as it was loads/fair.toml, changed since} {sphere 3in: result cracked later after 12 days whole} {sphere 1 1/4 in 1 } {sphere 2in  1}]`
	if got := fmt.Sprint(Compare(a, b, unit.Metric)); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestGroups(t *testing.T) {
	a, _ := Read([]byte(night), "a.toml")
	b := a
	b.Date = b.Date.Add(24 * time.Hour)
	hits := []Hit{{a, []int{0, 1}}, {b, []int{0, 1}}}
	g := Groups(hits, byColor, nil)
	if len(g) != 3 || g[0].Name != "clear" || g[0].Cracked != 12 || g[1].Name != "cobalt" || g[1].Firings != 2 || g[2].Name != "not written" || g[2].Whole != 2 {
		t.Errorf("%+v", g)
	}
	if g := Groups(hits, bySize, func(l unit.Length) string { return l.Text(unit.US) }); len(g) != 2 || g[0].Name != "3 in" {
		t.Errorf("%+v", g)
	}
}

func TestLossOf(t *testing.T) {
	var all []Record
	day := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	for i, loss := range []float64{0.05, 0.20, 0.08, 0.10, 0.75} {
		all = append(all, Record{Date: day.AddDate(0, 0, i), Pieces: []Piece{{What: "sphere 3in", Count: 2, Mass: 0.5,
			Rods: []RodUse{{"19mm", 1 + 1/unit.Mass(1-loss), 1}}}}})
	}
	got := LossOf(all, 3*unit.Inch)
	if got.Pieces != 4 || math.Abs(got.Share-0.09) > 1e-9 || !got.Enough() {
		t.Errorf("%+v", got)
	}
	if got := LossOf(all[:2], 3*unit.Inch); got.Enough() {
		t.Errorf("%+v", got)
	}
	if got := LossOf(all, 2*unit.Inch); got.Pieces != 0 {
		t.Errorf("%+v", got)
	}
}
