package shortest

import (
	"math"
	"testing"

	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/anneal/verify"
)

// TestScreen_refusesWhatFails asks the screen and the full simulation of the whole
// load about every program that differs in one number from a good one. What the
// screen lets pass keeps every limit; what it refuses does not, but for a program
// that is within by less than the doubt of the coarse simulation.
func TestScreen_refusesWhatFails(t *testing.T) {
	if !long() {
		t.Skip("takes seconds; LEHR_LONG=1 runs it")
	}
	tried := []example{examples[6]}
	if campaign() {
		tried = examples
	}
	for _, e := range tried {
		l, st := e.load(t)
		s := e.result(t).Report.Schedule
		sv, err := newSolver(t.Context(), l, st, Options{Options: plan.Options{}})
		if err != nil {
			t.Fatal(err)
		}
		if s, err = keyed(s, st.Controller); err != nil {
			t.Fatal(err)
		}
		c, err := sv.screenOf(s)
		if err != nil {
			t.Fatal(err)
		}
		passed, refused, doubtful := 0, 0, 0.0
		for _, v := range sv.vary(s) {
			full, err := sv.excessAt(v.s, verify.Full)
			if err != nil {
				t.Fatal(err)
			}
			sv.best, sv.seconds = nil, math.Inf(1)
			took, err := c.offer(1, func(int) (program.Schedule, bool) { return v.s, true })
			ok := took == 0
			if err != nil {
				t.Fatal(err)
			}
			switch {
			case ok && !full.within():
				t.Errorf("%s: passes, and is %+v", e.name, full)
			case !ok && full.within():
				doubtful = math.Max(doubtful, 1-full.residual)
			}
			if ok {
				passed++
			} else {
				refused++
			}
		}
		t.Logf("%s: %d pass, %d refused, wrongly by at most %.5f of the limit", e.name, passed, refused, doubtful)
		if passed == 0 || refused == 0 || doubtful > 3*screenDoubt {
			t.Errorf("%s: %d pass, %d are refused, one that leaves %.4f less than it may", e.name, passed, refused, doubtful)
		}
	}
}
