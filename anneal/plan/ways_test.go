package plan_test

import (
	"context"
	"os"
	"slices"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/shortest"
	"lehr/anneal/verify"
	"lehr/glass"
	"lehr/glass/unit"
)

// hot is a load into the hot kiln at a start.
func hot(t *testing.T, start unit.Clock, texts ...string) *piece.Load {
	t.Helper()
	g, err := glass.Find("borosilicate-33")
	if err != nil {
		t.Fatal(err)
	}
	l := &piece.Load{Into: piece.HotKiln, Start: &start}
	for _, text := range texts {
		p, err := piece.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		p.Glass = g
		l.Pieces = append(l.Pieces, p)
	}
	return l
}

// TestReadyBy_cheapest: of a program that is minutes late every way is in time, says
// what it does, and takes no more than it needs: planned by itself each gives the
// same hours, and a little less of it is late. They stand in the order of what they
// cost: the search first, which gives nothing up.
func TestReadyBy_cheapest(t *testing.T) {
	if os.Getenv("LEHR_LONG") != "1" {
		t.Skip("searches; LEHR_LONG=1 runs it")
	}
	ctx, st, o := context.Background(), kiln.DefaultStudio(), plan.Options{}
	l := hot(t, 0, "sphere 2.5in", "sphere 1.25in")
	rule, err := plan.Plan(ctx, l, st, o)
	if err != nil {
		t.Fatal(err)
	}
	within := (rule.Actual.Total() - 2*time.Minute).Truncate(time.Minute)
	search := shortest.Planner(nil)
	rep, err := plan.ReadyBy(ctx, l, st, o, plan.ReadyHow{By: unit.Clock(within.Minutes()), Planner: plan.Plan, Search: search})
	if err != nil {
		t.Fatal(err)
	}
	total := func(planner plan.Planner, st kiln.Studio, o plan.Options) time.Duration {
		t.Helper()
		rep, err := planner(ctx, l, st, o)
		if err != nil || !rep.Within {
			t.Fatal(err, "or over a limit")
		}
		return rep.Actual.Total()
	}
	var means []verify.Means
	for _, w := range rep.Ready.Ways {
		means = append(means, w.By)
		var as, less time.Duration // what it takes, and what with less of it
		switch w.By {
		case verify.BySearch:
			as, less = total(search, st, o), within+1
		case verify.ByMargin:
			with := func(m float64) plan.Options {
				return plan.Options{Limits: kiln.Limits{Margin: m, MarginGiven: true}}
			}
			as, less = total(plan.Plan, st, with(w.Margin)), total(plan.Plan, st, with(w.Margin+0.01))
		case verify.ByOpening:
			warm := st
			warm.Opening = w.Open
			as = total(plan.Plan, warm, o)
			warm.Opening = w.Open.Add(-5)
			less = total(plan.Plan, warm, o)
		}
		if w.Total > within || as != w.Total || less <= within {
			t.Errorf("%+v: by itself %s, with less %s, within %s", w, as, less, within)
		}
	}
	if want := []verify.Means{verify.BySearch, verify.ByMargin, verify.ByOpening}; !slices.Equal(means, want) { // no limit has to give
		t.Errorf("by %v, not %v", means, want)
	}

	// Where nothing within the limits is in time, one gives no more than minutes need.
	o.Limits.MarginGiven = true // and none left
	late := hot(t, 0, "sphere 2.5in", "sphere 1.25in")
	rule = planned(t, late, st, o)
	within = (rule.Actual.Total() - 2*time.Minute).Truncate(time.Minute)
	rep, err = plan.ReadyBy(ctx, late, st, o, plan.ReadyHow{By: unit.Clock(within.Minutes()), Planner: plan.Plan})
	if err != nil {
		t.Fatal(err)
	}
	w := rep.Ready.Ways[len(rep.Ready.Ways)-1]
	if len(w.Gives) != 1 || w.Gives[0].Limit != verify.LimitResidual || w.Gives[0].Reaches <= w.Gives[0].From || float64(w.Gives[0].Reaches/w.Gives[0].From) > 1.05 || w.Total > within {
		t.Errorf("for 2 minutes %+v", w)
	}
}

