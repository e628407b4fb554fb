package shortest

import (
	"context"
	"errors"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
)

// Planner returns a [plan.Planner] that searches: for the commands that plan
// many times. Where nothing is found a load of several pieces has a conflict.
func Planner(progress func(Progress)) plan.Planner {
	return func(ctx context.Context, l *piece.Load, st kiln.Studio, o plan.Options) (*verify.Report, error) {
		res, err := Shortest(ctx, l, st, Options{Options: o, Progress: progress})
		var none *NoneError
		if errors.As(err, &none) && len(l.Pieces) > 1 {
			return nil, &plan.ConflictError{Load: l, Reasons: finding.List{finding.Of(finding.NotFound)}}
		}
		if err != nil {
			return nil, err
		}
		return res.Report, nil
	}
}
