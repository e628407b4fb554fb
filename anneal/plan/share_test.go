package plan

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

func mustShare(t interface{ Fatalf(string, ...any) }, l *piece.Load) *Sharing {
	s, err := Share(context.Background(), l, kiln.DefaultStudio(), Options{}, ShareHow{})
	if err != nil {
		t.Fatalf("%v", err)
	}
	return s
}

// covers wants every piece in exactly one firing, and every firing planned for
// its pieces alone.
func covers(t interface{ Fatalf(string, ...any) }, l *piece.Load, s *Sharing) {
	seen := map[int]int{}
	for _, f := range s.Firings {
		for j, i := range f.Pieces {
			seen[i]++
			if f.Report.Pieces[j].Piece.What != l.Pieces[i].What {
				t.Fatalf("firing %v reports %q for piece %d", f.Pieces, f.Report.Pieces[j].Piece.What, i)
			}
		}
		if !slices.IsSorted(f.Pieces) || len(f.Report.Pieces) != len(f.Pieces) {
			t.Fatalf("firing %v of %d reports", f.Pieces, len(f.Report.Pieces))
		}
	}
	for i := range l.Pieces {
		if seen[i] != 1 {
			t.Fatalf("piece %d is in %d firings", i, seen[i])
		}
	}
}

func TestShare_yes(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "6 x sphere 2.5in", "14 x sphere 1.25in", "pendant 45mm x 12mm")
	s := mustShare(t, l)
	covers(t, l, s)
	if !s.Shareable || len(s.Firings) != 1 || len(s.Reasons) != 0 || !s.Exact {
		t.Fatalf("%+v", s)
	}
	rep := s.Firings[0].Report
	if !rep.Within || len(rep.Pieces[0].Decides) == 0 || len(rep.Pieces[2].Decides) != 0 {
		t.Errorf("decides %q and %q", rep.Pieces[0].Decides, rep.Pieces[2].Decides)
	}
	// Sharing costs the large ones nothing and the small ones hours.
	if big, small := s.Cost(0, 0), s.Cost(0, 2); big > 5*time.Minute || small < time.Hour {
		t.Errorf("costs %s and %s", big, small)
	}
}

// TestShare_no gives each reason for which a load cannot share.
func TestShare_no(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func(l *piece.Load)
		firings int
		kinds   []finding.Kind
	}{
		{"glasses that soak apart", func(l *piece.Load) {
			l.Pieces = append(l.Pieces, pieceOf(t, "sphere 1in", "soda-104"))
		}, 2, []finding.Kind{finding.SoakBandLow, finding.SoakBandHigh, finding.SoakBandNarrow}},
		{"a soak too long", func(l *piece.Load) {
			l.Pieces[0] = pieceOf(t, "sphere 100mm", "borosilicate-33")
			l.Pieces[1].LongestSoak = 45 * time.Minute
		}, 2, []finding.Kind{finding.SoakTooLong}},
		{"glasses of which one bears less heat", func(l *piece.Load) {
			p := pieceOf(t, "sphere 1in", "float")
			p.HottestSoak = unit.Celsius(525)
			l.Pieces = append(l.Pieces, p)
		}, 2, []finding.Kind{finding.SoakBandLow, finding.SoakBandHottest, finding.SoakBandNarrow}},
	} {
		l := loadOf(t, "borosilicate-33", "sphere 2.5in", "sphere 1in")
		c.change(l)
		if strings.HasPrefix(c.name, "glasses of which") {
			l.Pieces = l.Pieces[1:]
		}
		s := mustShare(t, l)
		covers(t, l, s)
		if s.Shareable || len(s.Firings) != c.firings || !s.Exact {
			t.Errorf("%s: %d firings, shareable %v", c.name, len(s.Firings), s.Shareable)
		}
		var kinds []finding.Kind
		for _, r := range s.Reasons {
			kinds = append(kinds, r.Kind)
			if most := 521 + 5.0; r.Kind == finding.SoakBandHigh && (l.Pieces[r.Piece].Glass.Name != "soda-104" || r.Temp.Celsius() > most) {
				t.Errorf("%s: %+v", c.name, r)
			}
			if r.Kind == finding.SoakTooLong && (r.Piece != 0 || r.Other != 1 || r.Bears != 45*time.Minute || r.Time <= r.Bears) {
				t.Errorf("%s: %+v", c.name, r)
			}
		}
		if !slices.Equal(kinds, c.kinds) {
			t.Errorf("%s: %v, want %v", c.name, kinds, c.kinds)
		}
		for _, f := range s.Firings {
			if !f.Report.Within {
				t.Errorf("%s: firing %v is over a limit", c.name, f.Pieces)
			}
		}
		var conflict *ConflictError
		if _, err := Plan(context.Background(), l, kiln.DefaultStudio(), Options{}); !errors.As(err, &conflict) || !strings.Contains(conflict.Hint(), "lehr share") {
			t.Errorf("%s: plan says %v", c.name, err)
		}
	}
}

