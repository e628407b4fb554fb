package shortest

import (
	"context"
	"errors"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
)

// TestBesideRule_refused: a controller that no program of a load can be keyed into is
// refused as the rule refuses it, with the nearest settings, whether the load climbs to
// its soak or not.
func TestBesideRule_refused(t *testing.T) {
	for _, n := range []int{20, 144} {
		l, st, o := randomCase(t, n)
		st.Controller.Segments, st.Controller.Longest = 1, 10*time.Minute
		_, want := plan.Plan(t.Context(), l, st, o)
		if want == nil {
			t.Fatalf("load %d: one segment of ten minutes does", n)
		}
		if _, err := Shortest(t.Context(), l, st, Options{Options: o}); err == nil || err.Error() != want.Error() {
			t.Errorf("load %d: %v, the rule says %v", n, err, want)
		}
	}
}

// TestBesideRule_interrupted: whenever a search is stopped, there is an answer or the
// error is that; the answer keeps every limit, and what the rule says of opening the kiln
// is said.
func TestBesideRule_interrupted(t *testing.T) {
	l, st := load(t, "borosilicate-33", "sphere 3in"), kiln.DefaultStudio()
	hot := func(rep *verify.Report) bool { _, is := rep.Notes.Find(finding.StillHot); return is }
	rule, err := plan.Plan(t.Context(), l, st, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !hot(rule) {
		t.Fatal("nothing is said of pieces that are still hot")
	}
	answers := 0
	for after := time.Millisecond; answers == 0 && after < time.Minute; after *= 3 {
		ctx, cancel := context.WithTimeout(t.Context(), after)
		res, err := Shortest(ctx, l, st, Options{})
		cancel()
		if err != nil {
			if !errors.Is(err, context.DeadlineExceeded) {
				t.Errorf("stopped after %v: %v", after, err)
			}
			continue
		}
		answers++
		if rep := res.Report; !rep.Within || !hot(rep) {
			t.Errorf("stopped after %v: within %v, said to be still hot %v", after, rep.Within, hot(rep))
		}
	}
	if answers == 0 {
		t.Error("no search had an answer")
	}
}
