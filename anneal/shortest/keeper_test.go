package shortest

import (
	"testing"
	"time"

	"lehr/anneal/plan"
)

// TestKeeper: what a search has found is judged while it goes on, and the answer of
// an interrupted one is the shortest that was judged.
func TestKeeper(t *testing.T) {
	l, st := examples[6].load(t)
	full := examples[6].result(t)
	aimed, o, _ := plan.Aimed(st, plan.Options{})
	sv, err := newSolver(t.Context(), l, aimed, Options{Options: o})
	if err != nil {
		t.Fatal(err)
	}
	end := sv.keep()
	defer end()
	long := full.Rule.Schedule
	sv.offer(long)
	sv.offer(full.Report.Schedule) // shorter
	for range 100 {
		if sv.keeper.report() != nil {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	rep := sv.keeper.report()
	if rep == nil || !rep.Within || rep.Nominal.Total() != full.Report.Nominal.Total() {
		t.Fatalf("judged beside the search: %+v", rep)
	}
	if len(rep.Kilns) != len(full.Report.Kilns) {
		t.Errorf("judged in %d kilns, an answer in %d", len(rep.Kilns), len(full.Report.Kilns))
	}
}