// TestShare_hottestSoak: a piece of the same glass that bears less heat does
// not forbid sharing: all soak colder and longer.
func TestShare_hottestSoak(t *testing.T) {
	l := loadOf(t, "soda-104", "sphere 2in", "pendant 40mm x 8mm")
	l.Pieces[1].HottestSoak = unit.Celsius(500)
	s := mustShare(t, l)
	if !s.Shareable {
		t.Fatalf("%+v", s.Reasons)
	}
	rep := s.Firings[0].Report
	if at := rep.Schedule.Segments[0].To; at != unit.Celsius(500) || !slices.Contains(rep.Pieces[1].Decides, program.SoakTemperature) {
		t.Errorf("soaks at %s, decided by %q", at, rep.Pieces[1].Decides)
	}
	if alone := mustPlan(t, l.Some([]int{0}), kiln.DefaultStudio(), Options{}).Schedule.Segments[0]; alone.Hold >= rep.Schedule.Segments[0].Hold {
		t.Errorf("soaks %s at %s, %s at 500 °C", alone.Hold, alone.To, rep.Schedule.Segments[0].Hold)
	}
}

// TestShare_tooSlowForTheController: one piece that asks for a slower ramp than
// can be set is named, and the others get their program.
func TestShare_tooSlowForTheController(t *testing.T) {
	needCampaign(t)
	l := loadOf(t, "borosilicate-33", "sphere 1in", "sphere 6in", "pendant 45mm x 12mm")
	st := kiln.DefaultStudio()
	st.Controller.Slowest, st.Controller.Segments = unit.KelvinPerHour(100), 3 // too few for steps
	var slow *kiln.SlowError
	if _, err := Plan(context.Background(), l, st, Options{}); !errors.As(err, &slow) || !strings.HasPrefix(err.Error(), "sphere 6in: rate ") {
		t.Errorf("plan says %v", err)
	}
	s, err := Share(context.Background(), l, st, Options{}, ShareHow{})
	if err != nil {
		t.Fatal(err)
	}
	if s.Shareable || len(s.Unfit) != 1 || s.Unfit[0].Piece != 1 || !errors.As(s.Unfit[0].Err, &slow) || len(s.Firings) != 1 || !slices.Equal(s.Firings[0].Pieces, []int{0, 2}) {
		t.Fatalf("shareable %v, unfit %v, firings %+v", s.Shareable, s.Unfit, s.Firings)
	}
	if len(s.Reasons) != 1 || s.Reasons[0] != finding.OfPiece(finding.Unkeyable, 1) || !s.Firings[0].Report.Within {
		t.Errorf("%v", s.Reasons)
	}
	// Nothing is left of a load of such pieces.
	if _, err := Share(context.Background(), l.Some([]int{1}), st, Options{}, ShareHow{}); !errors.As(err, &slow) || !strings.HasPrefix(err.Error(), "sphere 6in: ") {
		t.Errorf("alone: %v", err)
	}
}

