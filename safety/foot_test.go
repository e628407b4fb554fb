package safety

import (
	"slices"
	"strings"
	"testing"
)

// The foot of a page names the US federal rules only where a line rests on
// one; that of several pages says each sentence once.
func TestFoot(t *testing.T) {
	with, without := 0, 0
	for _, p := range Checklist(Facts{}) {
		cites := slices.ContainsFunc(p.Lines, func(l Line) bool {
			return slices.ContainsFunc(l.Sources, func(s Source) bool { return strings.Contains(s.Cite, "29 CFR") || strings.Contains(s.Cite, "30 CFR") })
		})
		if cites != slices.Contains(p.Foot, federalNote) {
			t.Errorf("%s: cites a federal rule: %t, foot %q", p.Point, cites, p.Foot)
		}
		if cites {
			with++
		} else {
			without++
		}
	}
	if with == 0 || without == 0 {
		t.Errorf("%d pages cite one, %d do not: this tests nothing", with, without)
	}
	foot := Foot(Checklist(Facts{}))
	for i, s := range foot {
		if slices.Contains(foot[:i], s) {
			t.Errorf("twice: %s", s)
		}
	}
}
