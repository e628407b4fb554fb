package plan

import (
	"context"
	"errors"
	"fmt"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
)

// Sharing is the answer to whether a load can share one program.
type Sharing struct {
	Shareable bool
	Reasons   finding.List // why not; empty when it can
	// Firings holds the fewest programs that do the whole load, one if it is
	// shareable. Pieces refer to the load by index.
	Firings []Firing
	// Exact says that no smaller number of firings exists. Beyond 12 different
	// pieces the split is a good one, not proved the fewest; nor is one proved
	// that could do with fewer by the closed forms, if a set that was not
	// simulated, because it holds one that the simulation refused or because
	// there are too many, had been simulated too.
	Exact bool
	// Unfit are the pieces that this controller cannot be set for even alone, or
	// that need more than the kiln is built for, or more of a soak than they bear.
	// They are in no firing; Reasons names them too.
	Unfit []Unfit
	// Together is why the controller cannot be set for all the others in one, or
	// why the kiln is not built for that; nil unless Reasons says so.
	Together error
	// One is the best one program for all of it, where [Instead] answered; else nil.
	One *Single
	// Alone is how long each piece of the load would take by itself, AloneOver
	// that even then a limit is exceeded, so that sharing is not to blame.
	Alone     []time.Duration
	AloneOver []bool

	whole *verify.Report // one program for all of a load that was split, nil if there is none
}

// Unfit is a piece, by its index in the load, and why it has no program.
type Unfit struct {
	Piece int
	Err   error
}

// Firing is one program and the pieces that go in it.
type Firing struct {
	Pieces []int
	Report *verify.Report
}

// Over reports whether a piece in it is over a limit, or not proven to keep one.
func (f Firing) Over() bool { return f.Report.Verdict() != verify.WithinLimits }

// MostExact is the number of different pieces up to which the split into
// firings is proved to be the fewest: the closed forms are asked about each set of
// them, 4096 of 12, and one piece more doubles that.
const MostExact = 12

// Cost returns how much longer the shared program is for a piece than its own.
func (s Sharing) Cost(firing, piece int) time.Duration {
	d := s.Firings[firing].Report.Actual.Total() - s.Alone[piece]
	if d < 0 {
		return 0
	}
	return d
}

// Share answers whether the load can share one program, and if not, splits it
// into the fewest firings; of equally few, up to [fewGroups] different pieces the
// ones that take least time by the closed forms.
//
// Its work is bounded: the closed forms are asked about every set of pieces, the
// simulation only about a few. Errors: *AloneError when no piece has a program
// by itself, those of the planner, and that of the context once it has ended.
func Share(ctx context.Context, l *piece.Load, st kiln.Studio, o Options, how ShareHow) (*Sharing, error) {
	sp := newSplitter(ctx, l, st, o, Plan)
	if how.Planner != nil {
		sp.planner, sp.free = how.Planner, true
	}
	sp.progress = how.Progress
	s, err := share(l, sp)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	return s, err
}

// ShareHow says how a load is split; its zero value plans with [Plan].
type ShareHow struct {
	// Planner is asked about sets of pieces whose soak ranges meet; a
	// *ConflictError is its answer that a set cannot share a program (default:
	// [Plan]).
	Planner Planner
	// Progress is told after each program how many of different pieces have been
	// planned, and how many may be at most (default: not at all). It may be
	// called from several goroutines, one at a time.
	Progress func(planned, most int)
}

func share(l *piece.Load, sp *splitter) (*Sharing, error) {
	out := &Sharing{Exact: true, Alone: make([]time.Duration, len(l.Pieces)), AloneOver: make([]bool, len(l.Pieces))}
	if err := out.alone(l, sp); err != nil {
		return nil, err
	}
	every := make([]int, len(sp.groups))
	for k := range every {
		every[k] = k
	}
	all := sp.expand(every)
	a := out.evaluate(sp, every)
	var conflict *ConflictError
	switch {
	case a.err == nil && !a.refused:
		out.Shareable = len(out.Unfit) == 0
		err := a.notes(sp)
		out.Firings = []Firing{{all, a.rep}}
		return out, err
	case a.err == nil:
		out.Reasons.Add(finding.Of(finding.NoneWithin))
		if len(out.Unfit) == 0 {
			out.whole = a.rep
		}
	case errors.As(a.err, &conflict):
		for _, r := range conflict.Reasons {
			out.Reasons.Add(r.Among(all))
		}
	case unfit(a.err):
		out.Reasons.Add(finding.Of(finding.Unkeyable))
		out.Together = a.err
	default:
		return nil, a.err
	}
	return out, out.split(sp)
}

