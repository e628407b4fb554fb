package plan

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/glass/unit"
)

// TestPlan_saysWhatIsOdd: what a person must know of a program comes first.
func TestPlan_saysWhatIsOdd(t *testing.T) {
	hot := kiln.DefaultStudio()
	hot.Kiln.Holding = unit.Celsius(620)
	bears := loadOf(t, "soda-104", "sphere 1in")
	bears.Pieces[0].HottestSoak = unit.Celsius(505)
	warm := kiln.DefaultStudio()
	warm.Kiln.Holding = unit.Celsius(515)
	for _, c := range []struct {
		name string
		load *piece.Load
		st   kiln.Studio
		o    Options
		want finding.Kind
	}{
		{"holding above the soak range", loadOf(t, "soda-104", "sphere 1in"), hot, Options{}, finding.OverWaits},
		{"holding above what a piece bears", bears, warm, Options{}, finding.OverWaits},
		{"whole degrees per hour", loadOf(t, "soda-104", "sphere 6in"), kiln.DefaultStudio(), Options{}, finding.RoundingCosts},
		{"a soak at the strain point", loadOf(t, "fusible-90", "slab 200mm x 25mm raised"), kiln.DefaultStudio(), Options{Rule: "fusible-slab"}, finding.SoakLengthened},
	} {
		rep := mustPlan(t, c.load, c.st, c.o)
		f, ok := rep.Notes.Find(c.want)
		if c.want == finding.OverWaits {
			f, ok = rep.Pieces[0].Over.Find(c.want)
		}
		if !ok {
			t.Errorf("%s: notes %v, want %v", c.name, rep.Notes, c.want)
		}
		over := c.load.Pieces[0].HottestSoak
		switch {
		case c.want == finding.OverWaits && over.IsZero():
			if ok = f.Name == "soda-104" && f.Temp == unit.Celsius(620) && math.Abs(f.Limit.Celsius()-521) < 1; !ok {
				t.Errorf("%s: %+v", c.name, f)
			}
		case c.want == finding.OverWaits:
			if f.Name != "" || f.Limit != over {
				t.Errorf("%s: %+v", c.name, f)
			}
		case c.want == finding.SoakLengthened:
			if f.Bears != 4*time.Hour || f.Time <= f.Bears {
				t.Errorf("%s: %+v", c.name, f)
			}
		}
		if rep.Within != (c.want != finding.OverWaits) {
			t.Errorf("%s: within %v", c.name, rep.Within)
		}
	}
	notes := mustPlan(t, loadOf(t, "borosilicate-33", "sphere 2.5in"), exactController(), Options{}).Notes
	if len(notes) == 0 || notes[0] != finding.Of(finding.WaitsAt) {
		t.Fatalf("notes %v, want where the pieces wait first", notes)
	}
	for _, f := range notes[1:] {
		if f.Kind != finding.KilnLate && f.Kind != finding.LightUnsaid && f.Kind != finding.SoakRoom && f.Kind != finding.LastEven && f.Kind != finding.StillHot {
			t.Errorf("nothing odd, but %+v", f)
		}
	}
}

// TestPlan_frozenTension: a tension that was set when a piece froze, and is
// raised by its bed, is mended by freezing slower; slowing the ramp in which it
// shows would raise it, and take weeks.
func TestPlan_frozenTension(t *testing.T) {
	rep := mustPlan(t, loadOf(t, "borosilicate-33", "rod 70mm bedded"), exactController(), Options{Limits: kiln.Limits{Tension: 1.6 * unit.Megapascal, Residual: 2 * unit.Megapascal}})
	if !rep.Within || rep.Nominal.Total() > 130*time.Hour {
		t.Errorf("takes %s, within %v", rep.Nominal.Total(), rep.Within)
	}
}

// TestPlan_tooManySegments: what does not fit the controller is said, with the
// way out.
func TestPlan_tooManySegments(t *testing.T) {
	st := kiln.DefaultStudio()
	st.Controller.Segments = 4
	l := loadOf(t, "borosilicate-33", "sphere 1in")
	_, err := Plan(context.Background(), l, st, Options{Rule: "borosilicate-soak"})
	var many *SegmentsError
	if !errors.As(err, &many) || many.Needs != 6 || !strings.Contains(many.Hint(), "segments = 6") {
		t.Errorf("%v", err)
	}
	st.Controller.Segments, st.Controller.Longest = 2, time.Hour
	_, err = Plan(context.Background(), loadOf(t, "borosilicate-33", "sphere 4in"), st, Options{})
	if !errors.As(err, &many) || many.Soak != 2 || many.Held != time.Hour || many.Needs != 3 {
		t.Errorf("a soak that takes two holds: %v", err)
	}
	st.Controller = kiln.DefaultStudio().Controller
	st.Controller.Segments = 3
	if rep := mustPlan(t, l, st, Options{}); len(rep.Schedule.Segments) > 3 || !rep.Within {
		t.Errorf("%d segments, within %v", len(rep.Schedule.Segments), rep.Within)
	}
}
