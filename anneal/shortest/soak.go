package shortest

import (
	"math"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"

	"lehr/glass/unit"
)

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
		all, err := sv.measureAll(t.exact(), verify.Coarse)
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
	for _, k := range sv.evaluator.Groups {
		wakes = math.Min(wakes, piece.SetPoint(k.Piece.Glass).Kelvin())
	}
	open := sv.st.Opening.Kelvin()
	at := g.node[g.soaks-1]
	for at-wakeStep > math.Max(wakes, open+5) {
		at -= wakeStep
		g.node = append(g.node, at)
	}
	g.frozenFrom = len(g.node) - 1
	for step := 15.0; at-step > open+10; step = math.Min(60, step*1.35) {
		at -= step
		g.node = append(g.node, at)
	}
	g.node = append(g.node, open)
	if g.frozenFrom == 0 {
		g.frozenFrom = len(g.node) - 1
	}
	for _, k := range g.node {
		g.natural = append(g.natural, sv.natural(unit.Kelvin(k)))
		g.alone = append(g.alone, sv.st.Kiln.Fall.Time(unit.Kelvin(k), sv.st.Opening, -inf))
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

// holdAt returns the shortest hold [s] at the soak of the draft that relaxes
// and evens out every piece, +Inf if a piece does not bear it.
func (sv *solver) holdAt(d draft) (float64, error) {
	lim := sv.evaluator.Limits()
	d.cools = nil
	enough := func(hold float64) (bool, error) {
		t := d
		t.hold = hold
		all, err := sv.measureAll(t.exact(), verify.Coarse)
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
	return &plan.ConflictError{Load: sv.load, Reasons: finding.List{
		finding.OfPiece(finding.NoSoakBorne, sv.frame.LongestBy).At(sv.frame.Coolest).Against(sv.frame.Hottest).Lasting(0, sv.frame.Longest)}}
}
