package plan

import (
	"context"
	"math"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// Planner proposes and judges a program. Plan is one; a search is another.
type Planner func(context.Context, *piece.Load, kiln.Studio, Options) (*verify.Report, error)

// MostGive is the highest limit of tension that is tried: what is permissible
// for borosilicate 3.3.
//
// Source: 7 N/mm² in EN 1595, as the maker's page for tubing quotes it [quoted].
const MostGive = 7 * unit.Megapascal

// giveSteps bounds the search for a limit: about 2 % of it after 7 halvings of
// the way from 1 to 7 MPa.
const giveSteps = 7

// ReadyBy plans a load so that the kiln can be opened by a time of day: a load
// that does not say when it starts gets the latest start. One that does is
// checked; when it is late, the report says whether the pieces bear a kiln that is
// opened warmer, and which limit would have to give, by how much, found by
// bisection with at most 25 plans. The program itself stays within the limits.
// Errors: those of plan.
func ReadyBy(ctx context.Context, l *piece.Load, st kiln.Studio, o Options, by unit.Clock, plan Planner) (*verify.Report, error) {
	rep, err := plan(ctx, l, st, o)
	if err != nil {
		return nil, err
	}
	total, r := latestStart(rep, by)
	if rep.Ready = r; l.Start == nil {
		return startLatest(ctx, l, st, o, rep, plan)
	}
	r.Given = true
	available := ((int(by)-int(*l.Start))%minutesPerDay + minutesPerDay) % minutesPerDay
	if available == 0 {
		available = minutesPerDay
	}
	r.Spare = time.Duration(available-total) * time.Minute
	if k := r.Range; k != nil {
		k.Decides = wholeMinutes(k.Quickest) <= available && wholeMinutes(k.Slowest) > available
	}
	if r.Met = r.Spare >= 0; r.Met {
		return rep, nil
	}
	within := time.Duration(available) * time.Minute
	r.Then = unit.Kelvin(rep.Actual.At(within.Seconds()))
	if alone := kilnAlone(rep); alone > within {
		r.Kiln = alone
	}
	if rep.Within {
		openWarmer(ctx, r, l, st, o, rep, within, plan)
		giveUp(ctx, r, l, st, o, rep, within, plan)
	}
	return rep, nil
}

const minutesPerDay = 24 * 60

// wholeMinutes is how many minutes are over when a program has ended.
func wholeMinutes(d time.Duration) int { return int(math.Ceil(d.Minutes() - 1e-9)) }

// latestStart is how many minutes a program takes, and the latest start at which it
// is ready by a time of day: in the likeliest kiln, and in the slowest that it may be.
func latestStart(rep *verify.Report, by unit.Clock) (total int, r *verify.Ready) {
	before := func(total int) (unit.Clock, int) {
		latest := ((int(by)-total)%minutesPerDay + minutesPerDay) % minutesPerDay
		return unit.Clock(latest), (total - int(by) + latest) / minutesPerDay
	}
	total, r = wholeMinutes(rep.Actual.Total()), &verify.Ready{By: by}
	r.Latest, r.Before = before(total)
	if first, last, ok := rep.Between(); ok {
		k := &verify.ReadyRange{Quickest: first, Slowest: last, Decides: wholeMinutes(last) > total}
		k.Latest, k.Before = before(wholeMinutes(last))
		r.Range = k
	}
	return total, r
}

// restarts bounds how often a load is planned again whose start moved by what its
// pieces see before it. With fewer the program may be one for a start some minutes off,
// with more the plans of a load whose start keeps moving take longer.
const restarts = 3

// startLatest gives a load the latest start; one whose pieces go in at times of day is
// planned again, as what they see before the program hangs on it.
func startLatest(ctx context.Context, l *piece.Load, st kiln.Studio, o Options, rep *verify.Report, plan Planner) (*verify.Report, error) {
	for n := 0; ; n++ {
		r := rep.Ready
		load, err := l.StartingAt(r.Latest)
		if err != nil {
			return nil, err
		}
		known := rep.Load.Start != nil && *rep.Load.Start == r.Latest
		if known || !l.HasTimes() || n == restarts {
			rep.Load, r.Met = load, true
			return rep, nil
		}
		if rep, err = plan(ctx, load, st, o); err != nil {
			return nil, err
		}
		_, rep.Ready = latestStart(rep, r.By)
	}
}

// kilnAlone is how long the kiln takes to fall from where the program begins to
// its end, with the elements off.
func kilnAlone(rep *verify.Report) time.Duration {
	last := rep.Schedule.Segments[len(rep.Schedule.Segments)-1].To
	s := rep.Studio.Kiln.Ramp(rep.Schedule.From, last, unit.Rate(math.Inf(-1)))
	if !last.Less(rep.Schedule.From) || math.IsInf(s, 0) {
		return 0
	}
	return time.Duration(s * float64(time.Second))
}

// A kiln is opened warmer by whole steps from what it reads at the time asked for:
// a program to there is shorter, since its last ramp ends sooner, but not always by
// all that is missing. Nobody opens one above warmest.
const openingSteps = 4

// roundUp brings a reading to the next round one of a system of units, 5 °C or
// 10 °F apart.
func roundUp(t unit.Temp, s unit.System) unit.Temp {
	if s == unit.US {
		return unit.Fahrenheit(10 * math.Ceil(t.Fahrenheit()/10-1e-9))
	}
	return unit.Celsius(5 * math.Ceil(t.Celsius()/5-1e-9))
}

// warmest is the highest reading at which opening is considered [common practice]: a
// lower one finds fewer ways to be ready in time, a higher one means hot glass by hand.
var warmest = unit.Celsius(300)

// openWarmer looks for the lowest reading at which the kiln can be opened in time
// with every piece within its limits.
func openWarmer(ctx context.Context, r *verify.Ready, l *piece.Load, st kiln.Studio, o Options, late *verify.Report, within time.Duration, plan Planner) {
	open := roundUp(r.Then, st.Units)
	for range openingSteps {
		if warmest.Less(open) || !st.Opening.Less(open) {
			return
		}
		warm := st
		warm.Opening = open
		rep, err := plan(ctx, l, warm, o)
		if err != nil || !rep.Within {
			return
		}
		if t := rep.Actual.Total(); t <= within {
			w := verify.Way{Open: open, Total: t}
			for _, p := range rep.Pieces {
				if p.Opening.Use > w.Opened.Use {
					w.Opened = p.Opening
				}
			}
			if f, ok := rep.Notes.Find(finding.StillHot); ok {
				w.Still.Add(f)
			}
			r.Ways = append(r.Ways, w)
			return
		}
		open = roundUp(open.Add(1), st.Units)
	}
}

// giveUp looks for the least change of one limit, and of both if none alone
// would do.
func giveUp(ctx context.Context, r *verify.Ready, l *piece.Load, st kiln.Studio, o Options, at *verify.Report, within time.Duration, plan Planner) {
	try := func(which []int, share float64) (*verify.Report, bool) { // share 0 is the limit as it is, 1 the most
		q := o
		for _, i := range which {
			s := limitOf(at, i)
			*limitAt(&q.Limits, i) = unit.Stress(float64(s) * math.Pow(float64(max(MostGive, s)/s), share))
		}
		rep, err := plan(ctx, l, st, q)
		if err != nil || !rep.Within {
			return nil, false
		}
		return rep, rep.Actual.Total() <= within
	}
	for _, which := range [][]int{{1}, {0}, {1, 0}} {
		if len(which) == 2 && slices.ContainsFunc(r.Ways, func(w verify.Way) bool { return len(w.Gives) > 0 }) {
			return
		}
		best, ok := try(which, 1)
		if !ok {
			if best != nil && len(which) == 2 {
				r.Least = best.Actual.Total()
			}
			continue
		}
		low, high := 0.0, 1.0
		for range giveSteps {
			mid := (low + high) / 2
			if rep, ok := try(which, mid); ok {
				best, high = rep, mid
			} else {
				low = mid
			}
		}
		w := verify.Way{Total: best.Actual.Total()}
		for _, i := range which {
			w.Gives = append(w.Gives, verify.Give{Limit: verify.Limit(i), From: expected(at, i), Reaches: reached(best, i), Worst: worst(best, i)})
		}
		r.Ways = append(r.Ways, w)
	}
}

func limitAt(l *kiln.Limits, i int) *unit.Stress {
	if i == 0 {
		return &l.Tension
	}
	return &l.Residual
}

// expected returns the strictest limit of average glass.
func expected(rep *verify.Report, i int) unit.Stress {
	least := unit.Stress(math.Inf(1))
	for _, p := range rep.Pieces {
		if b := [...]verify.Tension{p.Tension, p.ResidualTension}[i]; b.Pair.Expected > 0 {
			least = min(least, b.Pair.Expected)
		}
	}
	return least
}

// reached returns what average glass reaches of a limit.
func reached(rep *verify.Report, i int) unit.Stress {
	most := unit.Stress(0)
	for _, p := range rep.Pieces {
		most = max(most, [...]verify.Tension{p.Tension, p.ResidualTension}[i].Expected)
	}
	return most
}

// limitOf returns the strictest limit of the worst case that a piece has.
func limitOf(rep *verify.Report, i int) unit.Stress {
	least := unit.Stress(math.Inf(1))
	for _, p := range rep.Pieces {
		if b := [...]verify.Tension{p.Tension, p.ResidualTension}[i]; b.Pair.Worst > 0 {
			least = min(least, b.Pair.Worst)
		}
	}
	return least
}

// worst returns what the pieces reach of a limit.
func worst(rep *verify.Report, i int) unit.Stress {
	w := unit.Stress(0)
	for _, p := range rep.Pieces {
		if i == 0 {
			w = max(w, p.Peak)
		} else if p.ResidualJudged {
			w = max(w, p.Residual)
		}
	}
	return w
}
