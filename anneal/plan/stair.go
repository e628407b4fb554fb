package plan

import (
	"errors"
	"math"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/program"
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
func (p *draft) stairs(c kiln.Controller) ([]int, error) {
	out := make([]int, len(p.ramps))
	slow, at, spans := 0, p.soak, make([]float64, len(p.ramps))
	for i, r := range p.ramps {
		spans[i] = float64(at.Sub(r.to))
		if at = r.to; !c.Minutes && r.keyed() < float64(c.SlowestKeyed())*(1-rounding) {
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
		least := &p.ramps[0]
		for i := range p.ramps {
			if r := &p.ramps[i]; r.rate < least.rate {
				least = r
			}
		}
		return p.blame(least.decider, &kiln.SlowError{Wanted: unit.Rate(-least.rate), Slowest: c.Slowest, Units: c.Units})
	}
	least := 2
	if p.stepped(&c) {
		free, least = slow, 1
	}
	if free < least*slow {
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

// climbs reports whether a ramp of the draft is keyed in as a stair, or was to be;
// not of a published rule, which stands as it is.
func (pl *planner) climbs() bool {
	c := &pl.st.Controller
	return !c.Minutes && !pl.o.published() && slices.ContainsFunc(pl.draft.ramps, func(r ramp) bool {
		return r.keyed() < float64(c.SlowestKeyed())*(1-rounding)
	})
}

// noneShorter is how many more segments in turn may give no shorter program before no
// more are tried: of up to 24, for a sphere of 6 in and controllers from 20, 30 and
// 60 °F/h, none gave a shorter one than the shortest of up to six.
const noneShorter = 4

// fewestSegments are a soak and one ramp.
const fewestSegments = 2

// inAnySegments is the program within the limits that is done first of those for as
// many segments as the controller has and for fewer: how a stair is cut changes what
// sets where, and of more segments comes the longer program as often as the shorter.
// From the fewest up, so that what a controller with fewer is given always counts.
// Errors: those with all segments, if there is no program.
func (pl *planner) inAnySegments() (*verify.Report, error) {
	in := func(n int, o Options) planner {
		next := planner{stillSets: pl.stillSets, ctx: pl.ctx, load: pl.load, st: pl.st, o: o, limits: pl.limits, most: pl.most}
		next.st.Controller.Segments, next.inAll, next.has = n, true, pl.st.Controller.Segments
		next.fewerTried = n > fewestSegments
		return next
	}
	at, since, shortest := pl.st.Controller.Segments, 0, time.Duration(math.MaxInt64)
	var best *verify.Report
	var by planner
	for n := fewestSegments; n <= pl.st.Controller.Segments && (since == 0 || n <= since+noneShorter); n++ {
		next := in(n, pl.quietly())
		rep, err := next.asSet()
		switch {
		case pl.ctx.Err() != nil:
			return nil, pl.ctx.Err()
		case err == nil && rep.Within && rep.Actual.Total() < shortest:
			at, since, shortest = n, n, rep.Actual.Total()
			best, by = rep, next
		case err == nil && since == 0: // that it is over a limit is not for want of segments
			since = n
		}
	}
	if best != nil && pl.o.quiet {
		*pl = by
		return best, nil
	}
	next := in(at, pl.o)
	next.chosen, next.joined = by.chosen, by.joined
	rep, err := next.asSet()
	*pl = next
	return rep, err
}

// stepsTo are the shares of the way from the soak to the last but one stop of a rule
// within which a few steps are tried: with long steps what sets is further down, and
// they pull more, with short ones too much is left to set in the last ramp. Which is
// the soonest done goes with the smallest rate.
var stepsTo = []float64{1, 0.8, 0.65, 0.5, 0.35}

// farLonger is how many times as long as with any rate a program of a controller
// with a smallest rate may take: beyond it is no help.
const farLonger = 2

// keyable is the program within the limits. The rates of a rule are those of a
// first draft: where the controller takes them neither as they are nor in steps, or
// has too few segments, another draft is taken for which it has them; the simulation
// decides. A published rule stands as it is.
// Errors: that of the first draft, if none of the others keeps the limits.
func (pl *planner) keyable() (*verify.Report, error) {
	if pl.chosen != nil {
		pl.merged = pl.merged || pl.joined
		return pl.with(pl.chosen)
	}
	first, merged, o := pl.draft.clone(), pl.merged, pl.o
	rep, err := pl.slowToLimits()
	if !unkeyable(err) || pl.o.published() {
		return rep, err
	}
	pl.o = pl.quietly()
	d := pl.another(&first)
	if pl.o = o; d != nil {
		rep, again := pl.with(d)
		if again == nil {
			pl.chosen, pl.joined = d, pl.merged
			return rep, nil
		}
	}
	pl.draft, pl.merged = first, merged
	if pl.ctx.Err() != nil {
		return nil, pl.ctx.Err()
	}
	return nil, err
}

// unkeyable reports whether an error says that a controller cannot be set for a
// program.
func unkeyable(err error) bool {
	var slow *kiln.SlowError
	var many *SegmentsError
	return errors.As(err, &slow) || errors.As(err, &many)
}

// with is the program that comes of a draft.
func (pl *planner) with(d *draft) (*verify.Report, error) {
	pl.draft, pl.longer, pl.own = *d, 0, false
	pl.draft.ramps = slices.Clone(d.ramps)
	return pl.slowToLimits()
}

// another is the first draft of others that the controller takes, nil if it takes
// none, and of those in few steps the one that is done first.
func (pl *planner) another(first *draft) (best *draft) {
	was := pl.most
	for i, d := range first.others(pl.st.Controller, pl.fewerTried) {
		if i == 1 {
			pl.merged = true
			if most := farLonger * pl.atAnyRate(*first); most > 0 && (pl.most == 0 || most < pl.most) {
				pl.most = most
			}
		}
		rep, err := pl.with(d)
		if pl.ctx.Err() != nil {
			break
		}
		if err != nil || !rep.Within || i > 0 && rep.Actual.Total() > pl.most {
			continue
		}
		best, pl.most = d, rep.Actual.Total()
		if pl.anyDoes || !d.stepped(&pl.st.Controller) {
			break
		}
	}
	pl.most = was
	return best
}

// mostLast is for how many segments, and fewer, the last ramp is made quick enough
// where ramps are keyed in as minutes: of fewer some loads would be refused that have
// a program, of more each refusal takes longer.
const mostLast = 3

// others are the drafts that are tried where a controller does not take one: with the
// smallest rate that it does take; with ramps joined, so that steps find room, or the
// last ramp fewer segments; and in as few steps through the range in which the glass
// sets as there are segments for, or one less.
func (p *draft) others(c kiln.Controller, fewerTried bool) (out []*draft) {
	like := func() *draft {
		d := p.clone()
		out = append(out, &d)
		return &d
	}
	slowest := float64(c.SlowestKeyed())
	for d, i := like(), 0; i < len(d.ramps); i++ {
		d.ramps[i].rate = math.Max(d.ramps[i].rate, slowest)
	}
	n := len(p.ramps) - 1
	for most := n; most > 0; most-- {
		like().merge(most)
		for segments := mostLast; segments > 0 && c.Minutes; segments-- {
			d := like()
			d.merge(most)
			last, at := len(d.ramps)-1, p.soak
			if last > 0 {
				at = d.ramps[last-1].to
			}
			d.ramps[last].least = float64(at.Sub(d.ramps[last].to)+c.SetStep()) / (float64(segments) * c.Longest.Seconds())
		}
	}
	steps := c.Segments - 2 - int(p.hold/c.Longest)
	least := max(1, steps-1)
	if fewerTried && int(2*p.hold/c.Longest) == int(p.hold/c.Longest) { // a longer soak takes no segment more
		least = max(1, steps)
	}
	for k := steps; k >= least && n > 0 && !c.Minutes; k-- {
		for _, share := range stepsTo {
			d := like()
			step := p.soak.Sub(p.ramps[n-1].to) * unit.Delta(share/float64(k))
			d.ramps = make([]ramp, k+1)
			for i := range k {
				d.ramps[i] = p.ramps[0]
				d.ramps[i].to = c.Temp(p.soak.Add(-step * unit.Delta(i+1)))
			}
			d.ramps[k] = p.ramps[n]
			d.ramps[k].least = slowest
		}
	}
	return out
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
	if steps == 0 && (!pl.merged || pl.has > pl.st.Controller.Segments) {
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
