package plan

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass"
	"lehr/glass/unit"
)

// verifyText verifies a schedule file for one piece.
func verifyText(t *testing.T, schedule, name, what string, into piece.Into, st kiln.Studio) (*verify.Report, error) {
	t.Helper()
	s, err := readSchedule(schedule)
	if err != nil {
		t.Fatal(err)
	}
	p, err := piece.Parse(what)
	if err != nil {
		t.Fatal(err)
	}
	if p.Glass, err = glass.Find(name); err != nil {
		t.Fatal(err)
	}
	return verify.Program(context.Background(), s, &piece.Load{Into: into, Pieces: []piece.Piece{p}}, st, kiln.Limits{})
}

// TestPlan_noFasterThanAnyKiln: what is keyed in for a kiln that nobody measured is
// no faster than the quickest can fall that it may be, and the night takes as long in
// the likeliest.
func TestPlan_noFasterThanAnyKiln(t *testing.T) {
	minutes := kiln.DefaultStudio()
	minutes.Controller.Minutes = true
	for name, st := range map[string]kiln.Studio{"degrees": kiln.DefaultStudio(), "minutes": minutes} {
		rep := mustPlan(t, loadOf(t, "borosilicate-33", "sphere 20mm"), st, hoursOnly)
		quick := st.Kiln.Fall
		quick.TimeConstant = kiln.QuickestFall
		at := rep.Schedule.From
		for i, seg := range rep.Schedule.Segments {
			if d := float64(at.Sub(seg.To)); d > 0 {
				most, rate := float64(quick.Rate(at))/kiln.Followed, -float64(seg.Rate)
				step := float64(st.Controller.Degree()) / 3600
				if st.Controller.Minutes { // a minute less than it takes
					step = d/math.Max(60, d/most-60) - most
				}
				if rate > most+step {
					t.Errorf("%s, segment %d: %s, and no kiln falls faster than %s", name, i+1, seg.Rate, unit.Rate(most))
				}
			}
			at = seg.To
		}
		free := rep.Schedule
		free.Segments = slices.Clone(free.Segments)
		for i := range free.Segments {
			free.Segments[i].Rate *= 3
		}
		if a, b := rep.Actual.Total(), free.As(&st.Kiln).Total(); a > b+20*time.Minute {
			t.Errorf("%s: takes %s, and %s at three times its rates", name, a, b)
		}
	}
}