// TestShare_prunedIsNotProved: of four pieces of which no pair goes together,
// some three are never tried, so the split is not proved; of three pieces every
// pair is tried.
func TestShare_prunedIsNotProved(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 1in", "sphere 1.25in", "sphere 1.5in", "sphere 1.75in")
	for _, c := range []struct {
		pieces  int
		firings int
		exact   bool
	}{{4, 4, false}, {3, 3, true}} {
		part := l.Some([]int{0, 1, 2, 3}[:c.pieces])
		how := ShareHow{Planner: func(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) (*verify.Report, error) {
			if len(l.Pieces) > 1 {
				return nil, &ConflictError{Load: l, Reasons: finding.List{finding.Of(finding.NoneWithin)}}
			}
			return Plan(ctx, l, st, o)
		}}
		s, err := Share(context.Background(), part, kiln.DefaultStudio(), Options{}, how)
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Firings) != c.firings || s.Exact != c.exact {
			t.Errorf("%d pieces: %d firings, proved %v, want %d and %v", c.pieces, len(s.Firings), s.Exact, c.firings, c.exact)
		}
	}
}

// TestShare_beyondExact: thirteen kinds are split well, and it says that this is
// no proof, unless two firings do: the whole load was refused.
func TestShare_beyondExact(t *testing.T) {
	needLong(t)
	for i, glasses := range [][]string{{"borosilicate-33", "soda-104", "aluminosilicate"}, {"borosilicate-33", "soda-104"}} {
		if i > 0 && !long() {
			continue
		}
		l := &piece.Load{Into: piece.HotKiln}
		for i := range MostExact + 1 {
			p := pieceOf(t, "sphere 8mm", glasses[i%len(glasses)])
			p.Size += unit.Length(i) * unit.Millimeter
			l.Pieces = append(l.Pieces, p)
		}
		s := mustShare(t, l)
		covers(t, l, s)
		if s.Shareable || s.Exact != (len(glasses) == 2) || len(s.Firings) != len(glasses) {
			t.Errorf("%d glasses: %d firings, proved %v", len(glasses), len(s.Firings), s.Exact)
		}
	}
}

// quick asks the closed forms about a load.
func quick(l *piece.Load, st kiln.Studio, o Options) (float64, error) {
	pl := planner{load: l, st: st, o: o, limits: o.Limits.Or(st.Limits)}
	if err := pl.require(); err != nil {
		return 0, err
	}
	return pl.quick()
}

// drawMixed draws a load of glasses, heat limits and longest soaks that often
// conflict, by the same grid that brute force searches.
func drawMixed(t *rapid.T, most int) *piece.Load {
	l := &piece.Load{Into: piece.HotKiln}
	for range rapid.IntRange(2, most).Draw(t, "pieces") {
		name := rapid.SampledFrom([]string{"borosilicate-33", "soda-104", "float", "fusible-90", "lead-crystal"}).Draw(t, "glass")
		p := drawOne(t, float64(rapid.IntRange(2, 12).Draw(t, "size")*5), name, 0, piece.OnShelf)
		p.What = p.Size.String() + " " + name
		alone, err := quick(&piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.DefaultStudio(), Options{})
		if err != nil || math.IsInf(alone, 0) {
			t.Fatal(err)
		}
		if rapid.IntRange(0, 2).Draw(t, "limited") == 0 {
			rep, err := Plan(context.Background(), &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.DefaultStudio(), Options{})
			if err != nil {
				t.Fatal(err)
			}
			p.LongestSoak = aboveStrain(rep, p) + time.Duration(rapid.IntRange(1, 20).Draw(t, "more"))*time.Minute
		}
		l.Pieces = append(l.Pieces, p)
	}
	return l
}

// partitions calls f with every way to put n things into groups.
func partitions(n int, f func(groups [][]int)) {
	var put func(i int, groups [][]int)
	put = func(i int, groups [][]int) {
		if i == n {
			f(groups)
			return
		}
		for g := range groups {
			groups[g] = append(groups[g], i)
			put(i+1, groups)
			groups[g] = groups[g][:len(groups[g])-1]
		}
		put(i+1, append(groups, []int{i}))
	}
	put(0, nil)
}

