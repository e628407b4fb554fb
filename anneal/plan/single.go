package plan

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/spread"
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
	// Cracked are those of them that may crack.
	Cracked []int
	// Again is what to anneal again later, from a cold kiln, and by which program.
	Again []Firing
	// Cooler are the pieces whose only fault is that the kiln is opened too hot for
	// them.
	Cooler []int
	// Hopeless are pieces that it does not anneal and for which no program from a
	// cold kiln was found.
	Hopeless []int
}

// Single finds the best one program for a load that was split: of the programs of
// the firings, each also with the longest soak that all pieces bear, or with the
// shortest that is long enough for all, and of that of the whole load if there is one,
// and of the gentlest that the controller takes where that cannot be set for a piece,
// the one that may crack fewest pieces, then harms
// fewest otherwise for good, then pulls what may crack least, then leaves fewest to
// anneal again, then is shortest.
// Errors: those of [verify.Program], and that of the context.
func (s *Sharing) Single(ctx context.Context, l *piece.Load, st kiln.Studio, o Options, planner Planner) (*Single, error) {
	var list []candidate
	judged := func(rep *verify.Report, firing int) {
		one, cost := judgeSingle(rep, firing)
		list = append(list, candidate{firing: firing, cost: cost, known: judgedWholly, one: one})
	}
	if s.whole != nil {
		judged(s.whole, -1)
	}
	gentle, err := s.gentlest(ctx, l, st, o)
	if err != nil {
		return nil, err
	}
	list = append(list, gentle...)
	for i, f := range s.Firings {
		cost, err := s.least(ctx, f, l, st, o.Limits)
		if err != nil {
			return nil, err
		}
		list = append(list, candidate{s: f.Report.Schedule, firing: i, cost: cost})
	}
	if len(list) == 0 {
		return nil, errors.New("no piece of the load has a program")
	}
	// What looks best is judged more closely, until that is still the best.
	for {
		at := 0
		for i, c := range list {
			if slices.Compare(c.cost[:], list[at].cost[:]) < 0 {
				at = i
			}
		}
		best := list[at]
		if best.known == judgedWholly {
			if best.one.Report == s.whole {
				if best.one.Report, err = verify.After(ctx, s.whole); err != nil {
					return nil, err
				}
			}
			return best.one, best.one.again(ctx, s, l, st, o, planner)
		}
		list = slices.Delete(list, at, at+1)
		if best.known == judgedQuickly {
			rep, err := verify.Program(ctx, best.s, l, st, o.Limits)
			if err != nil {
				return nil, err
			}
			if best.asked > 0 {
				rep.Notes.Add(finding.Of(finding.SoakLengthened).Lasting(rep.Schedule.Segments[soakSegment(rep)].Hold, best.asked).Counting(rep.Limits.Relaxed))
			}
			judged(rep, best.firing)
			continue
		}
		closer, err := s.judgeOthers(ctx, best, l, st, o.Limits)
		if err != nil {
			return nil, err
		}
		list = append(list, closer...)
	}
}

// candidate is a program that the whole load may share, and what it costs.
type candidate struct {
	s      program.Schedule
	firing int // that it is of, -1 if none
	cost   [costs]int
	known  int
	asked  time.Duration // the soak before it was lengthened, 0 if it was not
	one    *Single       // once it is judged wholly
}

// How closely what a candidate costs is known: it is no less, by the hardest of the
// pieces that it was not made for; by all pieces in a kiln that follows it; as
// [verify.Program] has it.
const (
	noLess = iota
	judgedQuickly
	judgedWholly
)

