package shortest

import (
	"errors"
	"math"
	"slices"

	"lehr/anneal/sim"
	"lehr/anneal/verify"
)

// rounds bounds how often the weights are found anew: with three of them three of
// six programs were longer, by up to 0.3 %, with twelve one was, by 0.4 %.
const rounds = 6

// roundGain is the time that a round must gain for another one [s]. tooBold is by
// what rates are slowed where no draft of a round can be brought within the limits:
// by less than half, so that the next weights are still slopes near the answer.
const (
	roundGain = 60.0
	tooBold   = 0.7
)

// trusts is by which factor a plan may change a rate in each round: weights are
// slopes, and are trusted less the closer a plan is. The last holds for all further
// rounds. Half as much leads less far, for one of six programs to 6 % more hours; twice
// as much to 0.3 % more for another.
var trusts = [...]float64{4, 3, 2.5}

// search leaves the best program it finds in sv.best.
func (sv *solver) search() error {
	base := sv.ruleDraft()
	if len(base.cools) == 0 {
		return errors.New("shortest: the rule proposes no cooling")
	}
	if err := sv.heat(&base); err != nil {
		return err
	}
	if err := sv.correctHeating(&base); err != nil {
		return err
	}
	g, err := sv.ladderOf(base)
	if err != nil {
		return err
	}
	soak := -1
	for a := range g.soaks {
		if !math.IsInf(g.hold[a], 1) && (soak < 0 || g.node[a] >= sv.frame.Soak.Kelvin()-0.5) {
			soak = a
		}
	}
	if soak < 0 {
		return sv.noSoak(g)
	}
	base.soak, base.hold = g.node[soak], g.hold[soak]
	if _, err := sv.calibrate(base.soakedAt(sv.heating).exact()); err != nil {
		return err
	}
	base = base.soakedAt(sv.heating)
	rule := g.rates(base)
	sv.soaks = g
	sv.best, sv.seconds = nil, math.Inf(1)
	closed, err := sv.startRates(g, rule)
	if err != nil {
		return err
	}
	sv.bound = sv.floor()
	switch err := sv.starts(g, base, soak, rule, closed); {
	case errors.Is(err, errNotFollowed):
		return nil // the answer will say so
	case err != nil || sv.best == nil || !sv.far():
		return err
	}
	return sv.resoak()
}

// starts searches from each way to begin: they end in different places. They share
// nothing that changes but the worst case, which each finds for its own programs.
func (sv *solver) starts(g grid, base draft, soak int, rule, closed []float64) error {
	another := func() *solver {
		other := *sv
		other.bias, other.tensionBias = slices.Clone(sv.bias), slices.Clone(sv.tensionBias)
		other.leading, other.watched = nil, nil
		other.best, other.seconds, other.o.Progress = nil, math.Inf(1), nil
		return &other
	}
	keep := func(other *solver, err error) error {
		if err != nil && !errors.Is(err, errNotFollowed) {
			return err
		}
		if other.seconds < sv.seconds {
			sv.best, sv.seconds = other.best, other.seconds
		}
		return nil
	}
	if err := sv.from(g.clone(), base.clone(), soak, slices.Clone(closed)); err != nil {
		return err
	}
	far := sv.o.thorough || sv.best == nil || sv.st.Controller.Segments < roomy || sv.far()
	if far {
		other := another()
		if err := keep(other, other.fromThree(g.clone(), base.clone(), soak, rule)); err != nil {
			return err
		}
	}
	if sv.o.thorough || sv.best == nil {
		return nil
	}
	// Which whole minutes pay for others a coarse simulation does not tell: of 111
	// random loads three were 0.5 to 1.6 % longer without this.
	if sv.st.Controller.Minutes {
		sv.closer = true
		if err := sv.polish(); err != nil {
			return err
		}
		if err := sv.exchange(); err != nil {
			return err
		}
		sv.closer = false
	}
	if !far {
		return nil
	}
	// Far from the floor a coarse simulation may lead anywhere. In minutes it does where
	// steps are large, else most is gained from where the others ended: of 21 random loads
	// that were longer than without shortcuts four more are within half a per cent by this,
	// with a quarter less of work, than with closer simulations.
	if sv.st.Controller.Minutes {
		other := another()
		other.closer = true
		return keep(other, other.from(g, base, soak, closed))
	}
	for range againMost {
		before, d := sv.seconds, coolingOf(*sv.best)
		soak := g.soakOf(d)
		base.soak, base.hold = g.node[soak], g.hold[soak]
		base = base.soakedAt(sv.heating)
		other := another()
		if err := keep(other, other.from(g.clone(), base.clone(), soak, g.rates(d))); err != nil {
			return err
		}
		if before-sv.seconds < againGain*before {
			break
		}
	}
	return nil
}

// How often a search goes on from the best program, and the share of the length that it
// must have gained for another time: of the 21 loads none gained in a third.
const (
	againMost = 3
	againGain = 2e-3
)

// far says that the best program is far from the floor.
func (sv *solver) far() bool {
	by := near
	if sv.st.Kiln.Measured {
		by = nearMeasured
	}
	return sv.seconds >= by*sv.bound.Total.Seconds()
}

// near is how near to the floor, which no program can beat, the first start must
// come for the second to be left out, given that the controller is roomy: of spheres
// of 2 to 6 in, those that come so near are at most 0.17 % longer than two starts
// found them, the others up to 1.8 %. Of a kiln that was measured the floor knows more, and
// what the answer slows for it is another for each program: a load 1.10 times above it was
// 1.3 % longer without the second start.
const (
	near         = 1.15
	nearMeasured = 1.08
)

