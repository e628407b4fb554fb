package plan

import (
	"context"
	"errors"
	"time"

	"lehr/anneal/finding"
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
	// that could do with fewer by the closed forms, if a set that holds one the
	// simulation refused had been simulated too.
	Exact bool
	// Unfit are the pieces that this controller cannot be set for even alone.
	// They are in no firing; Reasons names them too.
	Unfit []Unfit
	// Alone is how long each piece of the load would take by itself, AloneOver
	// that even then a limit is exceeded, so that sharing is not to blame.
	Alone     []time.Duration
	AloneOver []bool
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

// MostExact is the number of different pieces up to which the split into
// firings is proved to be the fewest.
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
// into the fewest firings; of equally few, the ones that take least time by
// the closed forms.
func Share(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) (*Sharing, error) {
	return share(l, newSplitter(ctx, l, st, o, Plan))
}

// ShareBy is [Share] with another planner. It is asked about every set of
// pieces whose soak ranges meet; a *ConflictError is its answer that a set
// cannot share a program.
func ShareBy(ctx context.Context, l *piece.Load, st kiln.Studio, o Options, plan Planner) (*Sharing, error) {
	sp := newSplitter(ctx, l, st, o, plan)
	sp.free = true
	return share(l, sp)
}

func share(l *piece.Load, sp *splitter) (*Sharing, error) {
	out := &Sharing{Exact: true, Alone: make([]time.Duration, len(l.Pieces)), AloneOver: make([]bool, len(l.Pieces))}
	var kinds []int
	var members [][]int
	for k, i := range sp.kinds {
		rep, err := sp.plan([]int{i})
		if unfit(err) {
			for _, m := range sp.members[k] {
				out.Unfit = append(out.Unfit, Unfit{m, err})
			}
			out.Reasons.Add(finding.OfPiece(finding.Unkeyable, i))
			continue
		}
		if err != nil {
			return nil, &AloneError{What: l.Pieces[i].What, Err: err}
		}
		for _, m := range sp.members[k] {
			out.Alone[m], out.AloneOver[m] = rep.Actual.Total(), !rep.Within
		}
		kinds, members = append(kinds, i), append(members, sp.members[k])
	}
	if len(kinds) == 0 {
		return nil, out.Unfit[0].Err
	}
	sp.kinds, sp.members = kinds, members
	every := make([]int, len(kinds))
	for k := range every {
		every[k] = k
	}
	all := sp.expand(every)
	rep, err := sp.plan(all)
	var conflict *ConflictError
	switch {
	case err == nil && !out.spoils(all, rep):
		out.Shareable = len(out.Unfit) == 0
		out.Firings = []Firing{{all, rep}}
		return out, nil
	case err == nil:
		out.Reasons.Add(finding.Of(finding.NoneWithin))
	case errors.As(err, &conflict):
		for _, r := range conflict.Reasons {
			out.Reasons.Add(r.Among(all))
		}
	case unfit(err):
		out.Reasons.Add(finding.Of(finding.Unkeyable).Named(err.Error()))
	default:
		return nil, err
	}
	return out, out.split(sp)
}

// unfit reports whether an error says that the controller cannot be set for a
// program.
func unfit(err error) bool {
	var slow *kiln.SlowError
	var many *SegmentsError
	return errors.As(err, &slow) || errors.As(err, &many)
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

// spoils reports whether sharing puts a piece over a limit that it keeps alone.
func (s *Sharing) spoils(which []int, rep *verify.Report) bool {
	for j, i := range which {
		if !rep.Pieces[j].Within && !s.AloneOver[i] {
			return true
		}
	}
	return false
}

// split fills in the firings. The closed forms say which sets of pieces have no
// conflict; a set whose simulated program finds one after all is refused, with
// all sets that contain it, and the rest is split again.
func (s *Sharing) split(sp *splitter) error {
	for {
		groups, err := sp.fewest()
		if err != nil {
			return err
		}
		s.Firings, s.Exact = nil, sp.exact()
		refused := false
		for _, g := range groups {
			which := sp.expand(g)
			rep, err := sp.plan(which)
			var conflict *ConflictError
			switch {
			case len(g) > 1 && (errors.As(err, &conflict) || unfit(err) || err == nil && s.spoils(which, rep)):
				sp.refused = append(sp.refused, g)
				refused = true
			case err != nil:
				return err
			}
			s.Firings = append(s.Firings, Firing{which, rep})
		}
		if !refused {
			s.Exact = s.Exact && !sp.fewerUntested(len(s.Firings))
			return nil
		}
	}
}

// quick returns the hours of a shared program by the closed forms, or a
// conflict: the cheap question that the split asks thousands of times.
func quick(l *piece.Load, st kiln.Studio, o Options) (float64, error) {
	pl := planner{load: l, st: st, o: o, limits: o.Limits.Or(st.Limits)}
	if err := pl.require(); err != nil {
		return 0, err
	}
	if l.Into == piece.WarmOnly {
		return 0, nil
	}
	if err := pl.propose(); err != nil {
		return 0, err
	}
	hours, at := pl.draft.hold.Hours(), pl.draft.soak
	for _, r := range pl.draft.ramps {
		hours += float64(at.Sub(r.to))/r.rate/3600 + r.hold.Hours()
		at = r.to
	}
	return hours, nil
}

// kindsOf lists one piece for each set of pieces that ask for the same, and
// the members of each set.
func kindsOf(l *piece.Load) (kinds []int, members [][]int) {
	type kind struct {
		piece.ThermalKey
		longest time.Duration
		hottest float64
	}
	seen := map[kind]int{}
	for i, p := range l.Pieces {
		k := kind{p.ThermalKey(), p.LongestSoak, p.HottestSoak.Kelvin()}
		j, ok := seen[k]
		if !ok {
			j = len(kinds)
			seen[k] = j
			kinds, members = append(kinds, i), append(members, nil)
		}
		members[j] = append(members[j], i)
	}
	return kinds, members
}
