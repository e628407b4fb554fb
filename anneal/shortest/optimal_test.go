package shortest

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/sim"
	"lehr/anneal/verify"

	"lehr/glass/unit"
)

// example is one row of the tables below.
type example struct {
	name  string
	glass string
	what  []string
	into  piece.Into
	fall  time.Duration // time constant of a measured kiln, 0 for the default kiln
}

var examples = []example{
	{"small sphere", "borosilicate-33", []string{"sphere 1.25in"}, piece.HotKiln, 0},
	{"sphere", "borosilicate-33", []string{"sphere 2.5in"}, piece.HotKiln, 0},
	{"sphere, quick kiln", "borosilicate-33", []string{"sphere 2.5in"}, piece.HotKiln, time.Hour},
	{"large sphere", "borosilicate-33", []string{"sphere 4in"}, piece.HotKiln, 0},
	{"large sphere, quick kiln", "borosilicate-33", []string{"sphere 4in"}, piece.HotKiln, time.Hour},
	{"disc on the shelf", "borosilicate-33", []string{"disc 100mm x 40mm"}, piece.HotKiln, 0},
	{"mixed load", "borosilicate-33", []string{"sphere 2.5in", "sphere 1.25in"}, piece.HotKiln, 0},
	{"soft sphere", "soda-104", []string{"sphere 2in"}, piece.HotKiln, 0},
	{"soft pendant", "soda-104", []string{"pendant 45mm x 12mm"}, piece.HotKiln, time.Hour},
	{"sphere reheated", "borosilicate-33", []string{"sphere 2.5in"}, piece.ColdKiln, 0},
}

// Memory is collected as seldom as the program has it: a plan takes a tenth less time.
func init() { debug.SetGCPercent(400) }

// campaign runs every row of every table, which takes minutes; long runs those
// that CI has time for. Without either a few quick ones stand for them.
func campaign() bool { return os.Getenv("LEHR_CAMPAIGN") == "1" }
func long() bool     { return campaign() || os.Getenv("LEHR_LONG") == "1" }

// chosen returns the examples that this run works through.
func chosen() []example {
	switch {
	case campaign():
		return examples
	case long():
		return []example{examples[0], examples[2], examples[6], examples[8]}
	}
	return []example{examples[0], examples[6]}
}

func (e example) load(t testing.TB) (*piece.Load, kiln.Studio) {
	l := load(t, e.glass, e.what...)
	l.Into = e.into
	for i := range l.Pieces {
		l.Pieces[i].Even = true // reheated work: here the cooling is searched, not how the last piece evens out
	}
	st := kiln.DefaultStudio()
	st.Limits.Margin = 0 // what a search finds uses its limits up
	if e.fall > 0 {
		st.Kiln.Measured, st.Kiln.Fall.TimeConstant = true, e.fall
	}
	return l, st
}

var results = map[string]*Result{}

// result searches once for all tests.
func (e example) result(t testing.TB) *Result {
	t.Helper()
	if results[e.name] == nil {
		l, st := e.load(t)
		results[e.name] = shortest(t, l, st, plan.Options{})
	}
	return results[e.name]
}

