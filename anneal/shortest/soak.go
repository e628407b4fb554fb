package shortest

import (
	"math"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/plan"
	"lehr/anneal/verify"

	"lehr/glass/unit"
)

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
	case math.Abs(d.soak-d.from) < rounding:
		d.heats = nil
	case n > 0:
		d.heats[n-1].to = d.soak
	default:
		d.heats = []ramp{{d.soak, heating}}
	}
	return d
}

// Settings of heat. Nothing is gained below smallHeat, where a load goes in about
// as hot as it is soaked, nor by a second ramp where one rate is nearly the
// kiln's own or the controller has few segments. heatHold is long enough for the
// tension of heating to be over. The break of two ramps lies where fast heating
// leaves a ramp of some length on either side.
const (
	smallHeat    = 60.0 // [K]
	heatHold     = 1800.0
	heatHalves   = 12 // of the logarithm of the rate: to 0.1 %
	breakHalves  = 7  // to 4 K
	nearlyFull   = 0.9
	heatSegments = 5
	breakAbove   = 50.0 // [K]
	breakBelow   = 5.0  // [K]
)

// heat finds how fast a load that comes in cold may be brought up: one rate by
// bisection, then, if it gains, the kiln's own rate from as low as may be.
func (sv *solver) heat(d *draft) error {
	if d.soak-d.from < smallHeat {
		*d = d.soakedAt(sv.heating)
		return nil
	}
	within := func(heats ...ramp) (bool, error) {
		t := draft{from: d.from, heats: heats, soak: d.soak, hold: heatHold}
		all, err := sv.measureAll(t.exact(), verify.Coarse)
		for _, m := range all {
			if m.Tension() > coarseTension {
				return false, err
			}
		}
		return true, err
	}
	rate := sv.heating
	ok, err := within(ramp{d.soak, rate})
	if err != nil {
		return err
	}
	if !ok {
		low, _, err := bisect(math.Log(math.Min(sv.slowest, rate)), math.Log(rate), halvings(heatHalves), func(x float64) (bool, error) {
			ok, err := within(ramp{d.soak, math.Exp(x)})
			return !ok, err
		})
		if err != nil {
			return err
		}
		rate = math.Exp(low)
	}
	d.heats = []ramp{{d.soak, rate}}
	if rate > nearlyFull*sv.heating || sv.st.Controller.Segments < heatSegments {
		return nil
	}
	found := false
	_, quick, err := bisect(d.from+breakAbove, d.soak-breakBelow, halvings(breakHalves), func(at float64) (bool, error) {
		ok, err := within(ramp{at, rate}, ramp{d.soak, sv.heating})
		found = found || ok
		return ok, err
	})
	if err != nil || !found {
		return err
	}
	if (d.soak-quick)*(1/rate-1/sv.heating) > worthIt {
		d.heats = []ramp{{quick, rate}, {d.soak, sv.heating}}
	}
	return nil
}

// Settings of correctHeating: how often it tries, and how near to the limit is enough.
const (
	heatTries  = 6
	heatWithin = 0.015
)

// correctHeating brings a heating that a coarse simulation found to the limit of tension
// by the full one, in proportion: the bounds of each soak are its own, and differ by up
// to a fifth.
func (sv *solver) correctHeating(d *draft) error {
	if d.soak-d.from < smallHeat {
		return nil
	}
	for range heatTries {
		all, err := sv.measureAll(draft{from: d.from, heats: d.heats, soak: d.soak, hold: heatHold}.exact(), verify.Full)
		if err != nil {
			return err
		}
		span := make([]float64, len(d.heats))
		for _, m := range all {
			for i, t := range m.Span {
				span[i] = math.Max(span[i], t)
			}
		}
		first, most := &d.heats[0], slices.Max(span)
		switch last := len(span) - 1; {
		case math.Abs(most/coarseTension-1) < heatWithin, most < 1 && first.rate >= sv.heating:
			return nil
		case last > 0 && span[last] > 1 && span[last] > span[0]:
			if first.to += heatLater; first.to > d.soak-heatShort {
				d.heats = []ramp{{d.soak, first.rate}}
			}
		default:
			first.rate = math.Min(first.rate*coarseTension/most, sv.heating)
		}
	}
	return nil
}

// bisect halves the way from low to high as often as more says, to where is
// becomes true. It returns the last number where it was not and the first where
// it was; neither end is asked about.
func bisect(low, high float64, more func(low, high float64) bool, is func(float64) (bool, error)) (no, yes float64, err error) {
	for more(low, high) {
		mid := 0.5 * (low + high)
		ok, err := is(mid)
		if err != nil {
			return low, high, err
		}
		if ok {
			high = mid
		} else {
			low = mid
		}
	}
	return low, high, nil
}