// alone plans each group by itself and leaves those without a program out of what
// is split.
func (s *Sharing) alone(l *piece.Load, sp *splitter) error {
	answers := make([]*answer, len(sp.groups))
	one := func(k int) error {
		rep, by, err := sp.plan([]int{sp.groups[k]})
		answers[k] = &answer{rep: rep, by: by, err: err}
		sp.progressed(1)
		return nil
	}
	if sp.free { // a planner that is given may not like company
		for k := range sp.groups {
			if sp.ctx.Err() == nil {
				_ = one(k)
			}
		}
	} else {
		_ = parallel.Each(sp.ctx, len(sp.groups), one)
	}
	if err := sp.ctx.Err(); err != nil {
		return err
	}
	var groups []int
	var members [][]int
	for k, i := range sp.groups {
		rep, err := answers[k].rep, answers[k].err
		var conflict *ConflictError
		if itself := errors.As(err, &conflict); itself || unfit(err) {
			for _, m := range sp.members[k] {
				s.Unfit = append(s.Unfit, Unfit{m, err})
			}
			reasons := finding.List{finding.OfPiece(finding.Unkeyable, 0)}
			if itself {
				reasons = conflict.Reasons
			}
			for _, r := range reasons {
				s.Reasons.Add(r.Among([]int{i}))
			}
			continue
		}
		if err != nil {
			return &AloneError{What: l.Pieces[i].What, Err: err}
		}
		for _, m := range sp.members[k] {
			s.Alone[m], s.AloneOver[m] = rep.Actual.Total(), !rep.Within
		}
		if len(sp.members[k]) == 1 { // asked about it as a set, it is planned already
			sp.asked[fmt.Sprint([]int{len(groups)})] = answers[k]
		}
		groups, members = append(groups, i), append(members, sp.members[k])
	}
	if len(groups) == 0 {
		if err := s.Unfit[0].Err; unfit(err) {
			return err
		}
		return &AloneError{What: l.Pieces[s.Unfit[0].Piece].What, Err: s.Unfit[0].Err}
	}
	sp.groups, sp.members = groups, members
	return sp.require()
}

// unfit reports whether an error says that the controller cannot be set for a
// program, or that the kiln is not built for it.
func unfit(err error) bool {
	var hot *HighestError
	return unkeyable(err) || errors.As(err, &hot)
}

// AloneError says that a piece has no program even by itself.
type AloneError struct {
	What string // the piece
	Err  error
}

func (e *AloneError) Error() string {
	return e.What + " cannot be annealed even alone: " + e.Err.Error()
}

// Unwrap returns why.
func (e *AloneError) Unwrap() error { return e.Err }

// overLimit lists the pieces that sharing puts over a limit that they keep alone.
func (s *Sharing) overLimit(which []int, rep *verify.Report) (out []int) {
	for j, i := range which {
		if !rep.Pieces[j].Within && !s.AloneOver[i] {
			out = append(out, i)
		}
	}
	return out
}

// groupsOf lists one piece for each group of pieces that require the same, and
// the members of each group.
func groupsOf(l *piece.Load) (groups []int, members [][]int) {
	type key struct {
		piece.ThermalKey
		longest time.Duration
		hottest float64
	}
	seen := map[key]int{}
	for i, p := range l.Pieces {
		k := key{p.ThermalKey(), p.LongestSoak, p.HottestSoak.Kelvin()}
		j, ok := seen[k]
		if !ok {
			j = len(groups)
			seen[k] = j
			groups, members = append(groups, i), append(members, nil)
		}
		members[j] = append(members[j], i)
	}
	return groups, members
}
