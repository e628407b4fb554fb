package plan

import (
	"cmp"
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
	free := pl.st
	free.Controller.Slowest, free.Controller.Segments = min(pl.st.Controller.Slowest, unit.KelvinPerHour(1)), 100
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
