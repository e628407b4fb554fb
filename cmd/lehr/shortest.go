package main

import (
	"context"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/shortest"
	"lehr/cmd/lehr/desk"
)

// addShortestFlag adds --shortest.
func addShortestFlag(c *cobra.Command, search *bool) {
	c.Flags().BoolVar(search, "shortest", false, "search for the shortest program that keeps the limits")
}

// planner returns the planner of a command: the rule, or the search. Call the
// second result when the planning is over.
func (a *app) planner(search bool) (plan.Planner, func()) {
	if !search {
		return plan.Plan, func() {}
	}
	line := &desk.Progress{App: a.App}
	return shortest.Planner(line.Show), line.End
}

// shared answers whether a load can share one program.
func (a *app) shared(ctx context.Context, load *piece.Load, st kiln.Studio, o plan.Options, search bool) (*plan.Sharing, error) {
	if !search {
		line := &desk.Progress{App: a.App}
		defer line.End()
		return plan.ShareWith(ctx, load, st, o, plan.ShareHow{Progress: line.Split})
	}
	planner, end := a.planner(true)
	defer end()
	return plan.ShareBy(ctx, load, st, o, planner)
}
