package shortest

import (
	"math"
	"slices"

	"lehr/anneal/program"
	"lehr/anneal/verify"
)

// Settings of slide: how often slopes are followed, how far they are trusted at first,
// as a share of each rate, less of both near the floor, and by what less where they led
// astray, down to the least.
// That a program exceeds a limit by the whole of it is as bad as overPrice times the
// hours of the best, but not what the coarse simulation is wrong about.
const (
	slides     = 10
	slidesNear = 3
	trustFirst = 0.4
	trustNear  = 0.16
	trustLess  = 2.5
	trustLeast = 0.02
	overPrice  = 40.0
	overNone   = 3e-4
)

// slide goes down along the slopes from a program, which may exceed a limit, to the
// shortest near it in whole numbers, and offers what keeps every limit on the way. It
// moves all numbers of the cooling at once, where the exchange moves three.
func (sv *solver) slide(s program.Schedule) error {
	if len(s.Segments)-coolingFrom(s.Segments) < 2 {
		return nil
	}
	of, x := sv.coolingIn(s)
	for i := range of.n {
		if _, seconds := of.ramp(x, i); math.IsInf(seconds, 1) {
			return nil // a ramp that cannot be keyed in has no slope
		}
	}
	d := &descent{sv: sv, goal: 1}
	if err := d.at(of, x); err != nil || d.screen == nil {
		return err
	}
	most, trust := slides, trustFirst
	if !sv.far() {
		most, trust = slidesNear, trustNear
	}
	for n := 0; trust > trustLeast && n < most && sv.ctx.Err() == nil; n++ {
		d.slopes.trust(trust)
		y := d.slopes.settle(d.goal)
		if slices.Equal(y, d.slopes.x) {
			trust /= trustLess
			continue
		}
		s := of.program(y)
		share, err := d.screen.responses(s)
		if err != nil {
			return err
		}
		if err := d.offer(s, slices.Max(share)); err != nil {
			return err
		}
		if d.worth(s, slices.Max(share)) >= d.is-1 {
			trust /= trustLess
			continue
		}
		if err := d.at(of, y); err != nil || d.screen == nil {
			return err
		}
	}
	return nil
}

// descent is where a slide is.
type descent struct {
	sv     *solver
	screen *screen // of the program, nil where nothing leads
	slopes *slopes
	goal   float64 // share of the limits
	is     float64 // what the program is worth, see worth
}

// at takes the slopes at a program.
func (d *descent) at(of cooling, x []int) (err error) {
	s := of.program(x)
	if d.screen, err = d.sv.screenOf(s); err != nil {
		return err
	}
	if len(d.screen.leading) == 0 {
		d.screen = nil
		return nil
	}
	if d.slopes, err = d.screen.slopesOf(of, x); err != nil {
		return err
	}
	most := 0.0
	for _, r := range d.slopes.rows {
		most = math.Max(most, r.value)
	}
	d.is = d.worth(s, most)
	return nil
}

// worth is how long a program takes, and the price of what is too much [s]: less is
// better.
func (d *descent) worth(s program.Schedule, share float64) float64 {
	return hours(s, d.sv.st.Kiln) + overPrice*d.sv.seconds*math.Max(0, share-1-overNone)
}

// By how much the goal is lowered where the full simulation finds more than a limit: by
// what that is, at least and at most so much, but not below the least.
const (
	lowerLeast = 2e-4
	lowerMost  = 3e-3
	goalLeast  = 0.99
)

// offer offers a program if it keeps every limit, and lowers the goal if it does not.
func (d *descent) offer(s program.Schedule, share float64) error {
	t, ok := d.sv.changed(s)
	if !ok || share > 1+3*d.sv.doubt() || !d.sv.better(t) {
		return nil
	}
	e, err := d.sv.excessAt(t, verify.Full)
	if err != nil {
		return d.sv.ctx.Err() // one that cannot be simulated does not
	}
	if e.within() {
		d.sv.offer(t)
		return nil
	}
	over := math.Max(e.residual, slices.Max(e.span)) - 1
	d.goal = math.Max(goalLeast, d.goal-math.Max(lowerLeast, math.Min(over, lowerMost)))
	return nil
}
