package solve

import (
	"errors"
	"fmt"
	"math"
	"sync"
	"time"

	"lehr/anneal"
	"lehr/glass"
	"lehr/glass/unit"
)

// rounds is how often the weights are found anew.
const rounds = 3

// search leaves the best program it finds in sv.best.
func (sv *solver) search() error {
	base := draft{from: sv.frame.From.Kelvin(), soak: sv.frame.Soak.Kelvin(), hold: sv.frame.Hold.Seconds()}
	for _, r := range sv.frame.Ramps {
		base.cools = append(base.cools, ramp{r.To.Kelvin(), float64(r.Rate)})
	}
	if len(base.cools) == 0 {
		return errors.New("solve: the rule proposes no cooling")
	}
	base.cools[len(base.cools)-1].to = sv.st.Opening.Kelvin()
	if err := sv.heat(&base); err != nil {
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
	base = base.soakedAt(sv.heating)
	sv.bias = make([]float64, len(sv.judge.Kinds))
	rule := g.rates(base)
	// Two ways to begin end in different places; the better one counts. They
	// run beside each other and share nothing that changes.
	other := *sv
	other.bias, other.o.Progress = make([]float64, len(sv.bias)), nil
	sv.best, sv.seconds = nil, math.Inf(1)
	closed := sv.outset(g, rule)
	var wait sync.WaitGroup
	var otherErr error
	wait.Go(func() { otherErr = other.fromThree(g.clone(), base.clone(), soak, rule) })
	err = sv.from(g, base, soak, closed)
	wait.Wait()
	if other.seconds <= sv.seconds {
		sv.best, sv.seconds = other.best, other.seconds
	}
	return errors.Join(err, otherErr)
}

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
	if err := sv.land(d); err != nil {
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
	sv.progress(0.7)
	if err := sv.polish(moves); err != nil {
		return err
	}
	sv.progress(0.85)
	return sv.exchange()
}

// refine finds weights and plans by turns, from one staircase of rates on.
func (sv *solver) refine(g grid, base draft, soak int, rate []float64) error {
	least := math.Inf(1)
	for round := range rounds {
		if sv.ctx.Err() != nil {
			return nil
		}
		sv.progress(0.1 + 0.2*float64(round))
		if err := sv.tune(g, base, soak, rate, round == 0); err != nil {
			return err
		}
		var rs []response
		for k := range sv.judge.Kinds {
			r, err := sv.respond(g, base, soak, rate, k)
			if err != nil {
				return err
			}
			rs = append(rs, r)
		}
		if sv.ctx.Err() != nil {
			return nil
		}
		d, ok, err := sv.aim(g, base, rate, rs, [...]float64{4, 3, 2.5}[round])
		if err != nil {
			return err
		}
		if !ok { // too bold: try again from slower
			for j := range min(g.wake, len(rate)) {
				rate[j] = math.Max(sv.slowest, 0.7*rate[j])
			}
			continue
		}
		if err := sv.land(d); err != nil {
			return err
		}
		t := hours(d.exact(), sv.st.Kiln)
		gain := least - t
		least = math.Min(least, t)
		if round > 0 && gain < 60 || round == rounds-1 {
			break
		}
		base, rate = d, g.rates(d)
		soak = 0
		for a := range g.soaks {
			if math.Abs(g.node[a]-d.soak) < 1e-6 {
				soak = a
			}
		}
	}
	return nil
}

// aim plans for a share of the limit of tension left that makes the simulated
// one just meet it, then settles what remains.
func (sv *solver) aim(g grid, base draft, rate []float64, rs []response, trust float64) (draft, bool, error) {
	var kept draft
	found, least, share := false, math.Inf(1), 1.0
	for range 4 {
		d := sv.plan(g, base, rate, rs, sv.ramps(base), trust, share)
		if len(d.heats) > 0 && d.soak != base.soak {
			if err := sv.reheat(g, &d); err != nil {
				return d, false, err
			}
		}
		all, err := sv.measureAll(d.exact(), anneal.Coarse)
		if err != nil {
			return d, false, err
		}
		e := 0.0
		for k, m := range all {
			e = math.Max(e, m.WorstLeft()/sv.target(k))
		}
		s, ok, err := sv.settle(d)
		if err != nil {
			return d, false, err
		}
		if t := hours(s.exact(), sv.st.Kiln); ok && t < least {
			kept, least, found = s, t, true
		}
		if e > 0.985 && e <= 1 || sv.ctx.Err() != nil {
			break
		}
		share = math.Max(0.4, share+0.8*(0.995-e))
	}
	return kept, found, nil
}

// reheat finds the heating for the soak of a draft, and corrects what the
// ladder knows of that soak.
func (sv *solver) reheat(g grid, d *draft) error {
	if err := sv.heat(d); err != nil {
		return err
	}
	hold, err := sv.holdAt(*d)
	if err != nil {
		return err
	}
	for a := range g.soaks {
		if math.Abs(g.node[a]-d.soak) < 1e-6 {
			g.climb[a], g.hold[a] = sv.climb(*d), hold
		}
	}
	if !math.IsInf(hold, 1) {
		d.hold = hold
	}
	return nil
}

// climb is how long the kiln takes to the soak [s].
func (sv *solver) climb(d draft) float64 {
	sum, at := 0.0, d.from
	for _, h := range d.heats {
		sum += sv.st.Kiln.Ramp(unit.Kelvin(at), unit.Kelvin(h.to), unit.Rate(math.Copysign(h.rate, h.to-at)))
		at = h.to
	}
	return sum
}

// ramps is how many cooling ramps the controller has room for.
func (sv *solver) ramps(d draft) int {
	used := max(1, len(d.heats))
	if l := sv.st.Controller.Longest.Seconds(); l > 0 {
		used += max(0, int(math.Ceil(d.hold/l-1e-9))-1)
	}
	return max(1, sv.st.Controller.Segments-used)
}

// soakedAt makes the heating ramps lead to the soak.
func (d draft) soakedAt(heating float64) draft {
	d = d.clone()
	switch n := len(d.heats); {
	case math.Abs(d.soak-d.from) < 1e-9:
		d.heats = nil
	case n > 0:
		d.heats[n-1].to = d.soak
	default:
		d.heats = []ramp{{d.soak, heating}}
	}
	return d
}

// heat finds how fast a load that comes in cold may be brought up: one rate by
// bisection, then, if it gains, the kiln's own rate from as low as may be.
func (sv *solver) heat(d *draft) error {
	if d.soak-d.from < 60 {
		*d = d.soakedAt(sv.heating)
		return nil
	}
	within := func(heats []ramp) (bool, error) {
		t := draft{from: d.from, heats: heats, soak: d.soak, hold: 1800}
		all, err := sv.measureAll(t.exact(), anneal.Coarse)
		if err != nil {
			return false, err
		}
		for _, m := range all {
			if m.Tension() > 0.995 {
				return false, nil
			}
		}
		return true, nil
	}
	rate := sv.heating
	ok, err := within([]ramp{{d.soak, rate}})
	if err != nil {
		return err
	}
	if !ok {
		lo, hi := math.Min(sv.slowest, rate), rate
		for range 12 {
			mid := math.Sqrt(lo * hi)
			ok, err := within([]ramp{{d.soak, mid}})
			if err != nil {
				return err
			}
			if ok {
				lo = mid
			} else {
				hi = mid
			}
		}
		rate = lo
	}
	d.heats = []ramp{{d.soak, rate}}
	if rate > 0.9*sv.heating || sv.st.Controller.Segments < 5 {
		return nil
	}
	lo, hi := d.from+50, d.soak-5 // the break: fast from lo is too soon
	for range 7 {
		mid := 0.5 * (lo + hi)
		ok, err := within([]ramp{{mid, rate}, {d.soak, sv.heating}})
		if err != nil {
			return err
		}
		if ok {
			hi = mid
		} else {
			lo = mid
		}
	}
	if (d.soak-hi)*(1/rate-1/sv.heating) > worthIt {
		d.heats = []ramp{{hi, rate}, {d.soak, sv.heating}}
	}
	return nil
}

// ladderOf lays out the temperatures of the search and finds the soak needed
// at each that may be the soak.
func (sv *solver) ladderOf(base draft) (grid, error) {
	const soakStep, wakeStep = 5.0, 4.0
	var g grid
	top, low := sv.frame.Hottest.Kelvin(), sv.frame.Coolest.Kelvin()
	if len(base.heats) == 0 || base.heats[0].to-base.from < 60 {
		low = math.Min(top, math.Max(low, base.from)) // to cool to the soak first gains nothing
	}
	mid := math.Max(low, math.Min(top, sv.frame.Soak.Kelvin()))
	for k := mid + soakStep*math.Floor((top-mid)/soakStep); k >= low-1e-9; k -= soakStep {
		g.node = append(g.node, k)
	}
	if len(g.node) == 0 {
		g.node = []float64{mid}
	}
	g.soaks = len(g.node)
	wakes := math.Inf(1)
	for _, k := range sv.judge.Kinds {
		wakes = math.Min(wakes, setPoint(k.Piece.Glass))
	}
	open := sv.st.Opening.Kelvin()
	at := g.node[g.soaks-1]
	for at-wakeStep > math.Max(wakes, open+5) {
		at -= wakeStep
		g.node = append(g.node, at)
	}
	g.wake = len(g.node) - 1
	for step := 15.0; at-step > open+10; step = math.Min(60, step*1.35) {
		at -= step
		g.node = append(g.node, at)
	}
	g.node = append(g.node, open)
	if g.wake == 0 {
		g.wake = len(g.node) - 1
	}
	for _, k := range g.node[:len(g.node)-1] {
		g.nat = append(g.nat, sv.natural(unit.Kelvin(k)))
	}
	for a := range g.soaks {
		d := base
		d.soak = g.node[a]
		d = d.soakedAt(sv.heating)
		hold, err := sv.holdAt(d)
		if err != nil {
			return g, err
		}
		g.climb, g.hold = append(g.climb, sv.climb(d)), append(g.hold, hold)
	}
	return g, nil
}

// setPoint is the temperature [K] below which a glass keeps the stress it has:
// on its softer curve its viscosity is 10^17 Pa·s.
func setPoint(g *glass.Glass) float64 {
	least := math.Inf(1)
	if curves, err := g.Curves(); err == nil {
		for _, c := range curves {
			least = math.Min(least, c.T0+c.B/(17-c.A))
		}
	}
	if math.IsInf(least, 1) {
		least = g.Strain.Number - 130
	}
	return least
}

// holdAt returns the shortest hold [s] at the soak of the draft that relaxes
// and evens out every piece, +Inf if a piece does not bear it.
func (sv *solver) holdAt(d draft) (float64, error) {
	lim := sv.judge.Limits()
	d.cools = nil
	enough := func(hold float64) (bool, error) {
		t := d
		t.hold = hold
		all, err := sv.measureAll(t.exact(), anneal.Coarse)
		if err != nil {
			return false, err
		}
		for _, m := range all {
			if m.Unrelaxed > (1-lim.Relaxed)*0.995 || m.Lag > lim.Even*0.99 {
				return false, nil
			}
		}
		return true, nil
	}
	longest := 48 * 3600.0
	if l := sv.frame.Longest; l > 0 {
		longest = l.Truncate(time.Minute).Seconds()
	}
	lo, hi := 0.0, math.Min(longest, 240)
	for {
		ok, err := enough(hi)
		if err != nil {
			return 0, err
		}
		if ok {
			break
		}
		if hi >= longest {
			return math.Inf(1), nil
		}
		lo, hi = hi, math.Min(longest, hi*2)
	}
	for hi-lo > math.Max(20, 0.01*hi) {
		mid := 0.5 * (lo + hi)
		ok, err := enough(mid)
		if err != nil {
			return 0, err
		}
		if ok {
			hi = mid
		} else {
			lo = mid
		}
	}
	return math.Max(60, hi), nil
}

// noSoak explains that every soak is longer than a piece bears.
func (sv *solver) noSoak(grid) error {
	p := sv.load.Pieces[sv.frame.LongestBy]
	return &anneal.ConflictError{Reasons: []string{fmt.Sprintf("no soak from %s to %s relaxes and evens out every piece within the %s that %s bears",
		sv.frame.Coolest.Text(unit.Metric), sv.frame.Hottest.Text(unit.Metric), unit.FormatDuration(sv.frame.Longest), p.What)}}
}
