package shortest

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"

	"lehr/glass"
	"lehr/glass/unit"
)

// kept reads a load and a studio that once had no answer.
func kept(t *testing.T, name string) (*piece.Load, kiln.Studio) {
	t.Helper()
	open := func(file string) *os.File {
		f, err := os.Open(filepath.Join("../../testdata/campaign", name, file))
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { f.Close() })
		return f
	}
	st, err := kiln.ReadStudio(open("studio.toml"), "studio.toml")
	if err != nil {
		t.Fatal(err)
	}
	l, err := piece.ReadLoad(open("load.toml"), "load.toml", st.Glass, glass.Find)
	if err != nil {
		t.Fatal(err)
	}
	return l, st
}

// TestShortest_answersWhereTheRuleDoes: a search always answers where the rule
// has a program, and is never longer where that is within its limits.
func TestShortest_answersWhereTheRuleDoes(t *testing.T) {
	type row struct {
		name string
		load *piece.Load
		st   kiln.Studio
		none bool // nothing is within the limits: the rule's program stands
	}
	hour := kiln.DefaultStudio() // a candidate of nine segments costs only itself
	hour.Controller.Segments, hour.Controller.Longest = 8, time.Hour
	cold := load(t, "borosilicate-33", "sphere 100mm")
	cold.Into = piece.ColdKiln
	open := kiln.DefaultStudio() // opening the kiln is what no search can help
	open.Opening = unit.Celsius(195)
	rows := []row{{"opened hot", load(t, "soda-104", "sphere 64mm"), open, true}}
	if campaign() {
		rows = append(rows, row{"holds of an hour", cold, hour, false})
		for _, name := range []string{"9010", "9027"} { // least rate in another unit; opened hot
			l, st := kept(t, name)
			rows = append(rows, row{name, l, st, name == "9027"})
		}
	}
	for _, r := range rows {
		rule, err := plan.Plan(context.Background(), r.load, r.st, plan.Options{})
		if err != nil {
			t.Errorf("%s: the rule: %v", r.name, err)
			continue
		}
		res, err := Shortest(context.Background(), r.load, r.st, Options{})
		if err != nil {
			t.Errorf("%s: %v", r.name, err)
			continue
		}
		if got := res.Report.Shortest.None; got != r.none || rule.Within == r.none {
			t.Errorf("%s: none found %v, want %v; the rule's within %v", r.name, got, r.none, rule.Within)
		}
		if rule.Within && res.Report.Actual.Total() > rule.Actual.Total() {
			t.Errorf("%s: %s, the rule %s", r.name, res.Report.Actual.Total(), rule.Actual.Total())
		}
	}
}

// TestInterrupt_heard: whoever stops a plan, a search, a search for a start or a
// split of twelve kinds of piece, or of two in a measured kiln, waits no longer
// than 0.2 s, whenever it is, and with LEHR_CAMPAIGN=1 on an idle machine 50 ms. Other
// work of the machine is no fault of the search: what counts is the less of the time
// that passes and the processor time used, and of three tries the best.
func TestInterrupt_heard(t *testing.T) {
	soon := 200 * time.Millisecond
	names, moments := []string{"1378"}, []time.Duration{60 * time.Millisecond}
	if long() {
		moments = []time.Duration{300 * time.Millisecond}
	}
	if campaign() {
		soon = 50 * time.Millisecond
		names = append(names, "1004")
		moments = []time.Duration{time.Millisecond, 20 * time.Millisecond, 100 * time.Millisecond, 300 * time.Millisecond, time.Second, 3 * time.Second}
	}
	for _, name := range names {
		l, st := kept(t, name)
		midnight := unit.Clock(0)
		started := *l
		started.Start = &midnight
		for what, work := range map[string]func(context.Context){
			"plan":   func(ctx context.Context) { _, _ = plan.Plan(ctx, l, st, plan.Options{}) },
			"search": func(ctx context.Context) { _, _ = Shortest(ctx, l, st, Options{}) },
			"share":  func(ctx context.Context) { _, _ = plan.Share(ctx, l, st, plan.Options{}, plan.ShareHow{}) },
			"share by searches": func(ctx context.Context) {
				_, _ = plan.Share(ctx, l, st, plan.Options{}, plan.ShareHow{Planner: Planner(nil)})
			},
			"ready by searches": func(ctx context.Context) {
				_, _ = plan.ReadyBy(ctx, &started, st, plan.Options{}, plan.ReadyHow{By: unit.Clock(8 * 60), Planner: Planner(nil)})
			},
		} {
			for _, moment := range moments {
				least := time.Hour
				for range 3 {
					ctx, cancel := context.WithCancel(t.Context())
					type instant struct {
						at   time.Time
						used time.Duration
					}
					stopped := make(chan instant, 1)
					timer := time.AfterFunc(moment, func() { stopped <- instant{time.Now(), cpuTime()}; cancel() })
					work(ctx)
					ended, used := time.Now(), cpuTime()
					if timer.Stop() { // it was quicker
						cancel()
						least = 0
						break
					}
					was := <-stopped
					if least = min(least, ended.Sub(was.at), used-was.used); least <= soon {
						break
					}
				}
				if least > soon {
					t.Errorf("%s, %s: stopped after %s, ended %s later", name, what, moment, least)
				}
			}
		}
	}
}
