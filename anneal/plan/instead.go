package plan

import (
	"context"
	"errors"
	"slices"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
)

// Divisible reports whether another program, or more than one, may do what a plan does
// not: of a load that cannot share one, or that is over a limit and has several kinds.
func Divisible(rep *verify.Report, err error) bool {
	var conflict *ConflictError
	if errors.As(err, &conflict) {
		return !conflict.Alone || len(conflict.Load.Pieces) > 1
	}
	return err == nil && rep.Verdict() != verify.WithinLimits && len(rep.Pieces) > 1 && rep.Load.Into != piece.WarmOnly
}

// Instead answers for a load that is [Divisible]: with a program that keeps every limit,
// of those that [Sharing.Single] compares, or with the split; with neither where a
// program was planned and the split is over a limit, too. Errors: those of [Share].
func Instead(ctx context.Context, l *piece.Load, st kiln.Studio, o Options, planned *verify.Report, how ShareHow) (*verify.Report, *Sharing, error) {
	s, err := Share(ctx, l, st, o, how)
	if err != nil {
		return nil, nil, err
	}
	planner := how.Planner
	if planner == nil {
		planner = Plan
	}
	if !s.Shareable && len(l.Pieces) > 1 {
		if s.One, err = s.AllInOne(ctx, l, st, o, planner); err != nil {
			return nil, nil, err
		}
		if s.Shareable {
			return s.Firings[0].Report, nil, nil
		}
	}
	if planned != nil && slices.ContainsFunc(s.Firings, Firing.Over) {
		return nil, nil, nil
	}
	return nil, s, nil
}