// TestShare_fewest compares the number of firings with a search through every
// partition, each group of it tried by planning it.
func TestShare_fewest(t *testing.T) {
	few(t, 12, func(t *rapid.T) {
		l := drawMixed(t, 5)
		s, err := Share(context.Background(), l, kiln.DefaultStudio(), Options{}, ShareHow{})
		if err != nil {
			if strings.Contains(err.Error(), "even alone") {
				return
			}
			t.Fatal(err)
		}
		covers(t, l, s)
		good := map[int]bool{}
		possible := func(group []int) bool {
			key := 0
			for _, i := range group {
				key |= 1 << i
			}
			ok, known := good[key]
			if !known {
				rep, err := Plan(context.Background(), l.Some(group), kiln.DefaultStudio(), Options{})
				var conflict *ConflictError
				if err != nil && !errors.As(err, &conflict) {
					t.Fatal(err)
				}
				ok = err == nil && rep.Within
				good[key] = ok
			}
			return ok
		}
		best := len(l.Pieces) + 1
		partitions(len(l.Pieces), func(groups [][]int) {
			if len(groups) < best && !slices.ContainsFunc(groups, func(g []int) bool { return !possible(g) }) {
				best = len(groups)
			}
		})
		if len(s.Firings) != best || s.Shareable != (best == 1) {
			t.Fatalf("%d firings, brute force finds %d", len(s.Firings), best)
		}
		for _, f := range s.Firings {
			if !f.Report.Within {
				t.Fatalf("firing %v is over a limit", f.Pieces)
			}
		}
	})
}

// TestSplitter_fewest is the same search on conflicts made up: intervals that
// must have a point in common, for which sweeping the right ends is known to
// need the fewest points.
func TestSplitter_fewest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 9).Draw(t, "n")
		type interval struct{ low, high int }
		var all []interval
		sp := &splitter{groups: make([]int, n)}
		for range n {
			low := rapid.IntRange(0, 30).Draw(t, "low")
			all = append(all, interval{low, low + rapid.IntRange(0, 12).Draw(t, "width")})
		}
		sp.hours = make([]float64, 1<<n)
		for set := 1; set < 1<<n; set++ {
			low, high, hours := 0, math.MaxInt, 0.0
			for _, k := range listed(set) {
				low, high = max(low, all[k].low), min(high, all[k].high)
				hours = max(hours, float64(all[k].high))
			}
			if sp.hours[set] = hours; low > high {
				sp.hours[set] = math.Inf(1)
			}
		}
		groups, err := sp.fewest()
		if err != nil {
			t.Fatal(err)
		}
		left := slices.Clone(all)
		slices.SortFunc(left, func(a, b interval) int { return a.high - b.high })
		points, last := 0, -1
		for _, v := range left {
			if v.low > last {
				points, last = points+1, v.high
			}
		}
		if len(groups) != points {
			t.Fatalf("%d groups, sweeping needs %d: %v of %v", len(groups), points, groups, all)
		}
		// A refused set is avoided, with every set that contains it.
		for _, g := range groups {
			if len(g) > 1 {
				sp.refused = append(sp.refused, g)
				again, err := sp.fewest()
				if err != nil {
					t.Fatal(err)
				}
				for _, h := range again {
					if sp.isRefused(h) {
						t.Fatalf("%v was refused, and %v is offered", g, h)
					}
				}
				break
			}
		}
	})
}

// TestShare_notToBlame: a piece that exceeds a limit even alone does not make a
// load unshareable.
func TestShare_notToBlame(t *testing.T) {
	s := &Sharing{AloneOver: []bool{true, false}}
	over := &verify.Report{Pieces: []verify.PieceReport{{Within: false}, {Within: true}}}
	if s.overLimit([]int{0, 1}, over) != nil {
		t.Error("sharing is blamed for a piece that is over a limit alone")
	}
	over.Pieces[1].Within = false
	if !slices.Equal(s.overLimit([]int{0, 1}, over), []int{1}) {
		t.Error("sharing is not blamed for a piece that is within limits alone")
	}
}
