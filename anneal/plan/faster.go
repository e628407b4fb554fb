package plan

import (
	"math"
	"slices"
	"time"

	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// A program within its limits is made faster where it uses up none, each time at
// most twice as fast, until that shortens it by less than worthwhile, and at most
// rounds times: of 22 loads five were longer, by up to 2.6 %, after one round, and none
// after two.
const (
	rounds     = 6
	worthwhile = 0.01
)

// faster makes a program within its limits faster where it uses up none, and
// answers the program as it was where nothing comes of it.
func (pl *planner) faster(best *verify.Report) (*verify.Report, error) {
	if !pl.holds(best) {
		return best, nil
	}
	was := pl.draft.clone()
	next, err := pl.quicken(best)
	if err != nil {
		return nil, err
	}
	if next != best && !pl.holds(next) {
		if next, err = pl.slowUntilWithin(next, true); err != nil {
			return nil, err
		}
	}
	if pl.holds(next) && next.Nominal.Total() < best.Nominal.Total() {
		return next, nil
	}
	pl.draft = was
	return best, nil
}

// decides reports whether the cooling is the planner's: the program leads to the
// room, and by no published rule, which stands as it is.
func (pl *planner) decides(rep *verify.Report) bool {
	return rep.Pieces[0].ResidualJudged && !pl.o.published()
}

// takeBack looks between a draft that is over a limit and the one after it, whose
// report is given, for the fastest that is within: first in the cooling, then in
// the heating, which limit nothing of each other.
func (pl *planner) takeBack(best, like *verify.Report, over draft) {
	between := func(slow, fast float64) float64 { return math.Sqrt(slow * fast) }
	try := func(mix func(slow, fast, mid *draft), apart func(slow, fast *draft) float64) {
		slow, fast := pl.draft, over
		for range regains {
			if apart(&slow, &fast) < 1+finestStep {
				break
			}
			mid := slow.clone()
			mix(&slow, &fast, &mid)
			pl.draft = mid
			if rep, err := pl.judge(like); err == nil && pl.holds(rep) && rep.Actual.Total() <= best.Actual.Total() {
				slow, best = mid, rep
			} else {
				fast = mid
			}
		}
		pl.draft = slow
	}
	if !slices.EqualFunc(pl.draft.ramps, over.ramps, func(a, b ramp) bool { return a.rate == b.rate }) {
		try(func(slow, fast, mid *draft) {
			for i := range mid.ramps {
				mid.ramps[i].rate = between(slow.ramps[i].rate, fast.ramps[i].rate)
			}
		}, func(slow, fast *draft) (most float64) {
			for i, r := range slow.ramps {
				most = math.Max(most, fast.ramps[i].rate/r.rate)
			}
			return most
		})
	}
	if pl.draft.heatRate != over.heatRate {
		try(func(slow, fast, mid *draft) { mid.heatRate = between(slow.heatRate, fast.heatRate) },
			func(slow, fast *draft) float64 { return fast.heatRate / slow.heatRate })
	}
}

// quickenFrom is the share of every limit below which a ramp of a first draft is
// made faster: the rule knows neither light inside the glass nor a piece in its
// plane, nor how much less than its factors a bed may do.
const quickenFrom = 0.97

// quicken makes each ramp of a draft that uses up no limit faster by what is left
// of the limit it uses most, but no heating above the closed form and not a
// published rule, which stands as it is. The draft is then over a limit, or uses
// one up; the report is its own.
func (pl *planner) quicken(rep *verify.Report) (*verify.Report, error) {
	if !rep.Within || !pl.decides(rep) {
		return rep, nil
	}
	slow := pl.draft.clone()
	changed := false
	for i, use := range pl.uses(rep) {
		r := &pl.draft.ramps[i]
		if use <= quickenFrom && (r.most == 0 || r.rate < r.most) {
			r.rate /= math.Max(use, 0.5) // never twice as fast: stress is not quite linear
			if r.most > 0 {
				r.rate = math.Min(r.rate, r.most)
			}
			changed = true
		}
	}
	if use := heatUse(rep); use > 0 && use <= quickenFrom { // slowed by more than was needed
		if most := pl.heatingLimit(pl.draft.from, pl.draft.soak); pl.draft.heatRate < most {
			pl.draft.heatRate = math.Min(most, pl.draft.heatRate/math.Max(use, 0.5))
			changed = true
		}
	}
	if !changed {
		return rep, nil
	}
	next, err := pl.judge(rep)
	if err != nil {
		pl.draft = slow
		return rep, nil
	}
	if !next.Within {
		fast := pl.draft
		pl.draft = slow
		pl.takeBack(rep, rep, fast)
	}
	return pl.judgeAnew(rep)
}

// uses returns for each cooling ramp the greatest share of a limit that it uses
// up: of the tension while it lasts, and of what is left where a piece may still
// freeze in it.
func (pl *planner) uses(rep *verify.Report) []float64 {
	uses := make([]float64, len(pl.draft.ramps))
	soak := soakSegment(rep)
	for _, r := range rep.Pieces {
		for seg := soak + 1; seg < len(r.SpanUse); seg++ {
			i := pl.draft.rampTo(rep.Schedule.Segments[seg].To)
			uses[i] = math.Max(uses[i], r.SpanUse[seg])
		}
		for i, freezes := range pl.freezing(r) {
			if freezes {
				uses[i] = math.Max(uses[i], r.ResidualTension.Use)
			}
		}
	}
	return uses
}

// heatUse returns the greatest share of the limit of tension that heating uses up.
func heatUse(rep *verify.Report) (use float64) {
	for _, r := range rep.Pieces {
		for _, u := range r.SpanUse[:soakSegment(rep)+1] {
			use = math.Max(use, u)
		}
	}
	return use
}

// soakSegment returns the last segment that soaks.
func soakSegment(rep *verify.Report) (last int) {
	for i, seg := range rep.Schedule.Segments {
		if seg.Purpose == program.PurposeSoak {
			last = i
		}
	}
	return last
}

// lastTimes are the times by which the last ramps are tried faster, the boldest first.
// Without any 22 loads took 20 h longer than their 565 h, with the first alone 1.3 h,
// with the last alone 2.6 h.
var lastTimes = []float64{2, 1.4, 1.2}

// lastFaster makes the ramps faster in which hardly anything sets, and slows those
// above for what is left, as far as that ends the program sooner: a little there
// may save hours where it is cold. It answers the program as it was where it does
// not.
func (pl *planner) lastFaster(best *verify.Report) (*verify.Report, error) {
	if !pl.holds(best) || !pl.decides(best) {
		return best, nil
	}
	was, margin := pl.draft.clone(), pl.stillSets
	defer func() { pl.stillSets = margin }()
	hardly := pl.setsIn(best)
	pl.stillSets = 0
	for i, sets := range pl.setsIn(best) {
		hardly[i] = hardly[i] && !sets
	}
	if pl.kilnSaves(best, hardly) < time.Duration(worthwhile*float64(best.Actual.Total())) {
		return best, nil
	}
	for _, times := range lastTimes {
		for i := range hardly {
			if hardly[i] {
				pl.draft.ramps[i].rate *= times
			}
		}
		next, err := pl.judgeAnew(best)
		if err == nil && !pl.holds(next) {
			next, err = pl.slowUntilWithin(next, true)
		}
		if err := pl.ctx.Err(); err != nil {
			return nil, err
		}
		if err == nil && pl.sooner(next, best) {
			return next, nil
		}
		pl.draft = was.clone()
	}
	return best, nil
}

// followed makes the ramps that the likeliest kiln cannot follow as slow as it is,
// and the others faster by what that leaves: a rate that no kiln reaches saves no
// time, but is judged as if one did. It answers the program as it was where that
// hardly ends it sooner.
func (pl *planner) followed(best *verify.Report) (*verify.Report, error) {
	if !pl.holds(best) || !pl.decides(best) {
		return best, nil
	}
	was, slower := pl.draft.clone(), false
	at := pl.draft.soak
	for i := range pl.draft.ramps {
		r := &pl.draft.ramps[i]
		r.most = keyable(pl.st.Controller, float64(at.Sub(r.to)), math.Abs(float64(pl.st.Kiln.Fall.Rate(at))))
		slower = slower || r.rate > r.most
		r.rate = math.Min(r.rate, r.most)
		at = r.to
	}
	if slower {
		next, err := pl.judgeAnew(best)
		for range rounds {
			if err != nil {
				return nil, err
			}
			before := next.Actual.Total().Hours()
			if next, err = pl.faster(next); err == nil && next.Actual.Total().Hours() > before*(1-worthwhile) {
				break
			}
		}
		if err != nil {
			return nil, err
		}
		if pl.sooner(next, best) {
			return next, nil
		}
	}
	pl.draft = was
	return best, nil
}

// sooner reports whether a program keeps its limits and ends so much before another
// that it is worth it.
func (pl *planner) sooner(next, best *verify.Report) bool {
	return pl.holds(next) && next.Actual.Total().Hours() < best.Actual.Total().Hours()*(1-worthwhile)
}

// kilnSaves is how much sooner a program would end if the kiln fell by itself in
// the ramps given.
func (pl *planner) kilnSaves(rep *verify.Report, which []bool) time.Duration {
	saved := 0.0
	for i, span := range rep.Actual.Spans {
		seg := rep.Schedule.Segments[i]
		if seg.To.Less(span.From) && which[pl.draft.rampTo(seg.To)] {
			saved += math.Max(0, span.RampEnds-span.Start-pl.st.Kiln.Ramp(span.From, seg.To, unit.Rate(math.Inf(-1))))
		}
	}
	return unit.Seconds(saved)
}

// setsIn reports for each ramp whether some piece may still freeze in it.
func (pl *planner) setsIn(rep *verify.Report) []bool {
	out := make([]bool, len(pl.draft.ramps))
	for _, r := range rep.Pieces {
		for i, sets := range pl.freezing(r) {
			out[i] = out[i] || sets
		}
	}
	return out
}
