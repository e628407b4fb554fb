package plan

import (
	"context"
	"errors"
	"slices"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/glass/unit"
)

// gentlest is the program for the whole load that does least harm of those that the
// controller takes, where that cannot be set for a piece: the smallest rate, or as few
// steps as there are segments for; of a load with a piece that bears too little of a
// soak it is that of [Sharing.unbounded]. The programs of the firings were made without such a
// piece, and as quick as the others bear. None where all pieces have a firing.
func (s *Sharing) gentlest(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) ([]candidate, error) {
	unset, short := false, false
	for _, u := range s.Unfit {
		var c *ConflictError
		unset, short = unset || unkeyable(u.Err), short || errors.As(u.Err, &c)
	}
	if short {
		return s.unbounded(ctx, l, st, o)
	}
	if !unset {
		return nil, nil
	}
	aimed, to, limits := Aimed(st, o)
	to.quiet = true
	pl := planner{stillSets: stillSets, ctx: ctx, load: l, st: aimed, o: to, limits: aimed.Limits, inAll: true}
	if pl.require() != nil || pl.propose() != nil {
		return nil, nil // no soak for all of them
	}
	first := pl.draft.clone()
	pl.most = farLonger * pl.atAnyRate(first)
	var best []candidate
	for _, d := range first.others(aimed.Controller, false) {
		rep, err := pl.with(d)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			continue // nor that
		}
		if rep, err = quickly(ctx, rep.Schedule, l, st, limits); err != nil {
			return nil, err
		}
		_, cost := judgeSingle(rep, -1)
		if best == nil || slices.Compare(cost[:], best[0].cost[:]) < 0 {
			best = []candidate{{s: rep.Schedule, firing: -1, cost: cost, known: judgedQuickly}}
		}
	}
	if best == nil {
		return nil, nil
	}
	return best, best[0].heldLess(ctx, l, st, limits)
}

// unbounded is the program for the whole load that soaks it as if each piece that has no
// program because it bears too little of a soak bore any: what shifts in color by that
// is not cracked. None where there is no such program.
func (s *Sharing) unbounded(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) ([]candidate, error) {
	all := make([]int, len(l.Pieces))
	for i := range all {
		all[i] = i
	}
	free := l.Some(all)
	for _, u := range s.Unfit {
		free.Pieces[u.Piece].LongestSoak, free.Pieces[u.Piece].HottestSoak = 0, unit.Temp{}
	}
	o.quiet = true
	rep, err := Plan(ctx, free, st, o)
	if err != nil {
		return nil, ctx.Err()
	}
	if rep, err = quickly(ctx, rep.Schedule, l, st, o.Limits); err != nil {
		return nil, err
	}
	_, cost := judgeSingle(rep, -1)
	return []candidate{{s: rep.Schedule, firing: -1, cost: cost, known: judgedQuickly}}, nil
}

// halvings bounds how often the holds of a stair are halved.
const halvings = 6

// heldLess halves the holds of the cooling as long as nothing but the hours changes: a
// ramp that was to be slowed to the limits, and pulls too much however long the hold
// after it, holds for nothing.
func (c *candidate) heldLess(ctx context.Context, l *piece.Load, st kiln.Studio, limits kiln.Limits) error {
	for range halvings {
		s := c.s
		s.Segments = slices.Clone(s.Segments)
		for i := range s.Segments {
			if seg := &s.Segments[i]; seg.Purpose != program.PurposeSoak {
				seg.Hold = st.Controller.Hold(seg.Hold / 2)
			}
		}
		rep, err := quickly(ctx, s, l, st, limits)
		if err != nil {
			return err
		}
		_, cost := judgeSingle(rep, -1)
		if slices.Compare(cost[:], c.cost[:]) >= 0 {
			break
		}
		c.s, c.cost = rep.Schedule, cost
	}
	return nil
}