// others are the pieces of the load that do not go in a firing, those first that
// take longest by themselves.
func (s *Sharing) others(f Firing) (out []int) {
	for i := range s.Alone {
		if !slices.Contains(f.Pieces, i) {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(i, j int) int { return cmp.Compare(s.Alone[j], s.Alone[i]) })
	return out
}

// least is what the program of a firing costs the whole load at least, however long its
// soak.
func (s *Sharing) least(ctx context.Context, f Firing, l *piece.Load, st kiln.Studio, limits kiln.Limits) (cost [costs]int, err error) {
	others := s.others(f)
	if len(others) < 2 {
		return cost, nil
	}
	rep, err := quickly(ctx, f.Report.Schedule, l.Some(others[:1]), st, limits)
	if err != nil {
		return cost, err
	}
	if overOnly(rep, finding.OverRelaxed, finding.OverEven) || heldTooLong(rep) {
		return cost, nil // with another soak it may cost nothing
	}
	_, cost = judgeSingle(rep, -1)
	cost[costSeconds] = 0
	return cost, nil
}

// heldTooLong reports whether a program holds a piece hot for longer than it bears.
func heldTooLong(rep *verify.Report) bool {
	return slices.ContainsFunc(rep.Pieces, func(r verify.PieceReport) bool { return r.Over.Has(finding.OverHeld) })
}

// judgeOthers judges the program of a firing for the pieces that it was not made for,
// and with a shorter soak for all of them where one of these is held for longer than
// it bears.
func (s *Sharing) judgeOthers(ctx context.Context, c candidate, l *piece.Load, st kiln.Studio, limits kiln.Limits) (out []candidate, err error) {
	f := s.Firings[c.firing]
	_, c.cost = judgeSingle(f.Report, c.firing)
	c.known = judgedQuickly
	rep := f.Report
	switch others := s.others(f); {
	case heldTooLong(f.Report): // by itself, too: with less of a soak all may be better off
		rep, err = quickly(ctx, c.s, l, st, limits)
	case len(others) > 0:
		if rep, err = quickly(ctx, c.s, l.Some(others), st, limits); err == nil {
			_, more := judgeSingle(rep, c.firing)
			over := max(c.cost[costOver], more[costOver])
			for i := range more[:costSeconds] {
				c.cost[i] += more[i]
			}
			c.cost[costOver] = over
		}
	}
	if err != nil {
		return nil, err
	}
	if len(rep.Pieces) == len(l.Pieces) {
		_, c.cost = judgeSingle(rep, c.firing)
	}
	out = append(out, c)
	if overOnly(rep, finding.OverRelaxed, finding.OverEven) {
		return s.soakedMore(ctx, c, l, st, limits, out)
	}
	if rep, err = soakedLess(ctx, rep); rep == nil || err != nil {
		return out, err
	}
	less, err := tried(ctx, rep.Schedule, l, st, limits)
	return append(out, less), err
}

// tried is a program of no firing as a candidate, judged by [quickly].
func tried(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits) (candidate, error) {
	rep, err := quickly(ctx, s, l, st, limits)
	if err != nil {
		return candidate{}, err
	}
	_, cost := judgeSingle(rep, -1)
	return candidate{s: rep.Schedule, firing: -1, cost: cost, known: judgedQuickly}, nil
}

// quickly judges a program in a kiln that follows it, and by the bounds of bodies where
// these keep the limits: a piece is no worse than [verify.Program] finds it. Where how the
// kiln follows is not told it is judged as that does.
func quickly(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits) (*verify.Report, error) {
	rep, err := verify.ByBounds(ctx, s, l, st, limits.Or(st.Limits))
	var notMeasured *program.UnmeasuredError
	if errors.As(err, &notMeasured) {
		return verify.Program(ctx, s, l, st, limits)
	}
	if err == nil && !rep.Within {
		rep, err = verify.AsBodies(ctx, rep)
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

// soakedMore adds the program of a firing with a soak that is long enough for all
// pieces, where they bear one.
func (s *Sharing) soakedMore(ctx context.Context, c candidate, l *piece.Load, st kiln.Studio, limits kiln.Limits, list []candidate) ([]candidate, error) {
	rep, err := quickly(ctx, c.s, l, st, limits)
	if err != nil {
		return nil, err
	}
	st.Limits = rep.Limits
	soak := soakSegment(rep)
	ways, _ := mendsOf(c.s, st.Controller)
	at := slices.IndexFunc(ways, func(m mend) bool { return m.kind == finding.MendHold && m.segment == soak })
	if at < 0 {
		return list, nil
	}
	f, _, ok, err := ways[at].smallest(ctx, rep, st)
	if err != nil || !ok || f.Bears > st.Controller.Longest {
		return list, err
	}
	longer := c.s
	longer.Segments = slices.Clone(longer.Segments)
	longer.Segments[soak].Hold = f.Bears
	more, err := tried(ctx, longer, l, st, limits)
	more.asked = c.s.Segments[soak].Hold
	return append(list, more), err
}

// AsOne makes of a load that was split one that shares the best one program, where
// that keeps every piece within its limits, and reports whether it does.
func (s *Sharing) AsOne(one *Single) bool {
	if one == nil || len(s.Unfit) > 0 || one.Report.Verdict() != verify.WithinLimits {
		return false
	}
	all := make([]int, len(one.Report.Pieces))
	for i := range all {
		all[i] = i
	}
	s.Shareable, s.Exact, s.Reasons, s.Firings = true, true, nil, []Firing{{all, one.Report}}
	return true
}

// AllInOne is [Sharing.Single] of a load that was split, and nil where the load shares
// that program after all: see [Sharing.AsOne].
func (s *Sharing) AllInOne(ctx context.Context, l *piece.Load, st kiln.Studio, o Options, planner Planner) (*Single, error) {
	one, err := s.Single(ctx, l, st, o, planner)
	if err != nil || s.AsOne(one) {
		return nil, err
	}
	return one, nil
}

// stressed returns a load to be annealed again from a cold kiln, and options to plan
// it with: its pieces bring stress of their own, which adds to that of heating, so
// that they are allowed half the tension, as work of which nobody knows what it
// brings. What is asked of a piece for its wear stays.
func stressed(l *piece.Load, st kiln.Studio, o Options) (*piece.Load, Options) {
	l.Into, l.Start = piece.ColdKiln, nil
	limits := o.Limits.Or(st.Limits)
	half := limits.TensionGiven
	for i, p := range l.Pieces {
		if p.Wear == spread.Ordinary {
			l.Pieces[i].Wear = spread.Doubtful
		} else if p.Wear != spread.Doubtful {
			half = true
		}
	}
	if half {
		o.Limits.Tension, o.Limits.TensionGiven = limits.Tension/2, true
	}
	return l, o
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
		cold, gentle := stressed(l.Some(which), st, o)
		rep, err := planner(ctx, cold, st, gentle)
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
