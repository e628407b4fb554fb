package plan

import (
	"math"
	"slices"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
)

// tries bounds how often a program is slowed with one worst case, and how often the
// heating of a load that is only warmed: the hours of 22 loads were the same with a third
// as many, since bringWithin begins anew. Too few leave a program over a limit.
const tries = 24

// The last step of slowToLimits, at least 3 % long, is halved until less than
// finestStep of a rate is left, which is no longer seen in the hours, and at most
// regains times.
const (
	finestStep = 0.004
	regains    = 8
)

// refreshes is how often the worst case is found anew for a program that was
// brought to its limits with that of another; the last times leave what the last
// step slowed too much. With one, four of 22 loads stayed over a limit, with two
// one did; with twelve the hours were the same.
const (
	refreshes = 6
	tightened = 3
)

// slowToLimits rounds, simulates and slows until the limits hold, then takes back
// what slowing for one limit left unused of another. Between, only the middle
// curve of each glass is simulated, with the worst case of the program before.
func (pl *planner) slowToLimits() (*verify.Report, error) {
	best, err := pl.judge(nil) // bodies of revolution by their bounds
	if err != nil {
		return nil, err
	}
	if best, err = pl.bringWithin(best); err != nil {
		return nil, err
	}
	if pl.o.quiet && !best.Within && pl.tooLong(best) && !heldAlone(best) {
		return best, nil // nobody takes it
	}
	if heldAlone(best) {
		best, err = pl.hurried(best)
	} else {
		best, err = pl.improved(best)
	}
	if err != nil {
		return nil, err
	}
	if best.Borrows() {
		pl.own = true
		if best, err = best.WithBodies(pl.ctx); err == nil {
			best, err = pl.bringWithin(best)
		}
		if err != nil {
			return nil, err
		}
	}
	rep, err := pl.anyKiln(best)
	if err != nil {
		return nil, err
	}
	if err = pl.finish(rep); err != nil {
		return nil, err
	}
	if !(pl.o.quiet && rep.Within) { // bodies as they are are within all the more
		if rep, err = verify.AsBodies(pl.ctx, rep); err != nil {
			return nil, err
		}
	}
	if pl.o.quiet {
		return verify.Before(pl.ctx, rep)
	}
	return verify.Completed(pl.ctx, rep)
}

// improved makes a program within its limits faster in each way there is.
func (pl *planner) improved(best *verify.Report) (*verify.Report, error) {
	for _, change := range []func(*verify.Report) (*verify.Report, error){pl.faster, pl.lastFaster, pl.followed} {
		for range rounds {
			next, err := change(best)
			if err != nil {
				return nil, err
			}
			gain := 1 - next.Nominal.Total().Hours()/best.Nominal.Total().Hours()
			best = next
			if gain < worthwhile {
				break
			}
		}
	}
	return best, nil
}

// heldAlone reports whether the only fault of a program is that pieces are hot for
// longer than they bear.
func heldAlone(rep *verify.Report) bool { return overOnly(rep, finding.OverHeld) }

// overOnly reports whether a program is over limits, and those of some kinds alone.
func overOnly(rep *verify.Report, kinds ...finding.Kind) bool {
	for _, r := range rep.Pieces {
		for _, f := range r.Over {
			if !slices.Contains(kinds, f.Kind) {
				return false
			}
		}
	}
	return !rep.Within
}

// hurried makes a program faster in which pieces are only held hot for longer than
// they bear, as if they bore it: quicker cooling is what mends that. It answers the
// program as it was where it comes to no better one.
func (pl *planner) hurried(best *verify.Report) (*verify.Report, error) {
	load, was := pl.load, pl.draft.clone()
	patient := *load
	patient.Pieces = slices.Clone(load.Pieces)
	for i := range patient.Pieces {
		patient.Pieces[i].LongestSoak = 0
	}
	pl.load = &patient
	next, err := pl.judge(nil)
	if err == nil {
		next, err = pl.improved(next)
	}
	if pl.load = load; err == nil {
		next, err = pl.judge(nil)
	}
	switch {
	case err != nil:
		return nil, err
	case pl.holds(next) || heldAlone(next) && next.Nominal.Total() < best.Nominal.Total():
		return next, nil
	}
	pl.draft = was
	return best, nil
}

