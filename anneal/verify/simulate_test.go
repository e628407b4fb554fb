package verify

import (
	"context"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/floats/scalar"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// usual is a program as a studio might have it on the wall.
func usual(hold time.Duration, perHour float64) program.Schedule {
	return program.Schedule{From: unit.Celsius(560), Segments: []program.Segment{
		{Purpose: "hold", To: unit.Celsius(560), Hold: hold},
		{Purpose: "cooling", Rate: unit.KelvinPerHour(-perHour), To: unit.Celsius(40)},
	}}
}

// mustJudge judges a program in a kiln that follows it exactly.
func mustJudge(t testing.TB, s program.Schedule, l *piece.Load) *Report {
	t.Helper()
	rep, err := Judge(context.Background(), s, l, kiln.DefaultStudio(), kiln.DefaultLimits(), sim.Settings{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if rep, err = AsBodies(t.Context(), rep); err != nil {
		t.Fatal(err)
	}
	return rep
}

func mustVerify(t testing.TB, s program.Schedule, l *piece.Load, limits kiln.Limits) *Report {
	t.Helper()
	rep, err := Program(context.Background(), s, l, kiln.DefaultStudio(), limits)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// TestVerify_namesPieceAndLimit: what is over is said of the piece that is over
// it and of no other.
func TestVerify_namesPieceAndLimit(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "6 x sphere 2.5in", "14 x sphere 0.75in")
	for _, c := range []struct {
		name        string
		s           program.Schedule
		large, tiny []finding.Kind
	}{
		{"slow", usual(time.Hour, 20), nil, nil},
		{"fast", usual(time.Hour, 130), []finding.Kind{finding.OverResidual}, nil},
		{"very fast", usual(time.Hour, 900), []finding.Kind{finding.OverTension, finding.OverResidual}, nil},
		{"no soak to speak of", usual(30*time.Second, 20), []finding.Kind{finding.OverRelaxed, finding.OverEven}, []finding.Kind{finding.OverRelaxed, finding.OverEven}},
	} {
		rep := mustJudge(t, c.s, l)
		for i, want := range [][]finding.Kind{c.large, c.tiny} {
			p := rep.Pieces[i]
			var over []finding.Kind
			for _, f := range p.Over {
				over = append(over, f.Kind)
			}
			if !slices.Equal(over, want) || p.Within != (want == nil) {
				t.Errorf("%s: %s is over %v, want %v (%s, left %s, relaxed %.4f)", c.name, p.Piece.What, p.Over, want, p.Peak, p.Residual, p.Relaxed)
			}
		}
		if rep.Within != (c.large == nil && c.tiny == nil) {
			t.Errorf("%s: within %v", c.name, rep.Within)
		}
	}
}

// TestVerify_residualScalesWithRateAndSize: away from its ends, the tension left
// grows with the rate and with the square of the size (Adams and Williamson
// 1920: the strain left is that of the temperature difference at the freeze).
func TestVerify_residualScalesWithRateAndSize(t *testing.T) {
	residual := func(text string, rate float64) float64 {
		return float64(mustVerify(t, usual(2*time.Hour, rate), loadOf(t, "borosilicate-33", text), kiln.Limits{}).Pieces[0].Residual)
	}
	base := residual("sphere 30mm", 40)
	// Fast cooling freezes a little higher, and heat transfer keeps a large piece
	// warmer than the kiln: 6 % for a doubled rate, 8 % for a doubled size.
	if r := residual("sphere 30mm", 80) / base; !scalar.EqualWithinAbs(r, 2, 0.12) {
		t.Errorf("twice the rate leaves %.3f times the tension, want 2", r)
	}
	if r := residual("sphere 60mm", 40) / base; !scalar.EqualWithinAbs(r, 4, 0.32) {
		t.Errorf("twice the size leaves %.3f times the tension, want 4", r)
	}
	if r := residual("sphere 30mm bedded", 40) / residual("sphere 30mm raised", 40); !scalar.EqualWithinAbs(r, 1.1, 1e-6) {
		t.Errorf("bedded leaves %.3f times the tension of raised, want 1.1", r)
	}
}

// TestVerify_limits: the limits asked for are the ones judged by.
func TestVerify_limits(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 2in")
	s := usual(time.Hour, 60)
	p := mustVerify(t, s, l, kiln.Limits{}).Pieces[0]
	for _, c := range []struct {
		limits kiln.Limits
		within bool
	}{
		{kiln.Limits{Tension: p.Peak * 1.01, Residual: p.Residual * 1.01}, true},
		{kiln.Limits{Tension: p.Peak, Residual: p.Residual}, true}, // at the limit is within
		{kiln.Limits{Tension: p.Peak * 0.99, Residual: p.Residual * 1.01}, false},
		{kiln.Limits{Tension: p.Peak * 1.01, Residual: p.Residual * 0.99}, false},
	} {
		if rep := mustVerify(t, s, l, c.limits); rep.Within != c.within {
			t.Errorf("tension %s of %s, left %s of %s: within %v", p.Peak, c.limits.Tension, p.Residual, c.limits.Residual, rep.Within)
		}
	}
	for _, bad := range []kiln.Limits{{Tension: 200 * unit.Megapascal}, {Residual: 200 * unit.Megapascal}} {
		if _, err := Program(context.Background(), s, l, kiln.DefaultStudio(), bad); err == nil {
			t.Errorf("limits %+v are taken", bad)
		}
	}
	if _, err := Program(context.Background(), program.Schedule{From: unit.Celsius(560)}, l, kiln.DefaultStudio(), kiln.Limits{}); err == nil {
		t.Error("a program without segments is verified")
	}
}

// TestVerify_endsHot: a program that does not cool to the room leaves nothing
// to judge, and says so.
func TestVerify_endsHot(t *testing.T) {
	s := usual(time.Hour, 40)
	for _, c := range []struct {
		celsius float64
		judged  bool
	}{{40, true}, {290, true}, {420, false}} {
		s.Segments[1].To = unit.Celsius(c.celsius)
		rep := mustVerify(t, s, loadOf(t, "borosilicate-33", "sphere 2in"), kiln.Limits{})
		noted := rep.EndsHot()
		if rep.Pieces[0].ResidualJudged != c.judged || noted == c.judged {
			t.Errorf("ending at %g °C: judged %v, notes %v", c.celsius, rep.Pieces[0].ResidualJudged, rep.Notes)
		}
	}
}

// TestJudge_equalPieces: pieces that behave the same get the same numbers, each
// under its own name.
func TestJudge_equalPieces(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 2in", "3 x ball 2in", "sphere 2in raised", "marble 50.8mm")
	rep := mustVerify(t, usual(time.Hour, 60), l, kiln.Limits{})
	for _, i := range []int{1, 3} {
		a, b := rep.Pieces[0], rep.Pieces[i]
		if !reflect.DeepEqual(b.Piece, l.Pieces[i]) {
			t.Errorf("piece %d is reported as %+v", i+1, b.Piece)
		}
		b.Piece, b.group = a.Piece, a.group
		if !reflect.DeepEqual(a, b) {
			t.Errorf("piece %d: %+v\n%+v", i+1, b, a)
		}
	}
	if a, b := rep.Pieces[0], rep.Pieces[2]; a.Peak <= b.Peak {
		t.Errorf("on a shelf %s, raised %s", a.Peak, b.Peak)
	}
	// Alone or beside others, a piece has the same numbers.
	for i := range l.Pieces {
		alone := mustVerify(t, usual(time.Hour, 60), l.Some([]int{i}), kiln.Limits{})
		a, b := alone.Pieces[0], rep.Pieces[i]
		a.group = b.group
		if !reflect.DeepEqual(a, b) {
			t.Errorf("piece %d alone: %+v\n%+v", i+1, a, b)
		}
	}
}

// TestJudge_kilnError: what is not known of the kiln can only make the numbers
// worse.
func TestJudge_kilnError(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 2in")
	st := kiln.DefaultStudio()
	even, err := Program(context.Background(), usual(30*time.Minute, 60), l, st, kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	st.Kiln.Spread, st.Kiln.ProbeError = 16, 5
	uneven, err := Program(context.Background(), usual(30*time.Minute, 60), l, st, kiln.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	a, b := even.Pieces[0], uneven.Pieces[0]
	if b.Relaxed >= a.Relaxed || b.Residual < a.Residual*99/100 || b.Peak < a.Peak*99/100 {
		t.Errorf("even %+v\nuneven %+v", a, b)
	}
	if f, _ := uneven.Assumptions.Find(finding.PlacesDiffer); f.Delta != 13 {
		t.Errorf("assumptions %v", uneven.Assumptions)
	}
}

// TestJudge_hotCore: a core that is hotter than the kiln when the program
// begins is pulled by its shell at first; the soak takes that away.
func TestJudge_hotCore(t *testing.T) {
	p := pieceOf(t, "sphere 2.5in", "borosilicate-33")
	even := mustVerify(t, usual(time.Hour, 30), &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.Limits{}).Pieces[0]
	p.Core = unit.Celsius(700)
	hot := mustVerify(t, usual(time.Hour, 30), &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.Limits{}).Pieces[0]
	if !scalar.EqualWithinRel(float64(hot.Residual), float64(even.Residual), 0.02) {
		t.Errorf("left %s after a hot core, %s after an even one", hot.Residual, even.Residual)
	}
	// 140 K hotter throughout, its surface cools before its middle does.
	if hot.MaxLag < 60 || hot.MaxLag > 140 {
		t.Errorf("greatest lag %s, the piece began 140 K above the kiln", hot.MaxLag)
	}
}

// TestReport_ends: the clock of the end, over midnight and over days.
func TestReport_ends(t *testing.T) {
	for _, c := range []struct {
		start   string
		perHour float64
		end     string
		days    int
	}{
		{"08:00", 200, "11:36", 0},   // 1 h, 2 h 36 min
		{"23:59", 200, "03:35", 1},   // over midnight
		{"22:24", 520, "00:24", 1},   // to the minute
		{"00:00", 5, "09:00", 4},     // 105 h
		{"10:15 pm", 2, "19:15", 11}, // 261 h
	} {
		start, err := unit.ParseClock(c.start)
		if err != nil {
			t.Fatal(err)
		}
		l := loadOf(t, "borosilicate-33", "sphere 1in")
		l.Start = &start
		st := kiln.DefaultStudio()
		st.Kiln.Fall = kiln.Fall{TimeConstant: time.Minute, Room: unit.Celsius(20)} // falls as programmed
		rep, err := Program(context.Background(), usual(time.Hour, c.perHour), l, st, kiln.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		if end, days, ok := rep.Ends(); !ok || end.String() != c.end || days != c.days {
			t.Errorf("from %s: ends %s +%d, want %s +%d (%s)", c.start, end, days, c.end, c.days, rep.Actual.Total())
		}
	}
	l := loadOf(t, "borosilicate-33", "sphere 1in")
	if _, _, ok := mustVerify(t, usual(time.Hour, 100), l, kiln.Limits{}).Ends(); ok {
		t.Error("a load without a start has an end on the clock")
	}
}

// TestReport_actualTime: a moment of the nominal program is the same place of the
// program as the kiln follows it.
func TestReport_actualTime(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 1in")
	rep := mustVerify(t, usual(time.Hour, 400), l, kiln.Limits{})
	last := 0.0
	for i := range 101 {
		nominal := rep.Nominal.Total().Seconds() * float64(i) / 100
		at := rep.ActualTime(nominal)
		if at < last-1e-6 || at < nominal-1 {
			t.Fatalf("told %g s is %g s on the clock, after %g", nominal, at, last)
		}
		last = at
		if nominal > 3600 && !scalar.EqualWithinAbs(rep.Nominal.At(nominal), rep.Actual.At(at), 0.5) {
			t.Fatalf("told %g s: %.1f K, on the clock %.1f K", nominal, rep.Nominal.At(nominal), rep.Actual.At(at))
		}
	}
	if end := rep.Actual.Total().Seconds(); !scalar.EqualWithinAbs(last, end, 1) {
		t.Errorf("the end is %g s, want %g", last, end)
	}
}

// TestJudge_errorsNameThePiece: a simulation that cannot be made says of which.
func TestJudge_errorsNameThePiece(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "sphere 2in", "rod 10mm")
	g := *l.Pieces[1].Glass
	g.Name = "mine"
	g.Young.Number = 0
	l.Pieces[1].Glass = &g
	_, err := Program(context.Background(), usual(time.Hour, 60), l, kiln.DefaultStudio(), kiln.Limits{})
	if err == nil || !strings.Contains(err.Error(), `glass "mine": no young_modulus`) {
		t.Errorf("%v", err)
	}
	_, err = newFiring(usual(time.Hour, 60), kiln.DefaultStudio(), l, kiln.DefaultLimits()).simulateAll(context.Background(), l.Pieces[:1], sim.Settings{MaxSteps: 3}, nil, true)
	if err == nil || !strings.HasPrefix(err.Error(), "sphere 2in: ") {
		t.Errorf("%v", err)
	}
}
