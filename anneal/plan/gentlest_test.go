package plan

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestSingle_gentlest: of a load with a piece that the controller cannot be set for, the
// one program for all of it is one that the controller takes, and pulls that piece less
// than half as much as the program of the others, which was made without it.
func TestSingle_gentlest(t *testing.T) {
	needLong(t)
	l, st := loadOf(t, "borosilicate-33", "sphere 1in", "sphere 6in"), kiln.DefaultStudio()
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
	if takes := one.Report.Actual.Total(); takes > 24*time.Hour { // its holds are as short as does no more harm
		t.Errorf("takes %s", takes)
	}
	for i, seg := range one.Report.Schedule.Segments[1:] {
		if !seg.Full && -seg.Rate < st.Controller.SlowestKeyed()*(1-1e-9) {
			t.Errorf("segment %d at %s", i+2, seg.Rate)
		}
	}
}

// TestShare_alone: what cannot be annealed by itself is said so of it, and the others
// get their program; of nothing else it is an error.
func TestShare_alone(t *testing.T) {
	l := loadOf(t, "soda-104", "sphere 1in", "sphere 3in")
	l.Pieces[1].LongestSoak = 5 * time.Minute
	s, err := Share(context.Background(), l, kiln.DefaultStudio(), Options{}, ShareHow{})
	if err != nil || s.Shareable || len(s.Unfit) != 1 || s.Unfit[0].Piece != 1 || !s.Reasons.Has(finding.SoakTooLong) || len(s.Firings) != 1 || !slices.Equal(s.Firings[0].Pieces, []int{0}) {
		t.Fatalf("%v: %+v", err, s)
	}
	one, err := s.AllInOne(context.Background(), l, kiln.DefaultStudio(), Options{}, Plan)
	if err != nil || one == nil || !slices.Equal(one.Harmed, []int{1}) || len(one.Cracked) > 0 { // its color may shift
		t.Errorf("%v: %+v", err, one)
	}
	_, err = Share(context.Background(), l.Some([]int{1}), kiln.DefaultStudio(), Options{}, ShareHow{})
	var alone *AloneError
	var conflict *ConflictError
	if !errors.As(err, &alone) || alone.What != "sphere 3in" || !errors.As(err, &conflict) || !conflict.Reasons.Has(finding.SoakTooLong) {
		t.Errorf("%v", err)
	}
}

// TestSingle_gentlestFreed: that one piece bears too short a soak makes the program for a
// large one, which the controller cannot be set for, no harder.
func TestSingle_gentlestFreed(t *testing.T) {
	needLong(t)
	l, st := loadOf(t, "borosilicate-33", "sphere 1in", "sphere 6in", "sphere 2in"), kiln.DefaultStudio()
	l.Into, st.Controller.Slowest, st.Controller.Segments = piece.HotKiln, unit.KelvinPerHour(100), 4
	pulls := func() float64 {
		s, err := Share(t.Context(), l, st, Options{}, ShareHow{})
		if err != nil {
			t.Fatal(err)
		}
		one, err := s.AllInOne(t.Context(), l, st, Options{}, Plan)
		if err != nil || !slices.Equal(one.Cracked, []int{1}) {
			t.Fatalf("%v: %+v", err, one)
		}
		return one.Report.Pieces[1].Tension.Use
	}
	any := pulls()
	l.Pieces[2].LongestSoak = 5 * time.Minute
	if short := pulls(); short > any*1.001 {
		t.Errorf("%.3f of the limit, without that piece's soak %.3f", short, any)
	}
}

// TestOverSteps: a tension that is no number is over by more than any.
func TestOverSteps(t *testing.T) {
	for _, x := range []struct {
		use  float64
		want int
	}{{0.5, 0}, {1, 0}, {1.05, 0}, {1.15, 1}, {2, 7}, {20, 31}} {
		if got := overSteps(x.use); got != x.want {
			t.Errorf("%g: %d, want %d", x.use, got, x.want)
		}
	}
	for _, use := range []float64{math.NaN(), math.Inf(1)} {
		if got := overSteps(use); got <= overSteps(1e5) {
			t.Errorf("%g: %d", use, got)
		}
	}
}
