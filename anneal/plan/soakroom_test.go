package plan

import (
	"context"
	"math"
	"slices"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/sim"
	"lehr/anneal/verify"
	"lehr/glass"
)

// TestSoakRoom holds how long a short soak could be against the load's word, and
// against the viscosity: at the annealing point, 10^12 Pa·s, a piece flows in ten
// hours what it flows in one at 10^11, where it is taken to sag.
func TestSoakRoom(t *testing.T) {
	load := loadOf(t, "borosilicate-33", "sphere 2.5in", "sphere 1.25in")
	find := func(l *piece.Load, st kiln.Studio) finding.Finding {
		f, ok := mustPlan(t, l, st, Options{}).Notes.Find(finding.SoakRoom)
		if !ok {
			t.Fatal("says nothing of a soak of minutes")
		}
		return f
	}
	f := find(load, kiln.DefaultStudio())
	log10, err := piece.Log10Viscosity(load.Pieces[0].Glass, f.Temp)
	if err != nil {
		t.Fatal(err)
	}
	if want := math.Pow(10, log10-glass.NeverHours); math.Abs(f.Bears.Hours()-want) > 1 || f.Bears < 9*time.Hour || f.Piece != finding.None {
		t.Errorf("%v by piece %d, want %.1f h by none", f.Bears, f.Piece, want)
	}
	// The chart for borosilicate color soaks an hour for a quarter inch.
	if f.Number != f.To || math.Abs(f.To-10*3600) > 60 {
		t.Errorf("charts %v to %v s, want ten hours", f.Number, f.To)
	}
	hotter := kiln.DefaultStudio()
	hotter.Kiln.ProbeError = 15
	if g := find(load, hotter); g.Bears >= f.Bears {
		t.Errorf("a kiln that may be hotter: %v, no less than %v", g.Bears, f.Bears)
	}
	// What the slow ramp takes of it is no room: held as long as said the piece
	// bears the program, and not held longer.
	load.Pieces[1].LongestSoak = 5 * time.Hour
	rep := mustPlan(t, load, kiln.DefaultStudio(), Options{})
	f, ok := rep.Notes.Find(finding.SoakRoom)
	if slow := rep.Held(1) - f.Time; !ok || f.Piece != 1 || slow < 30*time.Minute || f.Bears > 5*time.Hour-slow || f.Bears < 4*time.Hour+20*time.Minute-slow {
		t.Errorf("%v by piece %d, want what piece 1 bears, 5 h with %v above its strain point besides the soak", f.Bears, f.Piece, slow)
	}
	for _, more := range []time.Duration{0, 40 * time.Minute} {
		s := rep.Schedule
		s.Segments = slices.Clone(s.Segments)
		s.Segments[0].Hold = f.Bears + more
		longer, err := verify.Judge(context.Background(), s, load, rep.Studio, rep.Limits, sim.Settings{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if held := longer.Pieces[1].Over.Has(finding.OverHeld); held != (more > 0) {
			t.Errorf("held %v: over what piece 1 bears: %t", f.Bears+more, held)
		}
	}
	// So is what it waited for.
	load.Pieces[0].In = 4 * time.Hour
	load.Pieces[1].LongestSoak = 0
	if g := find(load, kiln.DefaultStudio()); g.Bears > 7*time.Hour || g.Bears < 5*time.Hour {
		t.Errorf("%v for one that waited 4 h, without %v", g.Bears, 10*time.Hour)
	}
	load.Pieces[0].In = 0
	load.Pieces[1].LongestSoak = f.Time + time.Minute
	if f, ok := mustPlan(t, load, kiln.DefaultStudio(), Options{}).Notes.Find(finding.SoakRoom); ok {
		t.Errorf("no room, but %+v", f)
	}
}

// TestRoundingCosts_isWhatMinutesSave: the hours that whole degrees cost are those
// by which the same load is done sooner with ramps in minutes.
func TestRoundingCosts_isWhatMinutesSave(t *testing.T) {
	load := loadOf(t, "soda-104", "sphere 6in")
	rep := mustPlan(t, load, kiln.DefaultStudio(), Options{})
	f, ok := rep.Notes.Find(finding.RoundingCosts)
	if !ok {
		t.Fatal("says nothing of whole degrees")
	}
	st := kiln.DefaultStudio()
	st.Controller = st.Controller.InMinutes()
	saved := rep.Actual.Total() - mustPlan(t, load, st, Options{}).Actual.Total()
	if f.Time > saved || f.Time < saved-30*time.Minute || saved < 2*time.Hour {
		t.Errorf("says %v, minutes save %v", f.Time, saved)
	}
}
