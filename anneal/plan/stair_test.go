package plan

import (
	"context"
	"errors"
	"testing"

	"pgregory.net/rapid"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestStair_keepsTheLimits: a controller whose smallest rate is above what a piece
// needs is given steps that it takes, within the limits; or it is told how many
// segments it would have to have.
func TestStair_keepsTheLimits(t *testing.T) {
	few(t, 25, func(t *rapid.T) {
		st := kiln.DefaultStudio()
		st.Controller.Slowest = unit.KelvinPerHour(float64(rapid.IntRange(20, 200).Draw(t, "slowest")))
		st.Controller.Segments = rapid.IntRange(3, 12).Draw(t, "segments")
		l := &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{drawOne(t, rapid.Float64Range(20, 70).Draw(t, "mm"), "borosilicate-33", 0, piece.OnShelf)}}
		rep, err := Plan(context.Background(), l, st, Options{})
		var slow *kiln.SlowError
		if errors.As(err, &slow) {
			if st.Controller.Segments > 7 { // of three slow ramps, and the soak
				t.Fatalf("%d segments: %v", st.Controller.Segments, err)
			}
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		if rep.Verdict() != verify.WithinLimits || len(rep.Schedule.Segments) > st.Controller.Segments {
			t.Fatalf("%s in %d segments of %d", rep.Verdict(), len(rep.Schedule.Segments), st.Controller.Segments)
		}
		for i, s := range rep.Schedule.Segments {
			if s.Rate != 0 && !s.Full && -s.Rate < st.Controller.SlowestKeyed()*(1-1e-9) && s.Rate < 0 {
				t.Fatalf("segment %d at %s, the smallest is %s", i+1, s.Rate, st.Controller.SlowestKeyed())
			}
		}
	})
}

// TestStair_costs: a sphere of 63.5 mm needs about 30 °C/h through its range; on a
// controller that takes no less than 60 °C/h that is steps, and they are told with
// what they cost, which is less than half an hour.
func TestStair_costs(t *testing.T) {
	st := kiln.DefaultStudio()
	l := loadOf(t, "borosilicate-33", "sphere 2.5in")
	any := mustPlan(t, l, st, Options{})
	st.Controller.Slowest = unit.KelvinPerHour(60)
	rep := mustPlan(t, l, st, Options{})
	f, ok := rep.Notes.Find(finding.Stair)
	if costs := rep.Actual.Total() - any.Actual.Total(); !ok || rep.Verdict() != verify.WithinLimits || costs > f.Time+60e9 || f.Time > 1800e9 {
		t.Errorf("%s, takes %s instead of %s, says %+v", rep.Verdict(), rep.Actual.Total(), any.Actual.Total(), f)
	}
	// At 40 °C/h, less than the rule asks, one ramp keeps the limits as well, in no
	// longer than with any rate and a tenth.
	st.Controller.Slowest, st.Controller.Segments = unit.KelvinPerHour(42), 4
	if rep = mustPlan(t, l, st, Options{}); rep.Verdict() != verify.WithinLimits || rep.Actual.Total() > any.Actual.Total()*11/10 {
		t.Errorf("%s, takes %s instead of %s", rep.Verdict(), rep.Actual.Total(), any.Actual.Total())
	}
	st.Controller.Slowest, st.Controller.Segments = unit.KelvinPerHour(1), 3
	if rep = mustPlan(t, l, st, Options{}); !rep.Notes.Has(finding.FewSegments) {
		t.Errorf("three segments: %+v", rep.Notes)
	}
}
