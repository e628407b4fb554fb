package shortest

import (
	"context"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
)

// Planner returns a [plan.Planner] that searches: for the commands that plan
// many times.
func Planner(progress func(Progress)) plan.Planner {
	return func(ctx context.Context, l *piece.Load, st kiln.Studio, o plan.Options) (*verify.Report, error) {
		res, err := Shortest(ctx, l, st, Options{Options: o, Progress: progress})
		if err != nil {
			return nil, err
		}
		return res.Report, nil
	}
}
