package casetest

import "testing"

func TestAllFilesAreSound(t *testing.T) {
	for _, name := range files(t) {
		if len(Load(t, name)) == 0 {
			t.Errorf("%s has no cases", name)
		}
	}
}

func TestSummary(t *testing.T) {
	var s Summary
	for _, o := range []string{"published-number", "published-table", "closed-form", "general-code", "computed-here"} {
		s.count(Case{Origin: o})
	}
	s.count(Case{Origin: "closed-form", Known: "x"})
	if (s != Summary{Published: 2, ClosedForm: 2, GeneralCode: 1, ComputedHere: 1, Known: 1}) {
		t.Error(s)
	}
}
