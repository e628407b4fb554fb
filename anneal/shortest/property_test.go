package shortest

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/anneal/verify"

	"lehr/glass"
	"lehr/glass/unit"
)

// loads is how many random loads TestRandomLoads searches: one by default, two
// with LEHR_LONG=1, four with LEHR_CAMPAIGN=1, 500 with
//
//	go test ./anneal/shortest -run TestRandomLoads -loads 500 -timeout 30m
var loads = flag.Int("loads", 0, "random loads that TestRandomLoads searches")

// firstLoad is the number of the first of them: -first 142 -loads 1 is one load.
var firstLoad = flag.Int("first", 0, "number of the first random load")

func find(t testing.TB, name string) *glass.Glass {
	t.Helper()
	g, err := glass.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func pieceOf(t testing.TB, glass, what string) piece.Piece {
	t.Helper()
	p, err := piece.Parse(what)
	if err != nil {
		t.Fatal(err)
	}
	if err := p.Fill(find(t, glass), nil); err != nil {
		t.Fatal(err)
	}
	return p
}

func load(t testing.TB, glass string, what ...string) *piece.Load {
	t.Helper()
	l := &piece.Load{Into: piece.HotKiln}
	for _, w := range what {
		l.Pieces = append(l.Pieces, pieceOf(t, glass, w))
	}
	return l
}

// randomCase makes the n-th load and studio, the same ones every time.
func randomCase(t testing.TB, n int) (*piece.Load, kiln.Studio, plan.Options) {
	r := rand.New(rand.NewPCG(2211, uint64(n)))
	pick := func(words ...string) string { return words[r.IntN(len(words))] }
	glassName := pick("borosilicate-33", "borosilicate-33", "soda-104", "fusible-96", "float")
	l := &piece.Load{Into: piece.HotKiln}
	if r.IntN(3) == 0 {
		l.Into = piece.ColdKiln
	}
	for range 1 + r.IntN(3) {
		size := math.Round(8 * math.Pow(14, r.Float64())) // 8 to 112 mm
		var what string
		switch r.IntN(6) {
		case 0, 1:
			what = fmt.Sprintf("sphere %.0fmm", size)
		case 2:
			what = fmt.Sprintf("rod %.0fmm x 200mm", size/2)
		case 3:
			what = fmt.Sprintf("disc %.0fmm x %.0fmm", 2.5*size, size/2)
		case 4:
			what = fmt.Sprintf("pendant %.0fmm x %.0fmm", size, size/3)
		case 5:
			what = fmt.Sprintf("tube %.0fmm wall %.1fmm", size, math.Max(1, size/8))
			if r.IntN(2) == 0 {
				what += " open"
			}
		}
		p := pieceOf(t, glassName, what+" "+pick("shelf", "shelf", "raised", "bedded"))
		p.Count = 1 + r.IntN(9)
		if r.IntN(5) == 0 {
			p.LongestSoak = time.Duration(10+r.IntN(200)) * time.Minute
		}
		l.Pieces = append(l.Pieces, p)
	}
	st := kiln.DefaultStudio()
	st.Controller.Segments = 4 + r.IntN(9)
	if r.IntN(3) == 0 {
		st.Controller.Units, st.Units = unit.US, unit.US
		st.Controller.Slowest, st.Controller.Fastest = unit.FahrenheitPerHour(1), unit.FahrenheitPerHour(1799)
	}
	if r.IntN(5) == 0 {
		st.Controller.Minutes, st.Controller.Slowest = true, unit.KelvinPerHour(0.01)
	}
	if r.IntN(2) == 0 {
		st.Kiln.Measured = true
		st.Kiln.Fall.TimeConstant = time.Duration(30+r.IntN(600)) * time.Minute
	}
	if r.IntN(3) == 0 {
		st.Kiln.Spread, st.Kiln.ProbeError = unit.Delta(r.IntN(8)), unit.Delta(r.IntN(4))
	}
	o := plan.Options{}
	if r.IntN(3) == 0 {
		o.Limits.Tension = unit.Stress(2+5*r.Float64()) * unit.Megapascal
		o.Limits.Residual = unit.Stress(0.4+2*r.Float64()) * unit.Megapascal
	}
	return l, st, o
}

// describe names a case for a failure.
func describe(l *piece.Load, st kiln.Studio) string {
	var words []string
	for _, p := range l.Pieces {
		words = append(words, fmt.Sprintf("%s %s (%s, longest %s)", p.What, p.Resting, p.Glass.Name, p.LongestSoak))
	}
	return fmt.Sprintf("%s; %s; measured %v %s; %d segments, minutes %v, units %v", strings.Join(words, ", "), l.Into,
		st.Kiln.Measured, st.Kiln.Fall.TimeConstant, st.Controller.Segments, st.Controller.Minutes, st.Controller.Units)
}

// TestRandomLoads searches programs for random loads, kilns and controllers.
// Each must keep every limit in a fresh verification, be what can be keyed in,
// be no longer than the rule's program, and be no shorter than the floor.
func TestRandomLoads(t *testing.T) {
	if *loads == 0 {
		switch {
		case campaign():
			*loads = 4
		case long():
			*loads = 2
		default:
			*loads, *firstLoad = 1, 2
		}
	}
	found, refused, saved := 0, 0, 0.0
	for i := range *loads {
		n := *firstLoad + i
		l, st, o := randomCase(t, n)
		res, err := Shortest(context.Background(), l, st, Options{Options: o})
		var conflict *plan.ConflictError
		var slow *kiln.SlowError
		if errors.As(err, &conflict) || errors.As(err, &slow) {
			if rep, planErr := plan.Plan(context.Background(), l, st, o); planErr == nil && rep.Within {
				t.Errorf("load %d: nothing found, but the rule has a program: %v\n%s", n, err, describe(l, st))
			}
			refused++
			continue
		}
		if err != nil {
			t.Errorf("load %d: %v\n%s", n, err, describe(l, st))
			continue
		}
		if res.Rule != nil && !res.Rule.Within && !res.Report.Within && res.Report.Shortest.None {
			refused++ // no program was found, and the one by the rule says what it exceeds
			continue
		}
		found++
		if testing.Verbose() {
			rule := time.Duration(0)
			if res.Rule != nil {
				rule = res.Rule.Actual.Total()
			}
			t.Logf("load %d: rule %.2f h, shortest %.2f h, floor %.2f h, kiln %.2f h, %d simulations", n, rule.Hours(), res.Report.Actual.Total().Hours(), res.Floor.Total.Hours(), res.Floor.Kiln.Hours(), res.Simulations)
		}
		checkResult(t, fmt.Sprintf("load %d (%s)", n, describe(l, st)), res, l, st, o)
		if res.Rule != nil && res.Rule.Within {
			saved += 1 - res.Report.Actual.Total().Hours()/res.Rule.Actual.Total().Hours()
		}
	}
	t.Logf("%d loads: %d found, %d refused; on average %.1f %% shorter than by the rule", *loads, found, refused, 100*saved/float64(max(1, found)))
	if found < max(1, *loads*3/4) {
		t.Errorf("only %d of %d loads have a program", found, *loads)
	}
}

func checkResult(t *testing.T, name string, res *Result, l *piece.Load, st kiln.Studio, o plan.Options) {
	t.Helper()
	rep := res.Report
	again, err := verify.Program(context.Background(), rep.Schedule, l, st, o.Limits)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	if !again.Within {
		t.Errorf("%s: %v", name, again.Verdict())
	}
	lim := again.Limits
	for _, p := range again.Pieces {
		if p.Tension.Use > 1+1e-9 || p.ResidualTension.Use > 1+1e-9 || p.Relaxed < lim.Relaxed || math.Abs(float64(p.SoakLag)) > float64(lim.Even) {
			t.Errorf("%s: %s: tension %v, left %v, relaxed %v, lag %v", name, p.Piece.What, p.Peak, p.Residual, p.Relaxed, p.SoakLag)
		}
	}
	if r := res.Rule; r != nil && r.Within && rep.Actual.Total() > r.Actual.Total() {
		t.Errorf("%s: takes %s, by the rule %s", name, rep.Actual.Total(), r.Actual.Total())
	}
	if res.Floor.Total > rep.Actual.Total() {
		t.Errorf("%s: takes %s, below the floor of %s (%s)", name, rep.Actual.Total(), res.Floor.Total, res.Floor.What)
	}
	checkKeyed(t, name, rep.Schedule, st.Controller)
	soak := time.Duration(0)
	for _, seg := range rep.Schedule.Segments {
		if seg.Purpose == program.PurposeSoak {
			soak += seg.Hold
		}
		for _, p := range l.Pieces {
			_, high, err := piece.SoakRange(p.Glass)
			if err != nil {
				t.Fatal(err)
			}
			if !p.HottestSoak.IsZero() && p.HottestSoak.Less(high) {
				high = p.HottestSoak
			}
			if high.Add(0.6).Less(seg.To) {
				t.Errorf("%s: %s is hotter than %s bears", name, seg.To, p.What)
			}
		}
	}
	for _, p := range l.Pieces {
		if p.LongestSoak > 0 && soak > p.LongestSoak {
			t.Errorf("%s: soak of %s, %s bears %s", name, soak, p.What, p.LongestSoak)
		}
	}
	if open := rep.Schedule.Segments[len(rep.Schedule.Segments)-1].To; st.Opening.Add(1e-6).Less(open) {
		t.Errorf("%s: ends at %s, opens at %s", name, open, st.Opening)
	}
}

// checkKeyed refuses what the controller does not take.
func checkKeyed(t *testing.T, name string, s program.Schedule, c kiln.Controller) {
	t.Helper()
	whole := func(x float64) bool { return math.Abs(x-math.Round(x)) < 1e-6 }
	n := len(s.Segments)
	if s.Segments[n-1].Off { // the program has ended
		n--
	}
	if n > c.Segments {
		t.Errorf("%s: %d segments, the controller has %d", name, n, c.Segments)
	}
	at := s.From
	for i, seg := range s.Segments {
		to, _ := seg.To.In(c.Units)
		if !whole(to) || !whole(seg.Hold.Minutes()) || seg.Hold > c.Longest {
			t.Errorf("%s: segment %d: to %v, hold %s", name, i+1, to, seg.Hold)
		}
		if d := float64(seg.To.Sub(at)); d != 0 && !seg.Full {
			rate, _ := seg.Rate.In(c.Units)
			if c.Minutes {
				rate = d / float64(seg.Rate) / 60
			}
			if !whole(rate) || math.Abs(float64(seg.Rate)) > float64(c.Fastest)*(1+1e-9) || math.Abs(float64(seg.Rate)) < float64(c.Slowest)*(1-1e-9) {
				t.Errorf("%s: segment %d: rate or minutes %v", name, i+1, rate)
			}
		}
		at = seg.To
	}
}
