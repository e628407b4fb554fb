package verify

import (
	"context"
	"slices"
	"strings"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/spread"
	"lehr/glass"
	"lehr/glass/unit"
)

// TestSources_ofLimits: a report names the texts of the limits it was judged by,
// with the status that the limit has: those of the kinds of glass in the load,
// none of a limit that a person replaced.
func TestSources_ofLimits(t *testing.T) {
	s, err := program.Read(strings.NewReader(studyProgram), "study-program.toml")
	if err != nil {
		t.Fatal(err)
	}
	cited := func(limits kiln.Limits, glasses ...string) string {
		t.Helper()
		l := &piece.Load{Into: piece.HotKiln}
		for _, name := range glasses {
			p, err := piece.Parse("sphere 20mm textbook")
			if err != nil {
				t.Fatal(err)
			}
			if p.Glass, err = glass.Find(name); err != nil {
				t.Fatal(err)
			}
			l.Pieces = append(l.Pieces, p)
		}
		rep, err := Program(context.Background(), s, l, kiln.DefaultStudio(), limits)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for i, s := range rep.Sources {
			if slices.Contains(rep.Sources[:i], s) {
				t.Errorf("%s stands twice", s.Cite)
			}
			all = append(all, s.Cite+" ["+s.Status+"]")
		}
		return strings.Join(all, "\n")
	}
	hard := cited(kiln.Limits{}, "borosilicate-33")
	for _, l := range spread.Limits() {
		for _, s := range l.Supports {
			line := s.Cite + " [" + string(s.Status) + "]"
			if got := strings.Contains(hard, line); got != (s.Of != spread.Soft) {
				t.Errorf("borosilicate-33 cites %q: %v", line, got)
			}
		}
	}
	if !strings.Contains(hard, "EN 1595") || !strings.Contains(hard, "a maker's page for tubing quotes it [quoted]") {
		t.Errorf("EN 1595 was read in a text that quotes it:\n%s", hard)
	}
	both := cited(kiln.Limits{}, "borosilicate-33", "float")
	if !strings.Contains(both, "EN 1595") || !strings.Contains(both, "ATS-129") {
		t.Errorf("two kinds of glass cite\n%s", both)
	}
	given := cited(kiln.Limits{Tension: 3 * unit.Megapascal, Residual: unit.Megapascal}, "borosilicate-33")
	if strings.Contains(given, "toughness") || strings.Contains(given, "bottles") || !strings.Contains(given, "rough surface") {
		t.Errorf("with limits of a person, but for what is left at the surface:\n%s", given)
	}
}
