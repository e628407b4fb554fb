package plan

import (
	"context"
	"os"
	"slices"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// singleOf splits a load and finds its best one program.
func singleOf(t *testing.T, l *piece.Load) (*Sharing, *Single) {
	t.Helper()
	st := kiln.DefaultStudio()
	s, err := Share(t.Context(), l, st, Options{}, ShareHow{})
	if err != nil {
		t.Fatal(err)
	}
	if s.Shareable {
		t.Fatal("it can share")
	}
	one, err := s.Single(t.Context(), l, st, Options{}, Plan)
	if err != nil {
		t.Fatal(err)
	}
	return s, one
}

// TestSingle_mends: soft glass and hard glass in one firing: the program for the
// soft one harms neither, and what it leaves undone in the hard one is within every
// limit after the program from a cold kiln that is given for it.
func TestSingle_mends(t *testing.T) {
	needLong(t)
	l := loadOf(t, "borosilicate-33", "4 x sphere 1in", "sphere 20mm")
	soft := loadOf(t, "soda-104", "6 x pendant 30mm x 8mm")
	l.Pieces = append(l.Pieces, soft.Pieces...)
	s, one := singleOf(t, l)
	if len(one.Harmed)+len(one.Hopeless)+len(one.Cooler) > 0 || len(one.Again) != 1 || !slices.Equal(one.Again[0].Pieces, []int{0, 1}) {
		t.Fatalf("%+v", one)
	}
	if f := s.Firings[one.Firing]; !slices.Equal(f.Pieces, []int{2}) {
		t.Errorf("the program of %v", f.Pieces)
	}
	for i, p := range one.Report.Pieces {
		if want := i == 2; p.Within != want || p.Over.Has(finding.OverRelaxed) == want {
			t.Errorf("%s: within %v, %v", p.Piece.What, p.Within, p.Over)
		}
	}
	// Every other program of the split does more harm.
	for i, f := range s.Firings {
		if i == one.Firing {
			continue
		}
		rep, err := verify.Program(context.Background(), f.Report.Schedule, l, kiln.DefaultStudio(), kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		// for good, or to more pieces: six pendants, where five spheres are to be
		// annealed again
		if len(rep.Pieces[2].Over) == 0 {
			t.Errorf("firing %d: does the pendants no harm", i+1)
		}
	}
	cold := l.Some(one.Again[0].Pieces)
	cold.Into = piece.ColdKiln
	rep, err := verify.Program(context.Background(), one.Again[0].Report.Schedule, cold, kiln.DefaultStudio(), kiln.Limits{})
	if err != nil || rep.Verdict() != verify.WithinLimits {
		t.Errorf("again: %v, %v", rep.Verdict(), err)
	}
	// They bring the stress that the shared program left, and half of what is borne is
	// for that: 5 MPa at worst for ordinary pieces.
	for _, p := range one.Again[0].Report.Pieces {
		if p.Peak > 2.5*unit.Megapascal || p.Tension.Pair.Worst > 2.5*unit.Megapascal {
			t.Errorf("again: %s of tension, %s borne", p.Peak, p.Tension.Pair.Worst)
		}
	}
}

// TestSingle_soakBorne: where a piece bears only a short soak, the one program
// soaks no longer, and the piece that needs more is annealed again.
func TestSingle_soakBorne(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 3in", "8 x sphere 1in")
	l.Pieces[0].HottestSoak = l.Pieces[0].Glass.Anneal.Temp().Add(-25)
	l.Pieces[1].LongestSoak = 90 * time.Minute // above its strain point, the slow ramp included
	_, one := singleOf(t, l)
	if len(one.Harmed) > 0 {
		t.Errorf("harms %v", one.Harmed)
	}
	for i, p := range one.Report.Pieces {
		if p.Over.Has(finding.OverHeld) || p.Over.Has(finding.OverHottest) {
			t.Errorf("%s: %v", p.Piece.What, p.Over)
		}
		again := slices.ContainsFunc(one.Again, func(f Firing) bool { return slices.Contains(f.Pieces, i) })
		if p.Within == again {
			t.Errorf("%s: within %v, again %v", p.Piece.What, p.Within, again)
		}
	}
}

// TestSingle_spareTheGlass: a program that holds pieces hot for longer than their
// color bears is better than one in which others may crack.
func TestSingle_spareTheGlass(t *testing.T) {
	l := loadOf(t, "soda-104", "sphere 3in", "8 x sphere 1in")
	l.Pieces[1].LongestSoak = 50 * time.Minute
	_, one := singleOf(t, l)
	if len(one.Cracked) > 0 || !slices.Equal(one.Harmed, []int{1}) || !one.Report.Pieces[1].Over.Has(finding.OverHeld) {
		t.Errorf("cracked %v, harmed %v", one.Cracked, one.Harmed)
	}
}

// TestPlan_hurried: where pieces would only be hot for too long, the cooling that is
// quicker by slowing what no kiln follows is found: alone the large ones have it.
func TestPlan_hurried(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 2.5in", "sphere 1.25in")
	alone := mustPlan(t, l.Some([]int{0}), kiln.DefaultStudio(), hoursOnly)
	l.Pieces[1].LongestSoak = 2 * time.Hour
	both := mustPlan(t, l, kiln.DefaultStudio(), hoursOnly)
	if !both.Within || both.Actual.Total() > alone.Actual.Total()+time.Minute {
		t.Errorf("%s, %s; the large one alone %s", both.Verdict(), both.Actual.Total(), alone.Actual.Total())
	}
}

// TestSingle_closer: what a program of a firing is first taken to cost the whole load
// is no more than it turns out to, also with a shorter soak and judged wholly, and what
// it does to the pieces that it was not made for is the same with them alone as with all.
func TestSingle_closer(t *testing.T) {
	needLong(t)
	soft := loadOf(t, "soda-104", "6 x pendant 30mm x 8mm", "3 x sphere 1in")
	mixed := loadOf(t, "borosilicate-33", "4 x sphere 1in", "sphere 20mm")
	mixed.Pieces = append(mixed.Pieces, soft.Pieces...)
	short := loadOf(t, "soda-104", "sphere 3in", "8 x sphere 1in", "2 x sphere 30mm")
	short.Pieces[1].LongestSoak, short.Pieces[2].LongestSoak = 50*time.Minute, 50*time.Minute
	// By its bound the disc would crack in the second firing's program, as it is it does not.
	thick := loadOf(t, "soda-104", "disc 46mm x 21mm", "rod 16mm x 44mm raised")
	tube := loadOf(t, "borosilicate-33", "tube 47mm wall 7mm x 50mm raised")
	thick.Into, thick.Pieces = piece.ColdKiln, append(thick.Pieces, tube.Pieces...)
	thick.Pieces[1].LongestSoak, thick.Pieces[2].LongestSoak = 115*time.Minute, 133*time.Minute
	st := kiln.DefaultStudio()
	bounded, shorter := 0, 0
	loads := []*piece.Load{mixed, short}
	if os.Getenv("LEHR_CAMPAIGN") == "1" {
		loads = append(loads, thick)
	}
	for _, l := range loads {
		s, err := Share(t.Context(), l, st, Options{}, ShareHow{})
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range s.Firings {
			least, err := s.least(t.Context(), f, l, st, kiln.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			if least != [costs]int{} {
				bounded++
			}
			closer, err := s.judgeOthers(t.Context(), candidate{s: f.Report.Schedule, firing: i}, l, st, kiln.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			shorter += len(closer) - 1
			for _, c := range closer {
				if slices.Compare(least[:], c.cost[:]) > 0 {
					t.Errorf("%v: at least %v, and it costs %v", f.Pieces, least, c.cost)
				}
				rep, err := quickly(t.Context(), c.s, l, st, kiln.Limits{})
				if err != nil {
					t.Fatal(err)
				}
				if _, cost := judgeSingle(rep, i); cost != c.cost {
					t.Errorf("%v: costs %v, with all pieces %v", f.Pieces, c.cost, cost)
				}
				if rep, err = verify.Program(t.Context(), c.s, l, st, kiln.Limits{}); err != nil {
					t.Fatal(err)
				}
				if _, cost := judgeSingle(rep, i); slices.Compare(least[:], cost[:]) > 0 {
					t.Errorf("%v: at least %v, and it costs %v", f.Pieces, least, cost)
				}
			}
		}
	}
	if bounded == 0 || shorter == 0 {
		t.Errorf("%d bounded, %d with a shorter soak: the loads show nothing", bounded, shorter)
	}
}

// TestSingle_heldAlone: a piece that its own program holds for too long is spared by one
// with a shorter soak, after which the others are annealed again.
func TestSingle_heldAlone(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "4 x sphere 1in")
	soft := loadOf(t, "soda-104", "sphere 1.5in")
	l.Pieces = append(l.Pieces, soft.Pieces...)
	l.Pieces[1].HottestSoak, l.Pieces[1].LongestSoak = l.Pieces[1].Glass.Anneal.Temp().Add(-15), 62*time.Minute
	if _, one := singleOf(t, l); len(one.Harmed) > 0 || len(one.Again) != 2 {
		t.Errorf("harms %v, %d to anneal again", one.Harmed, len(one.Again))
	}
}

// TestSingle_soakedMore: hard and soft glass share a program whose soak is long enough for
// the hard one where the soft one does not sag, and no piece is over a limit in it.
func TestSingle_soakedMore(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "3 x sphere 2.5in")
	soft := loadOf(t, "soda-104", "4 x pendant 45mm x 12mm")
	l.Pieces = append(l.Pieces, soft.Pieces...)
	_, err := Plan(t.Context(), l, kiln.DefaultStudio(), Options{})
	if !Divisible(nil, err) {
		t.Fatalf("one program by the rule: %v", err)
	}
	rep, s, err := Instead(t.Context(), l, kiln.DefaultStudio(), Options{}, nil, ShareHow{})
	if err != nil || s != nil || rep.Verdict() != verify.WithinLimits || !rep.Notes.Has(finding.SoakLengthened) {
		t.Fatalf("%v, %v", s, err)
	}
	shorter := rep.Schedule
	shorter.Segments = slices.Clone(shorter.Segments)
	shorter.Segments[0].Hold -= 15 * time.Minute // a sixteenth of what was found
	if rep, err = verify.Program(t.Context(), shorter, l, kiln.DefaultStudio(), kiln.Limits{}); err != nil || rep.Within {
		t.Errorf("within with a soak of %s: %v", shorter.Segments[0].Hold, err)
	}
}
