package plan

import (
	"context"
	"errors"
	"slices"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/glass/unit"
)

// gentlest is the program for the whole load that does least harm of those that the
// controller takes at its smallest rate, where that cannot be set for a piece; of a load
// with a piece that bears too little of a soak it is that of [unbounded]. The
// programs of the firings were made without such a piece, and as quick as the others
// bear. None where all pieces have a firing.
func (s *Sharing) gentlest(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) ([]candidate, error) {
	free := *l
	free.Pieces = slices.Clone(l.Pieces)
	unset, short := false, false
	for _, u := range s.Unfit {
		var c *ConflictError
		unset = unset || unkeyable(u.Err)
		if errors.As(u.Err, &c) {
			short = true
			free.Pieces[u.Piece].LongestSoak, free.Pieces[u.Piece].HottestSoak = 0, unit.Temp{}
		}
	}
	switch {
	case !unset && !short:
		return nil, nil
	case !unset:
		return unbounded(ctx, &free, l, st, o)
	}
	aimed, to, limits := Aimed(st, o)
	to.quiet = true
	loads := []*piece.Load{&free}
	for _, u := range s.Unfit { // its own soak, where there is none for all
		loads = append(loads, free.Some([]int{u.Piece}))
	}
	var best []candidate
	for _, part := range loads {
		pl := planner{stillSets: stillSets, ctx: ctx, load: part, st: aimed, o: to, limits: aimed.Limits, inAll: true}
		if pl.require() != nil || pl.propose() != nil {
			continue
		}
		for _, d := range pl.draft.atSlowest(aimed.Controller) {
			as, err := d.round(aimed)
			if err != nil {
				continue // too many segments
			}
			next, err := tried(ctx, as, l, st, limits)
			if err != nil {
				return nil, err
			}
			if best == nil || slices.Compare(next.cost[:], best[0].cost[:]) < 0 {
				best = []candidate{next}
			}
		}
		if best != nil && part == &free {
			break
		}
	}
	if best == nil {
		return nil, nil
	}
	return best, best[0].heldLess(ctx, l, st, limits)
}

// stepHolds is how long the steps are held that no piece has set the length of: thick
// pieces are even by the longer, but what evens out above where the glass has set is
// locked in, so that less is tried, too. What is not needed of it is taken back.
var stepHolds = [2]time.Duration{10 * time.Hour, 2 * time.Hour}

// atSlowest are drafts of which each ramp is at the smallest rate that the controller
// takes, the range in which the glass sets in as many steps as there are segments for,
// or in none.
func (p *draft) atSlowest(c kiln.Controller) (out []*draft) {
	slowest, n := float64(c.SlowestKeyed()), len(p.ramps)-1
	most := max(0, c.Segments-2-int(p.hold/c.Longest))
	if n == 0 {
		most = 0
	}
	shares := stepsTo
	for _, k := range slices.Compact([]int{most, 0}) {
		if k == 0 {
			shares = shares[:1]
		}
		for i := range 2 * len(shares) {
			share, hold, d := shares[i/2], stepHolds[i%2], p.clone()
			d.ramps = make([]ramp, k+1)
			for i := range k {
				step := p.soak.Sub(p.ramps[n-1].to) * unit.Delta(share/float64(k))
				d.ramps[i] = p.ramps[0]
				d.ramps[i].to, d.ramps[i].hold = c.Temp(p.soak.Add(-step*unit.Delta(i+1))), min(hold, c.Longest)
			}
			d.ramps[k] = p.ramps[n]
			for i := range d.ramps {
				d.ramps[i].rate, d.ramps[i].least, d.ramps[i].most = slowest, 0, 0
			}
			out = append(out, &d)
		}
	}
	return out
}

// unbounded is the program for a load that is soaked as if each piece that has no program
// because it bears too little of a soak bore any, as free has it: what shifts in color by
// that is not cracked. None where there is no such program.
func unbounded(ctx context.Context, free, l *piece.Load, st kiln.Studio, o Options) ([]candidate, error) {
	o.quiet = true
	rep, err := Plan(ctx, free, st, o)
	if err != nil {
		return nil, ctx.Err()
	}
	c, err := tried(ctx, rep.Schedule, l, st, o.Limits)
	return []candidate{c}, err
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
		less, err := tried(ctx, s, l, st, limits)
		if err != nil {
			return err
		}
		if slices.Compare(less.cost[:], c.cost[:]) >= 0 {
			break
		}
		*c = less
	}
	return nil
}
