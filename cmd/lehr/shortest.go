package main

import (
	"context"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"

	"github.com/spf13/cobra"

	"lehr/anneal/shortest"
	"lehr/glass/unit"
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
	line := &progressLine{app: a}
	return shortest.Planner(line.show), line.end
}

// shared answers whether a load can share one program.
func (a *app) shared(ctx context.Context, load *piece.Load, st kiln.Studio, o plan.Options, search bool) (*plan.Sharing, error) {
	if !search {
		return plan.Share(ctx, load, st, o)
	}
	planner, end := a.planner(true)
	defer end()
	return plan.ShareBy(ctx, load, st, o, planner)
}

// showShortest prints how a program compares with what else is possible,
// nothing if nobody searched.
func (a *app) showShortest(rep *verify.Report) {
	s := rep.Shortest
	if s == nil {
		return
	}
	a.prose(0, shortestText(rep))
	if s.Interrupted {
		a.print(a.style(styleWarn, "The search was stopped") + ": this is the best program found so far.\n")
	}
}

// shortestText is the line about a search.
func shortestText(rep *verify.Report) string {
	s := rep.Shortest
	length := func(d time.Duration) string { return unit.FormatDuration(unit.WholeMinutes(d)) }
	if s.None {
		return "The search found no program within the limits; this is the one by the rule."
	}
	text := "Shortest found " + length(rep.Actual.Total())
	if s.Rule > 0 {
		text += ", by the rule " + length(s.Rule)
	} else {
		text += ", none by the rule"
	}
	if s.Floor > 0 {
		floor := s.Floor.Truncate(time.Minute) // never above what is true
		text += "; by the closed forms none can be shorter than " + unit.FormatDuration(floor)
	}
	if s.Kiln > 0 {
		text += " (the kiln alone: " + unit.FormatDuration(s.Kiln.Truncate(time.Minute)) + ")"
	}
	return text + "."
}

// shortestJSON is what JSON says of a search.
type shortestJSON struct {
	FoundH  num  `json:"found_h"`
	RuleH   *num `json:"by_rule_h"`
	FloorH  num  `json:"closed_form_floor_h"`
	KilnH   num  `json:"kiln_alone_h"`
	Stopped bool `json:"stopped_early"`
	None    bool `json:"none_within_limits"`
}

func newShortestJSON(rep *verify.Report) *shortestJSON {
	s := rep.Shortest
	if s == nil {
		return nil
	}
	j := &shortestJSON{FoundH: num(rep.Actual.Total().Hours()), FloorH: num(s.Floor.Hours()), KilnH: num(s.Kiln.Hours()), Stopped: s.Interrupted, None: s.None}
	if s.Rule > 0 {
		h := num(s.Rule.Hours())
		j.RuleH = &h
	}
	return j
}
