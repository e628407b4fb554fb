package checklist

import (
	"slices"
	"strings"
	"testing"

	"lehr/safety/source"
)

// The foot of a page names the US federal rules only where a line rests on
// one; that of several pages says each sentence once.
func TestFoot(t *testing.T) {
	with := 0
	for _, p := range Checklist(Facts{}) {
		cites := slices.ContainsFunc(p.Lines, func(l Line) bool {
			return slices.ContainsFunc(l.Sources, func(s source.Source) bool {
				return strings.Contains(s.Cite, "29 CFR") || strings.Contains(s.Cite, "30 CFR")
			})
		})
		if cites != slices.Contains(p.Foot, federalNote) {
			t.Errorf("%s: cites a federal rule: %t, foot %q", p.Point, cites, p.Foot)
		}
		if cites {
			with++
		}
	}
	eye := Line{Sources: source.Of("icnirp2013"), Defer: []source.Deferral{source.ToEye}}
	if with == 0 || slices.Contains(pageFoot([]Line{eye}), federalNote) || !slices.Contains(pageFoot([]Line{eye, {Sources: source.Of("osha-253")}}), federalNote) {
		t.Errorf("%d pages cite a federal rule; a line of no federal rule: %q", with, pageFoot([]Line{eye}))
	}
	foot := Foot(Checklist(Facts{}))
	for i, s := range foot {
		if slices.Contains(foot[:i], s) {
			t.Errorf("twice: %s", s)
		}
	}
}
