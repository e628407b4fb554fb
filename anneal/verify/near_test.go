package verify

import (
	"slices"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/sim"
)

// TestNear: of a program twice as fast the pieces that are not simulated, as they were
// far below their limits, keep them, and the others are as if all were simulated.
func TestNear(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 3in", "sphere 2in", "sphere 1.5in", "sphere 1.25in", "disc 60mm x 10mm", "rod 8mm raised")
	st := kiln.DefaultStudio()
	like, err := Judge(t.Context(), usual(time.Hour, 60), l, st, st.Limits, sim.Settings{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	s := like.Schedule
	s.Segments = slices.Clone(s.Segments)
	for i := range s.Segments {
		s.Segments[i].Rate *= 2
	}
	near, err := like.Near(t.Context(), s, st.Limits)
	if err != nil {
		t.Fatal(err)
	}
	all, err := Judge(t.Context(), s, l, st, st.Limits, sim.Settings{}, like)
	if err != nil {
		t.Fatal(err)
	}
	own, err := Judge(t.Context(), s, l, st, st.Limits, sim.Settings{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	far, twice := 0, 0
	for i := range l.Pieces {
		a, b := near.Pieces[i], all.Pieces[i]
		if like.Pieces[i].Within && !own.Pieces[i].Within {
			twice++
		}
		if like.Pieces[i].farBelow(st.Limits) {
			far++
			most := func(u float64) bool { return u != like.Pieces[i].Tension.Use }
			if !a.Within || !own.Pieces[i].Within || len(a.SpanUse) != len(s.Segments) || slices.ContainsFunc(a.SpanUse, most) {
				t.Errorf("%s: within %v, simulated %v", a.Piece.What, a.Within, own.Pieces[i].Within)
			}
		} else if a.Tension.Use != b.Tension.Use || a.ResidualTension.Use != b.ResidualTension.Use || !slices.Equal(a.SpanUse, b.SpanUse) {
			t.Errorf("%s: %+v, with all simulated %+v", a.Piece.What, a.Tension, b.Tension)
		}
	}
	if far == 0 || twice == 0 {
		t.Errorf("%d far below, %d that twice as fast is too fast for: they show nothing", far, twice)
	}
}
