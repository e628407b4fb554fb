package shortest

import (
	"math"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/program"
	"lehr/anneal/verify"
)

// roundToController brings a draft to the controller in two ways: once by slower rates, and
// where a whole degree per hour is a large step also by wider slow ramps.
func (sv *solver) roundToController(d draft) error {
	if err := sv.roundSlower(d); err != nil {
		return err
	}
	return sv.roundWider(d)
}

// roundWider rounds slow rates to the nearest that can be keyed in, even a little
// up, and makes up for it by moving the breaks of the slower ramps apart until
// the full simulation finds the program within every limit.
func (sv *solver) roundWider(d draft) error {
	d = d.clone()
	up := false
	for i := range d.cools {
		c := &d.cools[i]
		if sv.degree > 0 && c.rate < fewWhole*sv.degree {
			r := math.Max(math.Round(c.rate/sv.degree), math.Ceil(sv.slowest/sv.degree-1e-6)) * sv.degree
			up = up || math.Abs(r/c.rate-1) > 1e-6
			c.rate = r
		}
	}
	if !up {
		return nil
	}
	for range widenings {
		s, err := d.rounded(sv.st)
		if err != nil {
			return nil // it cannot be keyed in
		}
		e, err := sv.excess(s)
		if err != nil {
			return err
		}
		if e.within() {
			sv.offer(s)
			return nil
		}
		if e.residual <= 1 || !e.soaked || e.residual > tooFarOver {
			return nil
		}
		d.widen(math.Max(1, widenBy*(e.residual-1)) * sv.perStep())
	}
	return nil
}

// A slow ramp holds the range in which the glass sets, some 60 degrees: half the
// share by which a program leaves too much is what it is widened by at either end.
// One that leaves more than tooFarOver is better rounded the other way.
const (
	widenBy    = 30.0
	tooFarOver = 1.15
)

// widen moves each break some kelvin away from the slower of its two ramps.
func (d *draft) widen(by float64) {
	for i := range len(d.cools) - 1 {
		c, next := &d.cools[i], d.cools[i+1]
		top := d.soak
		if i > 0 {
			top = d.cools[i-1].to
		}
		if c.rate < next.rate {
			c.to = math.Max(c.to-by, next.to+1)
		} else {
			c.to = math.Min(c.to+by, top-1)
		}
	}
}

// perStep is one step of the set point [K].
func (sv *solver) perStep() float64 { return float64(sv.st.Controller.SetStep()) }

// roundings bounds how often roundSlower slows a program, widenings how often
// roundWider widens one; what is not within by then is dropped. Two roundings were
// enough for six programs; with two widenings one of them was 0.6 % longer, with
// twelve none shorter.
const (
	roundings = 10
	widenings = 6
)

// roundSlower rounds rates toward slow and slows what exceeds a limit until the
// full simulation finds the program within every limit.
func (sv *solver) roundSlower(d draft) error {
	d = d.clone()
	for range roundings {
		s, err := d.rounded(sv.st)
		if unkeyable(err) {
			return nil // this candidate's fault alone
		}
		if err != nil {
			return err
		}
		e, err := sv.excess(s)
		if err != nil {
			return err
		}
		if e.within() {
			sv.offer(s)
			return nil
		}
		if !e.soaked {
			d.hold = d.hold*longerBy + longerAt
		}
		sv.slowCooling(&d, e)
		d.slowHeating(e)
	}
	return nil
}

// By how much roundSlower changes what is over a limit: a hold that is too short
// by 6 % and a minute, which is more than rounding took; a rate to just below its
// limit, since the excess is nearly proportional to it; a ramp that the controller
// had to split, so that nobody knows which part is over, by 3 %. leastSlow bounds one
// step where what is left is far from proportional, heatSlow is for heating what
// belowSpan is for cooling: from 0.1 to 0.9 and from 0.95 to 0.999 they changed no
// program of four.
const (
	longerBy      = 1.06
	longerAt      = 60.0 // [s]
	belowResidual = 0.998
	belowSpan     = 0.995
	splitSlow     = 0.97
	leastSlow     = 0.5
	heatSlow      = 0.99
	heatLater     = 4.0 // [K]; fast heating came too soon
	heatShort     = 8.0 // [K]; a fast ramp shorter than this is none
)

// slowCooling slows the cooling ramps of a draft by what its rounded program
// exceeds.
func (sv *solver) slowCooling(d *draft, e excess) {
	skip := max(1, len(d.heats))
	whole := len(e.span) == skip+len(d.cools) // one segment a ramp
	at := d.soak
	for i := range d.cools {
		c := &d.cools[i]
		if e.residual > 1 && at > sv.frozenBelow() {
			c.rate *= math.Max(leastSlow, belowResidual/e.residual)
		}
		switch {
		case whole && e.span[skip+i] > 1 && e.span[skip+i] > e.residual*overResidual:
			c.rate *= belowSpan / e.span[skip+i]
		case !whole && e.tension() > 1 && e.residual <= 1:
			c.rate *= splitSlow
		}
		c.rate = math.Max(c.rate, sv.slowest)
		at = c.to
	}
}

// slowHeating does so for the heating ramps.
func (d *draft) slowHeating(e excess) {
	for i := range d.heats {
		if i < len(e.span) && e.span[i] > 1 {
			d.heats[i].rate *= heatSlow / e.span[i]
			if i == 1 {
				d.heats[0].to += heatLater
			}
		}
	}
	if len(d.heats) == 2 && d.heats[0].to > d.soak-heatShort {
		d.heats = []ramp{{d.soak, d.heats[0].rate}}
	}
}

// excess is how near to its limits a program is in the worst piece.
type excess struct {
	residual float64
	span     []float64
	soaked   bool
}

func (e excess) tension() float64 {
	t := 0.0
	for _, s := range e.span {
		t = math.Max(t, s)
	}
	return t
}

func (e excess) within() bool { return e.residual <= 1 && e.soaked && e.tension() <= 1 }

// excess simulates a program finely in every group, fully in those that may
// decide if it is within and the shortest so far.
func (sv *solver) excess(s program.Schedule) (excess, error) {
	if sv.calibrated {
		if e, err := sv.excessAt(s, verify.Average); err != nil || !e.within() || !sv.better(s) {
			return e, err
		}
	}
	return sv.excessAt(s, verify.Full)
}

func (sv *solver) excessAt(s program.Schedule, a verify.Accuracy) (excess, error) {
	e := excess{soaked: true, span: make([]float64, len(s.Segments))}
	all := make([]verify.Measured, len(sv.evaluator.Groups))
	err := parallel.Each(sv.ctx, len(all), func(k int) (err error) {
		if sv.calibrated && !sv.watches(k) {
			all[k], err = sv.measure(s, k, verify.Average)
			return err
		}
		all[k], err = sv.measure(s, k, a)
		return err
	})
	if err != nil {
		return e, err
	}
	for _, m := range all {
		e.residual = math.Max(e.residual, m.Residual)
		for i, t := range m.Span {
			e.span[i] = math.Max(e.span[i], t)
		}
		e.soaked = e.soaked && sv.soaked(m)
	}
	return e, nil
}