// halvings counts for bisect.
func halvings(n int) func(low, high float64) bool {
	return func(float64, float64) bool { n--; return n >= 0 }
}

// Steps of the ladder [K]: soaks, cells that set, and frozen cells, which grow
// toward the opening temperature because the kiln's own rate changes little there.
// Breaks of the final program are moved by degrees afterwards.
const (
	soakStep    = 5.0
	settingStep = 4.0
	frozenStep  = 15.0
	frozenGrows = 1.35
	frozenMost  = 60.0
	lastCell    = 10.0 // no node nearer to the opening temperature
)

// ladderOf lays out the temperatures of the search and finds the soak needed
// at each that may be the soak.
func (sv *solver) ladderOf(base draft) (grid, error) {
	var g grid
	top, low := sv.frame.Hottest.Kelvin(), sv.frame.Coolest.Kelvin()
	if len(base.heats) == 0 || base.heats[0].to-base.from < smallHeat {
		low = math.Min(top, math.Max(low, base.from)) // to cool to the soak first gains nothing
	}
	mid := math.Max(low, math.Min(top, sv.frame.Soak.Kelvin()))
	for k := mid + soakStep*math.Floor((top-mid)/soakStep); k >= low-rounding; k -= soakStep {
		g.node = append(g.node, k)
	}
	if len(g.node) == 0 {
		g.node = []float64{mid}
	}
	g.soaks = len(g.node)
	open := sv.st.Opening.Kelvin()
	at := g.node[g.soaks-1]
	for at-settingStep > math.Max(sv.frozenBelow(), open+lastCell/2) {
		at -= settingStep
		g.node = append(g.node, at)
	}
	g.frozenFrom = len(g.node) - 1
	for step := frozenStep; at-step > open+lastCell; step = math.Min(frozenMost, step*frozenGrows) {
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
	g.climb, g.hold, g.heats = make([]float64, g.soaks), make([]float64, g.soaks), make([][]ramp, g.soaks)
	return g, parallel.Each(sv.ctx, g.soaks, func(a int) (err error) {
		d := base
		d.soak = g.node[a]
		if err := sv.heat(&d); err != nil {
			return err
		}
		if err := sv.correctHeating(&d); err != nil {
			return err
		}
		if len(d.heats) > 1 { // corrected, one ramp may be quicker, or nearly so
			one := d
			one.heats = []ramp{{d.soak, d.heats[0].rate}}
			if err := sv.correctHeating(&one); err != nil {
				return err
			}
			if sv.climb(one) < sv.climb(d)+worthIt {
				d = one
			}
		}
		g.heats[a], g.climb[a] = d.heats, sv.climb(d)
		g.hold[a], err = sv.holdAt(d)
		return err
	})
}

// Settings of holdAt [s]: the first hold that is tried, the accuracy, which
// rounding to whole minutes takes up, and the longest hold that anybody waits for.
// The coarse simulation must keep a little of what it may leave.
const (
	firstHold   = 240.0
	holdWithin  = 20.0
	holdShare   = 0.01
	leastHold   = 60.0
	longestHold = 48 * 3600.0
	coarseRelax = 0.995
	coarseEven  = 0.99
)

// holdAt returns the shortest hold [s] at the soak of the draft that relaxes
// and evens out every piece, +Inf if a piece does not bear it.
func (sv *solver) holdAt(d draft) (float64, error) {
	lim := sv.evaluator.Limits()
	d.cools = nil
	enough := func(hold float64) (bool, error) {
		t := d
		t.hold = hold
		all, err := sv.measureAll(t.exact(), verify.CoarseSoak)
		for _, m := range all {
			if m.Unrelaxed > (1-lim.Relaxed)*coarseRelax || m.Lag > lim.Even*coarseEven {
				return false, err
			}
		}
		return true, err
	}
	longest := longestHold
	if l := sv.frame.Longest; l > 0 {
		longest = l.Truncate(time.Minute).Seconds()
	}
	lo, hi := 0.0, math.Min(longest, firstHold)
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
	_, hold, err := bisect(lo, hi, func(lo, hi float64) bool { return hi-lo > math.Max(holdWithin, holdShare*hi) }, enough)
	return math.Max(leastHold, hold), err
}

// noSoak explains that every soak is longer than a piece bears.
func (sv *solver) noSoak(grid) error {
	return &plan.ConflictError{Load: sv.load, Reasons: finding.List{
		finding.OfPiece(finding.NoSoakBorne, sv.frame.LongestBy).At(sv.frame.Coolest).Against(sv.frame.Hottest).Lasting(0, sv.frame.Longest)}}
}