func shortest(t testing.TB, l *piece.Load, st kiln.Studio, o plan.Options) *Result {
	t.Helper()
	res, err := Shortest(context.Background(), l, st, Options{Options: o})
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// TestTable puts the rule, the search and the floor side by side; -v prints it.
// The search is not proved to find the best program: what it may lie above the
// closed forms, which know no transients, no whole degrees and no number of
// segments, is bounded here.
func TestTable(t *testing.T) {
	var table strings.Builder
	fmt.Fprintf(&table, "\n%-26s %8s %8s %8s %8s %12s\n", "hours", "rule", "shortest", "floor", "kiln", "simulations")
	for _, e := range chosen() {
		l, st := e.load(t)
		res := e.result(t)
		checkResult(t, e.name, res, l, st, plan.Options{})
		found, floor := res.Report.Actual.Total().Hours(), res.Floor.Total.Hours()
		fmt.Fprintf(&table, "%-26s %8.2f %8.2f %8.2f %8.2f %12d\n", e.name, res.Rule.Actual.Total().Hours(), found, floor, res.Floor.Kiln.Hours(), res.Simulations)
		most := 1.5
		if _, flat := l.Pieces[0].Outline(); flat {
			most = 2 // the floor gives away the factors of the rim
		}
		if found > most*floor {
			t.Errorf("%s: %.2f h, more than %g times the floor of %.2f h", e.name, found, most, floor)
		}
		if res.Floor.Total < res.Floor.Kiln {
			t.Errorf("%s: the floor %s lies below what the kiln takes, %s", e.name, res.Floor.Total, res.Floor.Kiln)
		}
	}
	t.Log(table.String())
}

// TestLocalOptimality makes each ramp of a result 10 % faster and each hold
// 10 % shorter: that must break a limit or gain less than the tolerance of the
// search.
func TestLocalOptimality(t *testing.T) {
	const tolerance = 90 * time.Second
	for _, e := range chosen() {
		l, st := e.load(t)
		rep := e.result(t).Report
		at := rep.Schedule.From
		for i, seg := range rep.Schedule.Segments {
			moves := seg.To.Sub(at) != 0
			at = seg.To
			if seg.Full {
				continue
			}
			for _, hold := range []bool{false, true} {
				s := rep.Schedule
				s.Segments = slices.Clone(s.Segments)
				next := &s.Segments[i]
				switch {
				case hold && seg.Hold > 0:
					next.Hold = seg.Hold * 9 / 10
				case !hold && moves:
					next.Rate *= 1.1
				default:
					continue
				}
				// A search keeps to the bounds of bodies of revolution.
				again, err := verify.Judge(context.Background(), s, l, st, kiln.Limits{}.Or(st.Limits), sim.Settings{}, nil)
				if err != nil {
					t.Fatal(err)
				}
				if gain := rep.Actual.Total() - again.Actual.Total(); again.Within && gain > tolerance {
					t.Errorf("%s: segment %d (hold %v) can be a tenth faster, which saves %s", e.name, i+1, hold, gain)
				}
			}
		}
	}
}

// TestOrder: a looser limit never makes the program longer, a thicker piece
// never makes it shorter, within the tolerance of the search.
func TestOrder(t *testing.T) {
	const slack = 1.01
	st := kiln.DefaultStudio()
	st.Kiln.Measured, st.Kiln.Fall.TimeConstant = true, 90*time.Minute
	hours := func(what string, o plan.Options) float64 {
		return shortest(t, load(t, "borosilicate-33", what), st, o).Report.Actual.Total().Hours()
	}
	last, sizes := 0.0, []string{"0.6in", "1in"}
	switch {
	case campaign():
		sizes = []string{"1.25in", "2in", "3in", "4in"}
	case long():
		sizes = []string{"1in", "2in"}
	}
	for _, size := range sizes {
		h := hours("sphere "+size, plan.Options{})
		if h*slack < last {
			t.Errorf("sphere %s: %.2f h, the next smaller one %.2f h", size, h, last)
		}
		last = h
	}
	middle := sizes[1]
	if campaign() {
		middle = "2.5in"
	}
	limits := func(tension, residual float64) plan.Options {
		return plan.Options{Limits: kiln.Limits{Tension: unit.Stress(tension) * unit.Megapascal, Residual: unit.Stress(residual) * unit.Megapascal}}
	}
	rows := [][]plan.Options{{limits(3.5, 1), limits(3.5, 2)}}
	if campaign() {
		rows = [][]plan.Options{
			{limits(3.5, 0.5), limits(3.5, 1), limits(3.5, 2)},
			{limits(1.6, 1), limits(3.5, 1), limits(7, 1)},
		}
	}
	for _, row := range rows {
		last := math.Inf(1)
		for _, o := range row {
			h := hours("sphere "+middle, o)
			if h > last*slack {
				t.Errorf("tension %v, left %v: %.2f h, with a stricter limit %.2f h", o.Limits.Tension, o.Limits.Residual, h, last)
			}
			last = h
		}
	}
}

// TestDeterministic: the same load gives the same program to the last digit.
func TestDeterministic(t *testing.T) {
	l, st := examples[6].load(t)
	a, b := examples[6].result(t).Report.Schedule, shortest(t, l, st, plan.Options{}).Report.Schedule
	if a.From != b.From || !slices.Equal(a.Segments, b.Segments) {
		t.Errorf("two searches differ:\n%v\n%v", a, b)
	}
}

// TestInterrupted: a search that is stopped returns the program by the rule, and from
// its first judgment on one that it found, within the limits and marked.
func TestInterrupted(t *testing.T) {
	l, st := examples[6].load(t)
	full := examples[6].result(t)
	for _, share := range []float64{0, refined} {
		ctx, cancel := context.WithCancel(context.Background())
		last := Progress{}
		res, err := Shortest(ctx, l, st, Options{Progress: func(p Progress) {
			if p.Share < last.Share || p.Share > 1 || last.Best > 0 && p.Best > last.Best {
				t.Errorf("progress goes from %+v to %+v", last, p)
			}
			last = p
			if p.Share >= share {
				if share > 0 && ctx.Err() == nil {
					time.Sleep(keepAfter + time.Second) // a search that takes so long
				}
				cancel()
			}
		}})
		cancel()
		if err != nil {
			t.Fatal(err)
		}
		if !res.Interrupted || !res.Report.Shortest.Interrupted || !res.Report.Within {
			t.Errorf("stopped at %.2f: interrupted %v, within %v", share, res.Interrupted, res.Report.Within)
		}
		if d := res.Report.Actual.Total(); d < full.Report.Actual.Total() || d > res.Rule.Actual.Total() {
			t.Errorf("stopped at %.2f: %s, the rule takes %s, the whole search finds %s", share, d, res.Rule.Actual.Total(), full.Report.Actual.Total())
		} else if share > 0 && d == res.Rule.Actual.Total() {
			t.Errorf("stopped at %.2f: what was found and judged is not the answer", share)
		}
		if res.Report.Shortest.None {
			t.Errorf("stopped at %.2f: says that no program was found", share)
		}
	}
}

// TestSegments: more segments never make the program longer, and fewer are
// never exceeded.
func TestSegments(t *testing.T) {
	if !long() {
		t.Skip("takes a second; LEHR_LONG=1 runs it")
	}
	l, st := examples[2].load(t)
	last, numbers := math.Inf(1), []int{4, 8}
	if campaign() {
		l, st = examples[4].load(t)
		numbers = []int{4, 8, 12}
	}
	for _, n := range numbers {
		st.Controller.Segments = n
		rep := shortest(t, l, st, plan.Options{}).Report
		checkKeyed(t, fmt.Sprint(n, " segments"), rep.Schedule, st.Controller)
		h := rep.Actual.Total().Hours()
		t.Logf("%d segments: %.2f h", n, h)
		if h > last*1.005 {
			t.Errorf("%d segments: %.2f h, fewer segments %.2f h", n, h, last)
		}
		last = h
	}
}

// TestNoSoak: a piece that bears less than any soak takes is a conflict, and
// says so.
func TestNoSoak(t *testing.T) {
	l := load(t, "borosilicate-33", "sphere 4in")
	l.Into = piece.ColdKiln
	l.Pieces[0].LongestSoak = 2 * time.Minute
	_, err := Shortest(context.Background(), l, kiln.DefaultStudio(), Options{})
	var conflict *plan.ConflictError
	if !errors.As(err, &conflict) || !conflict.Reasons.Has(finding.NoSoakBorne) {
		t.Errorf("error %v", err)
	}
}

// TestSeries holds the lengths of programs for growing spheres to those that a
// search once found that simulated every variant finely throughout and always began
// in two places: none may be more than 0.5 % longer.
func TestSeries(t *testing.T) {
	fall := 3*time.Hour + 30*time.Minute
	for i, c := range []struct {
		glass string
		what  []string
		fall  time.Duration
		hours float64
	}{
		{"borosilicate-33", []string{"sphere 2in", "sphere 1.25in"}, 0, 11.888},
		{"borosilicate-33", []string{"sphere 2.5in", "sphere 1.25in"}, 0, 12.948},
		{"borosilicate-33", []string{"sphere 3in", "sphere 1.25in"}, 0, 14.334},
		{"borosilicate-33", []string{"sphere 3.5in", "sphere 1.25in"}, 0, 16.094},
		{"borosilicate-33", []string{"sphere 4in", "sphere 1.25in"}, 0, 18.199},
		{"borosilicate-33", []string{"sphere 4.5in", "sphere 1.25in"}, 0, 20.449},
		{"borosilicate-33", []string{"sphere 5in", "sphere 1.25in"}, 0, 23.188},
		{"borosilicate-33", []string{"sphere 5.5in", "sphere 1.25in"}, 0, 26.739},
		{"borosilicate-33", []string{"sphere 6in", "sphere 1.25in"}, 0, 30.560},
		{"soda-104", []string{"sphere 2in"}, fall, 15.613},
		{"soda-104", []string{"sphere 3in"}, fall, 24.432},
		{"soda-104", []string{"sphere 4in"}, fall, 37.265},
		{"soda-104", []string{"sphere 5in"}, fall, 58.169},
		{"soda-104", []string{"sphere 6in"}, fall, 79.004},
	} {
		if !campaign() && i != 1 {
			continue
		}
		l, st := example{glass: c.glass, what: c.what, into: piece.HotKiln, fall: c.fall}.load(t)
		res := shortest(t, l, st, plan.Options{})
		h := res.Report.Actual.Total().Hours()
		t.Logf("%v: %.2f h, was %.2f h; %d simulations", c.what, h, c.hours, res.Simulations)
		if h > 1.005*c.hours {
			t.Errorf("%v: %.2f h, was %.2f h", c.what, h, c.hours)
		}
		// The work is bounded by counts, so that a count shows what becomes slow.
		if most := 900; i == 1 && res.Simulations > most {
			t.Errorf("%v: %d simulations, want at most %d", c.what, res.Simulations, most)
		}
	}
}