// TestReadyBy_twoLimits: where one alone does not do, both give, each no more than
// the other leaves to it.
func TestReadyBy_twoLimits(t *testing.T) {
	if os.Getenv("LEHR_LONG") == "" {
		t.Skip("plans thirty times; LEHR_LONG=1 runs it")
	}
	l := hot(t, 0, "sphere 30mm")
	var err error
	if l.Pieces[0].Glass, err = glass.Find("soda-104"); err != nil {
		t.Fatal(err)
	}
	l.Into = piece.ColdKiln
	st, o := kiln.DefaultStudio(), plan.Options{}
	rule := planned(t, l, st, o)
	within := (rule.Actual.Total() - 91*time.Minute).Truncate(time.Minute)
	plans := 0
	rep, err := plan.ReadyBy(t.Context(), l, st, o, plan.ReadyHow{By: unit.Clock(within.Minutes()), Planner: func(ctx context.Context, l *piece.Load, st kiln.Studio, o plan.Options) (*verify.Report, error) {
		plans++
		return plan.Plan(ctx, l, st, o)
	}})
	if err != nil {
		t.Fatal(err)
	}
	w := rep.Ready.Ways[len(rep.Ready.Ways)-1]
	if len(w.Gives) != 2 || plans > 25 {
		t.Fatalf("%d plans: %+v", plans, w)
	}
	with := func(residual, tension unit.Stress) time.Duration {
		q := o
		q.Limits.Residual, q.Limits.Tension = residual, tension
		return planned(t, l, st, q).Actual.Total()
	}
	a, b := w.Gives[0].Ask, w.Gives[1].Ask
	if as := with(a, b); as != w.Total || as > within {
		t.Errorf("by itself %s, %+v", as, w)
	}
	if with(a*0.85, b) <= within || with(a, b*0.85) <= within {
		t.Errorf("one of them could be less: %+v", w.Gives)
	}
}

func planned(t *testing.T, l *piece.Load, st kiln.Studio, o plan.Options) *verify.Report {
	t.Helper()
	rep, err := plan.Plan(t.Context(), l, st, o)
	if err != nil || !rep.Within {
		t.Fatal(err, "or over a limit")
	}
	return rep
}

// TestReadyBy_searches: the search is asked for a load that it is quick for and no
// other, its answer is told where it is late, too, and whoever stops it is heard.
func TestReadyBy_searches(t *testing.T) {
	st := kiln.DefaultStudio()
	five := hot(t, 0, "sphere 20mm", "sphere 21mm", "sphere 22mm", "sphere 23mm", "sphere 24mm")
	cold := hot(t, 0, "sphere 20mm")
	cold.Into = piece.ColdKiln
	for i, c := range []struct {
		l     *piece.Load
		asked int
	}{{hot(t, 0, "sphere 20mm"), 1}, {five, 0}, {cold, 0}} {
		rule, err := plan.Plan(t.Context(), c.l, st, plan.Options{})
		if err != nil {
			t.Fatal(err)
		}
		ctx, cancel := context.WithCancel(t.Context())
		asked := 0
		how := plan.ReadyHow{By: unit.Clock(rule.Actual.Total().Minutes()) - 1,
			Planner: func(ctx context.Context, _ *piece.Load, _ kiln.Studio, _ plan.Options) (*verify.Report, error) {
				keep := *rule
				return &keep, ctx.Err()
			},
			Search: func(ctx context.Context, _ *piece.Load, _ kiln.Studio, _ plan.Options) (*verify.Report, error) {
				asked++
				return rule, nil
			}}
		rep, err := plan.ReadyBy(ctx, c.l, st, plan.Options{}, how)
		if err != nil || asked != c.asked || (rep.Ready.Searched == rule.Actual.Total()) != (asked > 0) || rep.Ready.Stopped {
			t.Errorf("%d: asked %d times: %+v, %v", i, asked, rep.Ready, err)
		}
		cancel()
	}

	l := hot(t, 0, "sphere 2.5in", "sphere 1.25in")
	rule, err := plan.Plan(t.Context(), l, st, plan.Options{})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	var stopped time.Time
	search := func(context.Context, *piece.Load, kiln.Studio, plan.Options) (*verify.Report, error) {
		stopped = time.Now()
		cancel()
		return rule, nil // what it has
	}
	rep, err := plan.ReadyBy(ctx, l, st, plan.Options{}, plan.ReadyHow{By: unit.Clock(rule.Actual.Total().Minutes()) - 2, Planner: plan.Plan, Search: search})
	if took := time.Since(stopped); took > 200*time.Millisecond {
		t.Errorf("stopped %s before the end", took)
	}
	if err != nil || !rep.Ready.Stopped || len(rep.Ready.Ways) > 0 {
		t.Errorf("stopped: %+v, %v", rep.Ready, err)
	}
}
