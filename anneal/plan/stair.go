package plan

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/program"
	"lehr/anneal/rule"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// shortestStep is the least that one step of a stair falls [K]: below it a kiln
// does not follow, and the steps are no longer seen in the stress.
const shortestStep = 3.0

// stairs returns for each ramp in how many steps it is keyed in, 0 for one that
// the controller takes as it is: a rate below the smallest becomes short ramps at
// the smallest, each followed by a hold, as slow on the whole. Short steps pull
// less, so that a stair takes as many segments as there are, shared evenly.
// Errors: *kiln.SlowError of the piece that decided the slowest rate, where not
// even two steps fit.
func (p draft) stairs(c kiln.Controller) ([]int, error) {
	out := make([]int, len(p.ramps))
	slow, at, spans := 0, p.soak, make([]float64, len(p.ramps))
	for i, r := range p.ramps {
		spans[i] = float64(at.Sub(r.to))
		if at = r.to; !c.Minutes && r.rate < float64(c.SlowestKeyed())*(1-1e-9) {
			slow++
			out[i] = 1
		}
	}
	if slow == 0 {
		return out, nil
	}
	lines := 1 + int(p.hold/c.Longest)
	free := c.Segments - lines - (len(p.ramps) - slow)
	refused := func() error {
		least := slices.MinFunc(p.ramps, func(a, b ramp) int { return cmp.Compare(a.rate, b.rate) })
		return p.blame(least.decider, &kiln.SlowError{Wanted: unit.Rate(-least.rate), Slowest: c.Slowest, Units: c.Units, Segments: max(c.Segments+1, lines+len(p.ramps)+slow)})
	}
	if free < 2*slow {
		return nil, refused()
	}
	for i, r := range p.ramps {
		if out[i] == 0 {
			continue
		}
		n := math.Min(float64(free/slow), math.Max(2, math.Floor(spans[i]/math.Max(shortestStep, float64(c.SetStep())))))
		// A hold is no longer than the controller takes.
		whole := spans[i]/r.rate - spans[i]/float64(c.SlowestKeyed())
		if n < math.Ceil(whole/c.Longest.Seconds()) {
			return nil, refused()
		}
		out[i] = int(n)
		free -= int(n)
		slow--
	}
	return out, nil
}

// farLonger is how many times as long as with any rate a program of a controller
// with a smallest rate may take: beyond it is no help.
const farLonger = 2

// keyable is the program within the limits. The rates of a rule are those of a
// first draft: where the controller takes them neither as they are nor in steps,
// it is tried with the smallest that it does take, and then with ramps joined so
// that steps find room; the simulation decides. A published rule stands as it is.
// Errors: that of the first draft, if none of the others keeps the limits.
func (pl *planner) keyable() (*verify.Report, error) {
	first, merged := pl.draft.clone(), pl.merged
	rep, err := pl.slowToLimits()
	var slow *kiln.SlowError
	if !errors.As(err, &slow) || pl.o.Rule != "" && pl.o.Rule != rule.Stress {
		return rep, err
	}
	try := func(d draft) *verify.Report {
		pl.draft, pl.longer, pl.own = d, 0, false
		if next, err := pl.slowToLimits(); err == nil && next.Within {
			return next
		}
		return nil
	}
	smallest := first.clone()
	for i, r := range smallest.ramps {
		smallest.ramps[i].rate = math.Max(r.rate, float64(max(slow.Slowest, pl.st.Controller.SlowestKeyed())))
	}
	if next := try(smallest); next != nil {
		return next, nil
	}
	most := farLonger * pl.atAnyRate(first)
	for n := len(first.ramps) - 1; n > 0 && pl.ctx.Err() == nil; n-- {
		joined := first.clone()
		joined.merge(n)
		pl.merged = true
		if next := try(joined); next != nil && next.Actual.Total() <= most {
			return next, nil
		}
	}
	pl.draft, pl.merged = first, merged
	pl.wouldDo(slow)
	return nil, err
}

// moreTried is how many numbers of segments are tried before a refusal names none,
// each for a plan: of 48 refusals 10 named none, with one 29, with eight 6.
const moreTried = 4

// wouldDo sets the fewest segments of a controller with which the load is within
// its limits, 0 if none of those tried is.
func (pl *planner) wouldDo(slow *kiln.SlowError) {
	first := slow.Segments
	if slow.Segments = 0; first == 0 || pl.o.quiet {
		return
	}
	for n := first; n < first+moreTried && pl.ctx.Err() == nil; n++ {
		more := planner{stillSets: stillSets, ctx: pl.ctx, load: pl.load, st: pl.st, o: pl.quietly(), limits: pl.limits}
		more.st.Controller.Segments = n
		if rep, err := more.plan(); err == nil && rep.Within {
			slow.Segments = n
			return
		}
	}
}

// anyRate is the studio with a controller that takes any rate in many segments.
func (pl *planner) anyRate() kiln.Studio {
	free := pl.st
	free.Controller.Slowest, free.Controller.Segments = min(pl.st.Controller.Slowest, unit.KelvinPerHour(1)), 100
	return free
}

// atAnyRate is how long a draft takes with such a controller; 0 where none takes it.
func (pl *planner) atAnyRate(d draft) time.Duration {
	free := pl.anyRate()
	s, err := d.round(free)
	if err != nil {
		return 0
	}
	rep, err := verify.ByBounds(pl.ctx, s, pl.load, free, pl.limits)
	if err != nil {
		return 0
	}
	return rep.Actual.Total()
}

// stair is one ramp as n steps of a ramp and a hold; its last hold is followed by
// that of the ramp.
func (r ramp) stair(c kiln.Controller, purpose program.Purpose, from, to unit.Temp, n int) []program.Segment {
	slowest := float64(c.SlowestKeyed())
	var out []program.Segment
	at := from
	for i := 1; i <= n; i++ {
		next := to
		if i < n {
			next = c.Temp(from.Add(to.Sub(from) * unit.Delta(float64(i)/float64(n))))
		}
		fall := float64(at.Sub(next))
		if fall <= 0 {
			continue
		}
		hold := c.Hold(unit.Seconds(fall/r.rate - fall/slowest))
		if i == n {
			hold += c.Hold(r.hold)
		}
		out = append(out, program.Segment{Purpose: purpose, Rate: unit.Rate(-slowest), To: next, Hold: min(hold, c.Longest.Truncate(time.Minute))})
		at = next
	}
	return out
}

// noteController says what the smallest rate and the few segments of a controller
// cost, where the program gave way to them: against the same load with one that
// takes any rate in many segments.
func (pl *planner) noteController(rep *verify.Report) error {
	stairs, err := pl.draft.stairs(pl.st.Controller)
	if err != nil {
		return nil // it was refused
	}
	steps := slices.Max(stairs)
	if steps == 0 && !pl.merged {
		return nil
	}
	free := pl.anyRate()
	if free.Controller == pl.st.Controller {
		return nil
	}
	best, err := Plan(pl.ctx, pl.load, free, pl.quietly())
	if err != nil {
		return pl.ctx.Err() // with any controller
	}
	costs := max(0, rep.Actual.Total()-best.Actual.Total())
	f := finding.Of(finding.FewSegments).Counting(float64(pl.st.Controller.Segments)).Lasting(costs, 0)
	if steps > 0 {
		f = finding.Of(finding.Stair).Falling(pl.st.Controller.SlowestKeyed()).Lasting(costs, 0)
	}
	rep.Notes.Add(f)
	return nil
}
