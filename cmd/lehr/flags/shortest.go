package flags

import (
	"context"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/shortest"
	"lehr/cmd/lehr/desk"
)

// AddShortest adds --shortest.
func AddShortest(c *cobra.Command, search *bool) {
	c.Flags().BoolVar(search, "shortest", false, "search for the shortest program that keeps the limits")
}

// Planner returns the planner of a command: the rule, or the search. Call the
// second result when the planning is over.
func Planner(a *desk.App, search bool) (plan.Planner, func()) {
	if !search {
		return plan.Plan, func() {}
	}
	line := &desk.Progress{App: a}
	return shortest.Planner(line.Show), line.End
}

// Shared answers whether a load can share one program.
func Shared(ctx context.Context, a *desk.App, load *piece.Load, st kiln.Studio, o plan.Options, search bool) (*plan.Sharing, error) {
	if !search {
		line := &desk.Progress{App: a}
		defer line.End()
		return plan.Share(ctx, load, st, o, plan.ShareHow{Progress: line.Split})
	}
	planner, end := Planner(a, true)
	defer end()
	return plan.Share(ctx, load, st, o, plan.ShareHow{Planner: planner})
}
