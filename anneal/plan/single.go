package plan

import (
	"context"
	"errors"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// Single is the best one program for a load that cannot share: for who has
// everything hot already.
type Single struct {
	Report *verify.Report // of the whole load
	Firing int            // whose program it is, -1 if it is none of theirs
	// Harmed are the pieces that it does something to that annealing again does not
	// mend: it sags them, holds them hotter or longer than they bear, or pulls them
	// beyond their limit. Pieces are indices in the load.
	Harmed []int
	// Again is what to anneal again later, from a cold kiln, and by which program.
	Again []Firing
	// Cooler are the pieces whose only fault is that the kiln is opened too hot for
	// them.
	Cooler []int
	// Hopeless are pieces that it does not anneal and for which no program from a
	// cold kiln was found.
	Hopeless []int
}

// mends reports whether annealing again puts right what a program does to a
// piece: it does for what the soak or the setting range left undone, and waiting
// does for a kiln opened too hot.
func mends(f finding.Finding) bool {
	switch f.Kind {
	case finding.OverOpening: // nobody has to open it there
		return true
	case finding.OverResidual, finding.UnprovenResidual, finding.OverRelaxed, finding.OverEven, finding.RimNotComputed:
		return true
	}
	return false
}

// Single finds the best one program for a load that was split: of the programs of
// the firings, each also with the longest soak that all pieces bear, and of that of
// the whole load if there is one, the one that harms fewest pieces for good, then
// leaves fewest to anneal again, then is shortest.
// Errors: those of [verify.Program], and that of the context.
func (s *Sharing) Single(ctx context.Context, l *piece.Load, st kiln.Studio, o Options, planner Planner) (*Single, error) {
	var list []candidate
	try := func(rep *verify.Report, firing int, whole bool) {
		one, harmed, again := judgeSingle(rep, firing)
		list = append(list, candidate{one, [3]time.Duration{time.Duration(harmed), time.Duration(again), rep.Actual.Total()}, whole})
	}
	for i, f := range s.Firings {
		rep, err := quickly(ctx, f.Report.Schedule, l, st, o.Limits)
		if err != nil {
			return nil, err
		}
		try(rep, i, false)
		if rep, err = soakedLess(ctx, rep); err != nil {
			return nil, err
		}
		if rep != nil {
			try(rep, -1, false)
		}
	}
	if s.whole != nil {
		try(s.whole, -1, true)
	}
	if len(list) == 0 {
		return nil, errors.New("no piece of the load has a program")
	}
	// What looks best is judged wholly, until that is still the best.
	for {
		at := 0
		for i, c := range list {
			if slices.Compare(c.cost[:], list[at].cost[:]) < 0 {
				at = i
			}
		}
		best := list[at]
		if best.whole {
			return best.one, best.one.again(ctx, s, l, st, o, planner)
		}
		rep, err := verify.Program(ctx, best.one.Report.Schedule, l, st, o.Limits)
		if err != nil {
			return nil, err
		}
		list = slices.Delete(list, at, at+1)
		try(rep, best.one.Firing, true)
	}
}

// candidate is a program that the whole load may share, and what it costs: pieces
// harmed, pieces to anneal again, hours.
type candidate struct {
	one   *Single
	cost  [3]time.Duration
	whole bool // judged as [verify.Program] does, not by bounds in one kiln
}

// quickly judges a program by bounds, in a kiln that follows it; as
// [verify.Program] does where that is not told.
func quickly(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits) (*verify.Report, error) {
	rep, err := verify.ByBounds(ctx, s, l, st, limits.Or(st.Limits))
	var notMeasured *program.UnmeasuredError
	if errors.As(err, &notMeasured) {
		return verify.Program(ctx, s, l, st, limits)
	}
	return rep, err
}

// soakedLess shortens the soak of a program until no piece is held longer than it
// bears; nil where none is, or where no soak would be left.
func soakedLess(ctx context.Context, rep *verify.Report) (*verify.Report, error) {
	const rounds = 4 // cooling counts as holding while the kiln is near the soak
	for n := range rounds + 1 {
		over := time.Duration(0)
		for _, p := range rep.Pieces {
			for _, f := range p.Over {
				if f.Kind == finding.OverHeld {
					over = max(over, unit.WholeMinutes(f.Time-f.Bears))
				}
			}
		}
		if over == 0 && n == 0 || n == rounds {
			return nil, nil
		}
		if over == 0 {
			return rep, nil
		}
		s := rep.Schedule
		s.Segments = slices.Clone(s.Segments)
		seg := &s.Segments[soakSegment(rep)]
		if seg.Hold -= over; seg.Hold < time.Minute {
			return nil, nil
		}
		var err error
		if rep, err = quickly(ctx, s, rep.Load, rep.Studio, rep.Limits); err != nil {
			return nil, err
		}
	}
	return nil, nil
}

// judgeSingle counts the pieces that a program harms, and those that it leaves to
// anneal again.
func judgeSingle(rep *verify.Report, firing int) (one *Single, harmed, again int) {
	one = &Single{Report: rep, Firing: firing}
	for i, p := range rep.Pieces {
		switch {
		case p.Within:
		case slices.ContainsFunc(p.Over, func(f finding.Finding) bool { return !mends(f) }):
			one.Harmed = append(one.Harmed, i)
			harmed += max(1, p.Piece.Count)
		case !slices.ContainsFunc(p.Over, func(f finding.Finding) bool { return f.Kind != finding.OverOpening }):
			one.Cooler = append(one.Cooler, i)
		default:
			again += max(1, p.Piece.Count)
		}
	}
	return one, harmed, again
}

// again plans what is to be annealed again, firing by firing of the split.
func (one *Single) again(ctx context.Context, s *Sharing, l *piece.Load, st kiln.Studio, o Options, planner Planner) error {
	todo := func(i int) bool {
		return !one.Report.Pieces[i].Within && !slices.Contains(one.Harmed, i) && !slices.Contains(one.Cooler, i)
	}
	for _, f := range s.Firings {
		var which []int
		for _, i := range f.Pieces {
			if todo(i) {
				which = append(which, i)
			}
		}
		if len(which) == 0 {
			continue
		}
		cold := l.Some(which)
		cold.Into, cold.Start = piece.ColdKiln, nil
		rep, err := planner(ctx, cold, st, o)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			one.Hopeless = append(one.Hopeless, which...)
			continue
		}
		one.Again = append(one.Again, Firing{which, rep})
	}
	for _, u := range s.Unfit {
		if todo(u.Piece) {
			one.Hopeless = append(one.Hopeless, u.Piece)
		}
	}
	return nil
}
