package shortest

import (
	"cmp"
	"context"
	"slices"

	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// gentlings is how often what was found is slowed for the kilns that one which
// nobody measured may be, each time by what its limits are exceeded and gentling. With
// fewer the rule's program may have to do, each more verifies the program once more;
// none of 12 loads needed any.
const (
	gentlings   = 8
	gentling    = 0.98
	gentledMost = 4 // of those that were the shortest before, where the shortest is slowed
)

// inAnyKiln judges what was found, and slows all its cooling where a kiln that
// falls otherwise than programmed pulls harder, so many times at most: the search
// follows the nominal program.
func (sv *solver) inAnyKiln(ctx context.Context, s program.Schedule, most int) (*verify.Report, error) {
	rep, err := verify.Program(ctx, s, sv.load, sv.st, sv.o.Limits)
	for i := 0; err == nil && !rep.Within && len(rep.Kilns) > 0 && i < most; i++ {
		use, at := max(1, rep.Use()), s.From
		s.Segments = slices.Clone(s.Segments)
		for j, seg := range s.Segments {
			if seg.To.Less(at) && !seg.Full {
				rate, err := sv.st.Controller.Rate(seg.Rate * unit.Rate(gentling/use))
				if err != nil {
					return rep, nil
				}
				s.Segments[j].Rate = rate
			}
			at = seg.To
		}
		rep, err = verify.Program(ctx, s, sv.load, sv.st, sv.o.Limits)
	}
	return rep, err
}

// Where the best program is over a limit by no more than byAHair, those that were the
// best before it, as long but for nearlyAsLong, or one with a single rate less, may keep
// it: to slow all its cooling costs a hundredth and more where rates are few whole
// degrees.
const (
	byAHair      = 1.005
	nearlyAsLong = 1.005
)

// judgedBest judges what was found, the shortest first: bounds are of the program
// itself, and other kilns are asked, only here.
func (sv *solver) judgedBest(ctx context.Context) (*verify.Report, error) {
	rep, err := sv.judged(ctx, *sv.best, 0)
	if err != nil || rep.Within {
		return rep, err
	}
	before := sv.keeper.before
	if rep.Use() <= byAHair {
		tries := slices.Clone(before)
		slices.Reverse(tries)
		for _, s := range append(tries, sv.oneSlower(*sv.best)...) {
			if hours(s, sv.st.Kiln) > nearlyAsLong*sv.seconds {
				continue
			}
			if other, err := sv.judged(ctx, s, 0); err != nil || other.Within {
				return other, err
			}
		}
	}
	// Slowed by so much they end elsewhere: one that was longer may be shorter then.
	rep, err = sv.judged(ctx, *sv.best, gentlings)
	for n := len(before) - 1; n >= 0 && err == nil; n-- {
		if rep.Within && len(before)-n > gentledMost {
			break
		}
		other, err := sv.judged(ctx, before[n], gentlings)
		if err != nil {
			return rep, err
		}
		if other.Within && (!rep.Within || other.Actual.Total() < rep.Actual.Total()) {
			rep = other
		}
	}
	return rep, err
}

// aHairSlower makes a rate the next one that can be keyed in, in degrees or in minutes.
const aHairSlower = 1 - 1e-5

// oneSlower lists programs with one cooling rate a step slower, the shortest first.
func (sv *solver) oneSlower(s program.Schedule) (out []program.Schedule) {
	for i := coolingFrom(s.Segments); i < len(s.Segments); i++ {
		if s.Segments[i].Rate == 0 {
			continue
		}
		if t, ok := sv.changed(s, func(segs []program.Segment) { segs[i].Rate *= aHairSlower }); ok {
			out = append(out, t)
		}
	}
	slices.SortStableFunc(out, func(a, b program.Schedule) int { return cmp.Compare(hours(a, sv.st.Kiln), hours(b, sv.st.Kiln)) })
	return out
}

// easierMost is how many programs are tried that promise to end sooner than the best one
// once everything is left to the kiln.
const easierMost = 4

// leftToKiln leaves to the kiln what can be left to it. Where slowing the ramps that a
// measured kiln cannot follow takes time, one of the others that were found may end
// sooner.
func (sv *solver) leftToKiln(ctx context.Context, rep *verify.Report) (*verify.Report, error) {
	best, err := plan.LeaveToKiln(ctx, rep)
	if err != nil || !sv.st.Kiln.Measured {
		return best, err
	}
	sv.keeper.keep(best)
	for _, x := range sv.easier(rep.Schedule) {
		if x.t >= best.Actual.Total().Seconds() {
			break
		}
		other, err := sv.judged(ctx, x.s, 0)
		if err == nil && other.Within {
			other, err = plan.LeaveToKiln(ctx, other)
		}
		if ctx.Err() != nil {
			return best, nil
		}
		if err == nil && other.Within && other.Actual.Total() < best.Actual.Total() {
			best = other
			sv.keeper.keep(best)
		}
	}
	return best, nil
}

// easier lists the programs that were found beside one and end soonest with everything
// left to the kiln, and when they do, the soonest first.
func (sv *solver) easier(of program.Schedule) (out []timed) {
	seen := map[string]bool{key(of): true}
	for _, x := range sv.keeper.short {
		if k := key(x.s); !seen[k] {
			seen[k] = true
			out = append(out, timed{x.s, plan.LeftToKiln(x.s, sv.st).Seconds()})
		}
	}
	slices.SortStableFunc(out, func(a, b timed) int { return cmp.Compare(a.t, b.t) })
	return out[:min(len(out), easierMost)]
}
