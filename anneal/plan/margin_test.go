package plan

import (
	"context"
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestMargin_isKept: a program planned with a margin uses no more of any limit of
// tension than the rest, judged by the whole limits, which verify finds too; one
// planned without uses more, and is sooner done. So is a load that shares and one
// that is to be ready by an hour.
func TestMargin_isKept(t *testing.T) {
	ctx := context.Background()
	l := loadOf(t, "borosilicate-33", "sphere 50mm", "sphere 1in")
	st := kiln.DefaultStudio()
	all := st
	all.Limits.Margin = 0
	full, err := Plan(ctx, l, all, hoursOnly)
	if err != nil {
		t.Fatal(err)
	}
	most := func(rep *verify.Report) (use float64) {
		for _, p := range rep.Pieces {
			use = max(use, p.Tension.Use, p.ResidualTension.Use, p.Opening.Use)
		}
		return use
	}
	if use := most(full); use < 0.97 || full.Notes.Has(finding.MarginKept) {
		t.Fatalf("without a margin %.3f of a limit is used: the test says nothing", use)
	}
	o := Options{quiet: true, Limits: kiln.Limits{Margin: 0.1, MarginGiven: true}}
	inFile := st
	inFile.Limits.Margin, inFile.Limits.MarginGiven = 0.1, true
	shared, err := Share(ctx, l, st, o, ShareHow{})
	if err != nil {
		t.Fatal(err)
	}
	for name, plan := range map[string]func() (*verify.Report, error){
		"plan":   func() (*verify.Report, error) { return Plan(ctx, l, st, o) },
		"studio": func() (*verify.Report, error) { return Plan(ctx, l, inFile, hoursOnly) },
		"ready-by": func() (*verify.Report, error) {
			return ReadyBy(ctx, l, st, o, ReadyHow{By: unit.Clock(8 * 60), Planner: Plan})
		},
		"share": func() (*verify.Report, error) { return shared.Firings[0].Report, nil },
	} {
		if !long() && (name == "studio" || name == "ready-by") {
			continue
		}
		rep, err := plan()
		if err != nil {
			t.Fatal(name, err)
		}
		use := most(rep)
		if use > 0.9*(1+1e-6) || use < 0.85 || rep.Verdict() != verify.WithinLimits {
			t.Errorf("%s: uses %.4f of a limit, %s", name, use, rep.Verdict())
		}
		if rep.Schedule.As(nil).Total() <= full.Schedule.As(nil).Total() {
			t.Errorf("%s: takes %s, without a margin %s", name, rep.Schedule.As(nil).Total(), full.Schedule.As(nil).Total())
		}
		if f, ok := rep.Notes.Find(finding.MarginKept); !ok || !f.Yes || f.Number != 0.1 {
			t.Errorf("%s: %+v", name, f)
		}
		again, err := verify.Program(ctx, rep.Schedule, l, st, kiln.Limits{})
		if err != nil {
			t.Fatal(name, err)
		}
		if got := most(again); got > use*(1+1e-6) || got < use*(1-1e-6) {
			t.Errorf("%s: verify has %.6f of a limit, the plan %.6f", name, got, use)
		}
		for i, p := range rep.Pieces {
			if q := again.Pieces[i]; p.Tension.Pair != q.Tension.Pair && float64(p.Tension.Pair.Worst/q.Tension.Pair.Worst-1) > 1e-9 {
				t.Errorf("%s: limit %v, verify has %v", name, p.Tension.Pair, q.Tension.Pair)
			}
		}
	}
	given, err := Plan(ctx, l, st, Options{quiet: true, Limits: kiln.Limits{Residual: 0.8 * unit.Megapascal, Margin: 0.1, MarginGiven: true}})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range given.Pieces {
		if p.ResidualTension.Use > 0.9*(1+1e-6) || p.Residual > 0.72*unit.Megapascal*(1+1e-6) {
			t.Errorf("a limit of one's own: %.3f of it, %s", p.ResidualTension.Use, p.Residual)
		}
	}
}
