package plan

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"
	"time"

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
	needLong(t)
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

// TestStair_moreSegments: a large sphere on a controller that takes no less than
// 20 °F/h is done no later with more segments, in what takes as long as told and costs
// as much as told.
func TestStair_moreSegments(t *testing.T) {
	needLong(t)
	st := kiln.DefaultStudio()
	st.Controller.Units, st.Controller.Slowest = unit.US, unit.FahrenheitPerHour(20)
	l := loadOf(t, "borosilicate-33", "sphere 6in", "pendant 45mm x 12mm")
	few, all := 4, os.Getenv("LEHR_CAMPAIGN") == "1"
	if all {
		few = 3
	}
	before := time.Duration(math.MaxInt64)
	for n := few; n <= 8; n++ {
		if st.Controller.Segments = n; !all && n == 6 {
			break
		}
		rep := mustPlan(t, l, st, Options{})
		if rep.Verdict() != verify.WithinLimits || rep.Actual.Total() > before || rep.Studio.Controller != st.Controller {
			t.Errorf("%d segments: %s, %s after %s", n, rep.Verdict(), rep.Actual.Total(), before)
		}
		if f, ok := rep.Notes.Find(finding.Stair); !ok || f.Time > 0 {
			t.Errorf("%d segments: %+v", n, f)
		}
		before = rep.Actual.Total()
	}
}

// TestStair_roomForTheSoak: where the soak is lengthened beyond the longest hold, and
// takes a segment more, one step less leaves room for it; and what is slowed beyond a
// program of fewer segments may be quicker in the end.
func TestStair_roomForTheSoak(t *testing.T) {
	needLong(t)
	st := kiln.DefaultStudio()
	st.Controller.Slowest, st.Controller.Segments, st.Controller.Longest = unit.KelvinPerHour(20), 4, time.Hour
	l := loadOf(t, "borosilicate-33", "disc 200mm x 26mm")
	l.Into = piece.HotKiln
	if rep, err := Plan(t.Context(), l, st, Options{}); err != nil || rep.Verdict() != verify.WithinLimits {
		t.Errorf("four segments: %v", err)
	}
	st.Controller.Slowest, st.Controller.Segments, st.Controller.Longest = unit.KelvinPerHour(15), 6, 3*time.Hour
	l = loadOf(t, "soda-104", "sphere 3in")
	l.Into = piece.HotKiln
	if rep := mustPlan(t, l, st, Options{}); rep.Verdict() != verify.WithinLimits || rep.Actual.Total() > 31*time.Hour {
		t.Errorf("six segments: %s, %s", rep.Verdict(), rep.Actual.Total())
	}
}

// mixedFew is a load of a large sphere and a small one that bears 3 h, in a kiln that
// waits at 560 °C.
func mixedFew(t *testing.T) (*piece.Load, kiln.Studio) {
	l, st := loadOf(t, "borosilicate-33", "sphere 2.5in", "sphere 1.25in"), kiln.DefaultStudio()
	l.Into, l.Pieces[1].LongestSoak, st.Kiln.Holding = piece.HotKiln, 3*time.Hour, unit.Celsius(560)
	return l, st
}

// TestStair_inFewSteps: where a controller takes no less than 60 °C/h in three or four
// segments, one or two holds in the range in which the glass sets keep the limits, and
// cost less than an hour against any rate; so they do where a person keyed them in.
func TestStair_inFewSteps(t *testing.T) {
	needLong(t)
	l, st := mixedFew(t)
	any := mustPlan(t, l, st, Options{})
	st.Controller.Slowest = unit.KelvinPerHour(60)
	for _, segments := range []int{3, 4} {
		st.Controller.Segments = segments
		rep := mustPlan(t, l, st, Options{})
		if costs := rep.Actual.Total() - any.Actual.Total(); rep.Verdict() != verify.WithinLimits || len(rep.Schedule.Segments) != segments || costs > time.Hour {
			t.Errorf("%s in %d segments, costs %s", rep.Verdict(), len(rep.Schedule.Segments), costs)
		}
		for i, s := range rep.Schedule.Segments[1:] {
			if -s.Rate < st.Controller.SlowestKeyed()*(1-1e-9) || s.Hold > 0 != (i < segments-2) {
				t.Errorf("segment %d of %d at %s holds %s", i+2, segments, s.Rate, s.Hold)
			}
		}
		if !rep.Notes.Has(finding.Stair) {
			t.Errorf("%d segments: %+v", segments, rep.Notes)
		}
	}
}

// TestPlan_inTwoSegments: a soak and one ramp, within limits wherever one at 33 °C/h
// is, and no faster than any program.
func TestPlan_inTwoSegments(t *testing.T) {
	l, st := mixedFew(t)
	any := mustPlan(t, l, st, Options{})
	st.Controller.Segments = 2
	rep := mustPlan(t, l, st, Options{})
	if segs := rep.Schedule.Segments; rep.Verdict() != verify.WithinLimits || len(segs) != 2 || -segs[1].Rate < unit.KelvinPerHour(33) || rep.Actual.Total() < any.Actual.Total() {
		t.Errorf("%s: %+v", rep.Verdict(), segs)
	}
}

// TestNearest_isPlannedWith: a controller that cannot be set is told settings with
// each of which there is a program, and with no fewer segments is there one.
func TestNearest_isPlannedWith(t *testing.T) {
	needLong(t)
	within := func(l *piece.Load, st kiln.Studio) bool {
		rep, err := Plan(context.Background(), l, st, hoursOnly)
		return err == nil && rep.Verdict() == verify.WithinLimits
	}
	l, st := mixedFew(t)
	st.Controller.Minutes, st.Controller.Longest = true, 2*time.Hour
	for has := 2; has <= 3; has++ {
		st.Controller.Segments = has
		_, err := Plan(context.Background(), l, st, Options{})
		var many *SegmentsError
		if !errors.As(err, &many) || many.Has != has || !strings.Contains(many.Hint(), fmt.Sprintf("segments = %d", many.Needs)) || strings.Contains(many.Hint(), "design-stress") {
			t.Fatalf("%d segments: %v", has, err)
		}
		for n := has + 1; n <= many.Needs; n++ {
			st.Controller.Segments = n
			if got := within(l, st); got != (n == many.Needs) {
				t.Errorf("%d segments, told %d: with %d there is one: %v", has, many.Needs, n, got)
			}
		}
	}

	l, st = loadOf(t, "borosilicate-33", "sphere 4in"), kiln.DefaultStudio()
	l.Into, st.Controller.Slowest = piece.HotKiln, unit.KelvinPerHour(200)
	_, err := Plan(context.Background(), l, st, Options{})
	var slow *kiln.SlowError
	if !errors.As(err, &slow) || slow.Takes < unit.KelvinPerHour(100) || slow.Wanted > slow.Takes || slow.Wanted < unit.KelvinPerHour(5) {
		t.Fatalf("%v: %+v", err, slow)
	}
	st.Controller.Slowest = slow.Takes
	if !within(l, st) {
		t.Errorf("none with %s", slow.Takes)
	}
	st.Controller.Slowest = unit.KelvinPerHour(200)
	if got := within(l, func() kiln.Studio { st := st; st.Controller = st.Controller.InMinutes(); return st }()); got != slow.Minutes {
		t.Errorf("in minutes %v, told %v", got, slow.Minutes)
	}
	if slow.Segments > 0 {
		if st.Controller.Segments = slow.Segments; !within(l, st) {
			t.Errorf("none with %d segments", slow.Segments)
		}
	}
}