// roomy is the number of segments from which one start may be enough. With fewer
// the two starts end further apart: for one of 11 random loads, with four
// segments, the second found a program 2 h 15 min shorter.
const roomy = 6

// fromThree searches from the best program of three ramps, and from the rule
// where there is none.
func (sv *solver) fromThree(g grid, base draft, soak int, rule []float64) error {
	d, ok, err := sv.bestThree(base)
	if err != nil {
		return err
	}
	if !ok || sv.ramps(base) < 3 {
		return sv.from(g, base, soak, rule)
	}
	rate := g.rates(d)
	if err := sv.tune(g, base, soak, g.rates(d), false); err != nil {
		return err
	}
	if err := sv.roundToController(d); err != nil {
		return err
	}
	return sv.from(g, base, soak, rate)
}

// from searches from one staircase of rates: weights and plans by turns, then
// single numbers and pairs of them.
func (sv *solver) from(g grid, base draft, soak int, rate []float64) error {
	if err := sv.refine(g, base, soak, rate); err != nil || sv.best == nil {
		return err
	}
	sv.progress(refined)
	if sv.st.Opening.Sub(sv.st.Kiln.Fall.Room) > openedHot {
		rep, err := verify.Judge(sv.ctx, *sv.best, sv.load, sv.st, sv.evaluator.Limits(), sim.Settings{}, nil)
		if err != nil {
			return err
		}
		if use := rep.Use(); !rep.Within && (use <= 1 || use > byAHair) {
			return errNotFollowed
		}
	}
	if err := sv.slideBest(); err != nil {
		return err
	}
	if err := sv.polish(); err != nil {
		return err
	}
	return sv.exchange()
}

// errNotFollowed says that what was found is over a limit that the search does not
// follow, as that of opening the kiln hot: to go on would not help.
var errNotFollowed = errors.New("over a limit that the search does not follow")

// openedHot is how much hotter than the room a kiln is opened [K] for that limit to be
// asked about before the search goes on; in the end it always is.
const openedHot = 60

// Shares of the work that are done after the rounds of refine and after the first
// polish, roughly; what ends early jumps.
const (
	refined  = 0.5
	polished = 0.6
)

// refine finds weights and plans by turns, from one staircase of rates on.
func (sv *solver) refine(g grid, base draft, soak int, rate []float64) error {
	least := math.Inf(1)
	for round := range rounds {
		if sv.ctx.Err() != nil {
			return nil
		}
		sv.progress(refined * float64(round) / rounds)
		if err := sv.tune(g, base, soak, rate, round == 0); err != nil {
			return err
		}
		var rs []response
		for k := range sv.evaluator.Groups {
			r, err := sv.respond(g, base, soak, rate, k)
			if err != nil {
				return err
			}
			rs = append(rs, r)
		}
		if sv.ctx.Err() != nil {
			return nil
		}
		d, ok, err := sv.aim(g, base, rate, rs, trusts[min(round, len(trusts)-1)])
		if err != nil {
			return err
		}
		if !ok { // too bold: try again from slower
			for j := range min(g.frozenFrom, len(rate)) {
				rate[j] = math.Max(sv.slowest, tooBold*rate[j])
			}
			continue
		}
		if err := sv.roundToController(d); err != nil {
			return err
		}
		t := hours(d.exact(), sv.st.Kiln)
		gain := least - t
		least = math.Min(least, t)
		if round > 0 && (gain < roundGain || !sv.o.thorough && !sv.far()) || round == rounds-1 {
			break // near the floor slopes lead farther
		}
		base, rate = d, g.rates(d)
		soak = g.soakOf(d)
	}
	return nil
}

// aim plans at most aims times. It is content with a draft that leaves more than
// aimLow of the limit, since slowToLimits scales rates for the rest at no loss, and
// corrects its share by most, not all, of the miss from the middle of what is good:
// weights fall short where rates change much, and the whole would swing.
const (
	aims       = 4
	aimLow     = 0.985
	aimMiddle  = 0.995
	aimGain    = 0.8
	leastShare = 0.4
)

// aim plans for a share of the limit of tension left that makes the simulated
// one just meet it, then slows or quickens by what remains.
func (sv *solver) aim(g grid, base draft, rate []float64, rs []response, trust float64) (draft, bool, error) {
	var kept draft
	found, least, share := false, math.Inf(1), 1.0
	for range aims {
		d := sv.plan(&g, base, rate, rs, sv.ramps(base), trust, share)
		all, err := sv.measureWatched(d.exact())
		if err != nil {
			return d, false, err
		}
		e := 0.0
		for k, m := range all {
			e = math.Max(e, m.Residual/sv.target(k))
		}
		s, ok, err := sv.slowToLimits(d)
		if err != nil {
			return d, false, err
		}
		if t := hours(s.exact(), sv.st.Kiln); ok && t < least {
			kept, least, found = s, t, true
		}
		if e > aimLow && e <= 1 || sv.ctx.Err() != nil {
			break
		}
		share = math.Max(leastShare, share+aimGain*(aimMiddle-e))
	}
	return kept, found, nil
}

// ramps is how many cooling ramps the controller has room for.
func (sv *solver) ramps(d draft) int {
	used := max(1, len(d.heats))
	if l := sv.st.Controller.Longest.Seconds(); l > 0 {
		used += max(0, int(math.Ceil(d.hold/l-1e-9))-1)
	}
	return max(1, sv.st.Controller.Segments-used)
}
