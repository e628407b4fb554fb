package plan

import (
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestSingle_gentlest: of a load with a piece that the controller cannot be set for, the
// one program for all of it is one that the controller takes, and pulls that piece less
// than half as much as the program of the others, which was made without it.
func TestSingle_gentlest(t *testing.T) {
	l, st := loadOf(t, "borosilicate-33", "sphere 1in", "sphere 6in", "pendant 45mm x 12mm"), kiln.DefaultStudio()
	l.Into, st.Controller.Slowest, st.Controller.Segments = piece.HotKiln, unit.KelvinPerHour(100), 4
	s, err := Share(t.Context(), l, st, Options{}, ShareHow{})
	if err != nil || len(s.Unfit) != 1 || s.Unfit[0].Piece != 1 || len(s.Firings) != 1 {
		t.Fatalf("%v: %+v", err, s)
	}
	one, err := s.AllInOne(t.Context(), l, st, Options{}, Plan)
	if err != nil {
		t.Fatal(err)
	}
	theirs, err := verify.Program(t.Context(), s.Firings[0].Report.Schedule, l, st, kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	is, was := one.Report.Pieces[1].Tension.Use, theirs.Pieces[1].Tension.Use
	if len(one.Cracked) != 1 || len(one.Harmed) != 1 || is > was/2 {
		t.Errorf("%.2f of the limit, by the program of the others %.2f; harmed %v", is, was, one.Harmed)
	}
	if n := len(one.Report.Schedule.Segments); n > st.Controller.Segments {
		t.Errorf("%d segments", n)
	}
	for i, seg := range one.Report.Schedule.Segments[1:] {
		if !seg.Full && -seg.Rate < st.Controller.SlowestKeyed()*(1-1e-9) {
			t.Errorf("segment %d at %s", i+2, seg.Rate)
		}
	}
}
