package plan

import (
	"context"
	"errors"
	"slices"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass"
	"lehr/glass/unit"
)

// TestPlan_warmFitsTheController: a warm program keeps to the longest hold and
// the number of segments as every other does, and gives its reasons.
func TestPlan_warmFitsTheController(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 6in")
	l.Into = piece.WarmOnly
	st := kiln.DefaultStudio()
	long := mustPlan(t, l, st, Options{})
	held := func(rep *verify.Report) (sum, most time.Duration) {
		for _, s := range rep.Schedule.Segments {
			sum, most = sum+s.Hold, max(most, s.Hold)
		}
		return sum, most
	}
	want, _ := held(long)
	if want <= time.Hour {
		t.Fatalf("holds %s: this case tests nothing", want)
	}
	st.Controller.Longest = time.Hour
	rep := mustPlan(t, l, st, Options{})
	if sum, most := held(rep); sum != want || most > time.Hour {
		t.Errorf("holds %s, at most %s in one segment, want %s", sum, most, want)
	}
	for _, r := range []*verify.Report{long, rep} {
		if len(r.Reasons) != len(r.Schedule.Segments) || !slices.ContainsFunc(r.Reasons, func(l finding.List) bool { return l.Has(finding.StaysMarkFree) }) {
			t.Errorf("%d segments, reasons %v", len(r.Schedule.Segments), r.Reasons)
		}
	}
	st.Controller.Longest, st.Controller.Segments = 30*time.Minute, 2
	var many *SegmentsError
	if _, err := Plan(context.Background(), l, st, Options{}); !errors.As(err, &many) {
		t.Errorf("30 min at most in 2 segments: %v", err)
	}
}

// TestPlan_warmLeavesNoMarks: what nobody gave is chosen below the marking
// limit; what somebody gave above it is said.
func TestPlan_warmLeavesNoMarks(t *testing.T) {
	for _, name := range families {
		l := loadOf(t, name, "tube 38mm wall 4mm")
		l.Into = piece.WarmOnly
		marks, err := l.Pieces[0].Glass.Isokom(glass.MarkFree)
		if err != nil {
			t.Fatal(err)
		}
		for _, sys := range []unit.System{unit.Metric, unit.US} {
			st := kiln.DefaultStudio()
			st.Controller.Units = sys
			rep := mustPlan(t, l, st, Options{})
			if at := rep.Schedule.Segments[len(rep.Schedule.Segments)-1].To; marks.Less(at) {
				t.Errorf("%s: stays at %s, takes marks above %s", name, at, marks)
			}
			st.Kiln.Holding = marks.Add(8)
			rep = mustPlan(t, l, st, Options{})
			if at := rep.Schedule.Segments[len(rep.Schedule.Segments)-1].To; !marks.Less(at) || !rep.Notes.Has(finding.StaysAboveMarks) {
				t.Errorf("%s: given %s, stays at %s and says %v", name, st.Kiln.Holding, at, rep.Notes)
			}
		}
	}
}

// TestPlan_warmBodies: a warm program of a body of revolution is told with the stresses of
// the body, as it is when the program is verified, not with those of its bound.
func TestPlan_warmBodies(t *testing.T) {
	l := loadOf(t, "soda-104", "disc 60mm x 20mm")
	l.Into = piece.WarmOnly
	rep := mustPlan(t, l, kiln.DefaultStudio(), Options{})
	want, err := verify.Program(t.Context(), rep.Schedule, l, kiln.DefaultStudio(), kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if got := rep.Pieces[0]; got.Peak != want.Pieces[0].Peak || got.Refined == (verify.Refined{}) {
		t.Errorf("%s, verified %s", got.Peak, want.Pieces[0].Peak)
	}
}