// bringWithin slows a program until its limits hold.
func (pl *planner) bringWithin(best *verify.Report) (*verify.Report, error) {
	for i := range refreshes {
		if pl.holds(best) {
			break
		}
		next, err := pl.slowUntilWithin(best, i < tightened)
		if err != nil {
			return nil, err
		}
		if next == best { // nothing that can be slowed helps, as where the kiln is opened too hot
			break
		}
		best = next
	}
	return best, nil
}

// anyKiln leaves to the kiln what can be, and slows further where a kiln that
// nobody measured may pull harder than the nominal program.
func (pl *planner) anyKiln(best *verify.Report) (*verify.Report, error) {
	for i := 0; ; i++ {
		held := best.Within
		rep, err := LeaveToKiln(pl.ctx, best)
		if err != nil {
			return nil, err
		}
		if !pl.o.quiet { // as a program is verified: bodies as they are first, then kilns
			if rep, err = verify.AsBodies(pl.ctx, rep); err != nil {
				return nil, err
			}
		}
		if rep, err = verify.OverKilns(pl.ctx, rep); err != nil {
			return nil, err
		}
		if rep.Within || !held || i == refreshes || !pl.slow(rep) {
			return rep, nil
		}
		if best, err = pl.judgeAnew(rep); err != nil {
			return nil, err
		}
	}
}

// evenAim is the share of the lag borne at the end of the soak that a program is
// made for: the lag falls by e in minutes, and a finer simulation finds it 3 %
// greater where the one of the planner is at its coarsest. Where nobody said how
// clear a piece is, that is in its worst case, as no simulation has all of it.
const evenAim = 0.97

// holds reports whether a program is within its limits, and the soak long enough
// for the planner.
func (pl *planner) holds(rep *verify.Report) bool {
	return rep.Within && !slices.ContainsFunc(rep.Pieces, pl.uneven)
}

// uneven reports whether a piece is not as even at the end of the soak as the
// planner wants it.
func (pl *planner) uneven(r verify.PieceReport) bool {
	aim := evenAim
	if r.Piece.Light == piece.LightUnknown {
		aim = 1
	}
	return r.SoakJudged && r.EvenJudged && math.Abs(float64(r.SoakLag)) > aim*float64(pl.limits.Even)*(1+1e-9)
}

// slowUntilWithin slows the draft until its limits hold with the worst case of a
// report, takes back what the last step slowed too much if it is to, and judges the
// outcome by its own. Where it can slow nothing it answers the report.
func (pl *planner) slowUntilWithin(like *verify.Report, tight bool) (*verify.Report, error) {
	at := like
	var over *draft // the last one that was over a limit
	for n := range tries {
		was := pl.draft.clone()
		over = &was
		if !pl.slow(at) {
			if n == 0 {
				return like, nil
			}
			break
		}
		if err := pl.bearsSoak(); err != nil {
			return nil, err
		}
		var err error
		if at, err = pl.judge(like); err != nil {
			return nil, err
		}
		if pl.holds(at) {
			if tight {
				pl.takeBack(at, like, *over)
			}
			break
		}
	}
	return pl.judgeAnew(like)
}

// judge rounds the draft and judges the program, with the worst case of another
// report where there is one.
func (pl *planner) judge(like *verify.Report) (*verify.Report, error) {
	s, err := pl.draft.round(pl.st)
	if err != nil {
		return nil, err
	}
	if like == nil {
		return verify.ByBounds(pl.ctx, s, pl.load, pl.st, pl.limits)
	}
	return like.Near(pl.ctx, s, pl.limits)
}

// judgeAnew is judge by the program's own worst case, with a report of a like one;
// bodies as they are count as in that until the end.
func (pl *planner) judgeAnew(like *verify.Report) (*verify.Report, error) {
	s, err := pl.draft.round(pl.st)
	if err != nil {
		return nil, err
	}
	if pl.own {
		return like.Again(pl.ctx, s, pl.limits)
	}
	return like.Alike(pl.ctx, s, pl.limits)
}
