package shortest

import (
	"testing"
	"time"

	"lehr/anneal/plan"
	"lehr/anneal/verify"
)

// TestKeeper: what a search has found is judged while it goes on, in each kiln that one
// which nobody measured may be, and what is shorter takes its place.
func TestKeeper(t *testing.T) {
	if !long() {
		t.Skip("takes a second; LEHR_LONG=1 runs it")
	}
	l, st := examples[6].load(t)
	full := examples[6].result(t)
	aimed, o, _ := plan.Aimed(st, plan.Options{})
	sv, err := newSolver(t.Context(), l, aimed, Options{Options: o})
	if err != nil {
		t.Fatal(err)
	}
	end := sv.judgeBeside()
	defer end()
	judged := func(of *verify.Report) *verify.Report {
		t.Helper()
		for range 300 {
			if rep := sv.keeper.report(); rep != nil && rep.Nominal.Total() == of.Nominal.Total() {
				return rep
			}
			time.Sleep(50 * time.Millisecond)
		}
		t.Fatalf("not judged beside the search: a program of %s", of.Nominal.Total())
		return nil
	}
	for _, of := range []*verify.Report{full.Rule, full.Report} { // the second is shorter
		sv.offer(of.Schedule)
		if rep := judged(of); !rep.Within || len(rep.Kilns) != len(of.Kilns) {
			t.Errorf("within %v, judged in %d kilns, an answer in %d", rep.Within, len(rep.Kilns), len(of.Kilns))
		}
	}
}
