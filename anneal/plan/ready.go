package plan

import (
	"context"
	"math"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// Planner proposes and judges a program. Plan is one; a search is another.
type Planner func(context.Context, *piece.Load, kiln.Studio, Options) (*verify.Report, error)

// ReadyHow is how an hour is planned for.
type ReadyHow struct {
	By      unit.Clock
	Planner Planner // of the program that is answered
	// Search is tried where that program is late, and must shorten it within the
	// same limits; nil tries none. It is asked for loads that it is quick for.
	Search Planner
}

// ReadyBy plans a load so that the kiln can be opened by a time of day: a load
// that does not say when it starts gets the latest start. One that does is
// checked; when it is late, the report says what lets it end in time, cheapest
// first and each no more than needed, found with at most 25 plans and a search. The
// program itself stays as it is. Errors: those of the planner.
func ReadyBy(ctx context.Context, l *piece.Load, st kiln.Studio, o Options, how ReadyHow) (*verify.Report, error) {
	rep, err := how.Planner(ctx, l, st, o)
	if err != nil {
		return nil, err
	}
	total, r := latestStart(rep, how.By)
	if rep.Ready = r; l.Start == nil {
		return startLatest(ctx, l, st, o, rep, how.Planner)
	}
	r.Given = true
	available := ((int(how.By)-int(*l.Start))%minutesPerDay + minutesPerDay) % minutesPerDay
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
		(&late{ctx: ctx, load: l, st: st, o: o, how: how, rep: rep, within: within}).ways()
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
	return unit.Seconds(s)
}
