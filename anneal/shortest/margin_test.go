package shortest

import (
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestShortest_byRuleHasWholeLimits: where the search finds nothing, and the program
// is the rule's, that is held against the whole limits and no more.
func TestShortest_byRuleHasWholeLimits(t *testing.T) {
	l, st := load(t, "borosilicate-33", "sphere 2.5in"), kiln.DefaultStudio()
	st.Controller.Slowest = unit.KelvinPerHour(60)
	res, err := Shortest(t.Context(), l, st, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if s := res.Report.Shortest; s == nil || !s.None {
		t.Fatal("the search found a program: this tests nothing")
	}
	p := res.Report.Pieces[0]
	if want := verify.ResidualLimit(p.Piece, st.Limits); p.ResidualTension.Pair != want {
		t.Errorf("held against %+v, not %+v", p.ResidualTension.Pair, want)
	}
}
