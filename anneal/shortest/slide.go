package shortest

import (
	"math"
	"slices"

	"lehr/anneal/program"
	"lehr/anneal/verify"
)

// Settings of slide: how often slopes are followed, and how far they are trusted at
// first, as a share of each rate, less of both near the floor; by what less where they led
// astray twice, down to the least, and by what more where they led on.
//
// Where the greatest share of a limit is another by worstMoves than the worst case of the
// program before said, that is followed, too. A slide ends where it is longer than the best
// program by more than hopeless times what it just gained, if it did.
//
// That a program exceeds a limit by the whole of it is as bad as overPrice times the
// hours of the best, but not what the coarse simulation is wrong about.
const (
	slides     = 20
	slidesNear = 6
	trustFirst = 0.4
	trustNear  = 0.3
	trustLess  = 2.5
	trustMore  = 1.6
	trustLeast = 0.02
	worstMoves = 0.03
	hopeless   = 4
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
	d, most := &descent{sv: sv, goal: 1, first: trustFirst}, slides
	if !sv.far() {
		d.first, most = trustNear, slidesNear
	}
	d.trust = d.first
	if err := d.at(of, x); err != nil || d.screen == nil {
		return err
	}
	for n := 0; d.trust > trustLeast && n < most && sv.ctx.Err() == nil; n++ {
		if on, err := d.follow(of); err != nil || !on {
			return err
		}
	}
	return nil
}

// slideBest goes down from the best program, and remembers what it leaves as the best.
func (sv *solver) slideBest() error {
	if err := sv.slide(*sv.best); err != nil {
		return err
	}
	sv.slid = key(*sv.best)
	return nil
}

// descent is where a slide is.
type descent struct {
	sv     *solver
	screen *screen // of the program, nil where nothing leads
	slopes *slopes
	goal   float64 // share of the limits
	trust  float64 // how far the slopes are trusted
	first  float64 // the same at first, and at most
	mended bool    // the slopes were corrected where they led astray
	is     float64 // what the program is worth, see worth
	seen   float64 // the greatest share that a simulation found where it went last, 0 before
	worst  bool    // the worst case moves with the program, and is simulated
}

// follow goes where the slopes lead, and says whether to go on.
func (d *descent) follow(of cooling) (on bool, err error) {
	d.slopes.trust(d.trust)
	y := d.slopes.settle(d.goal)
	if slices.Equal(y, d.slopes.x) {
		d.trustLess()
		return true, nil
	}
	s := of.program(y)
	share, err := d.screen.responses(s)
	if err != nil {
		return false, err
	}
	d.seen = slices.Max(share)
	if err := d.offer(s, d.seen); err != nil {
		return false, err
	}
	if d.worth(s, d.seen) >= d.is-1 {
		d.slopes.miss(y, share)
		if d.mended {
			d.trustLess()
		} else {
			d.mended = true
		}
		return true, nil
	}
	was := d.is
	if err := d.at(of, y); err != nil || d.screen == nil {
		return false, err
	}
	d.trust, d.mended = math.Min(trustMore*d.trust, d.first), false
	gained := was - d.is
	return gained <= 0 || hours(s, d.sv.st.Kiln)-d.sv.seconds <= hopeless*gained, nil
}

// trustLess trusts the slopes less far, and what they missed there less.
func (d *descent) trustLess() {
	d.trust, d.mended = d.trust/trustLess, false
	d.slopes.nearer(1 / trustLess)
}

// at takes the slopes at a program.
func (d *descent) at(of cooling, x []int) (err error) {
	s := of.program(x)
	coarsely := verify.Coarse
	if d.worst {
		coarsely = verify.CoarseWorst
	}
	if d.screen, err = d.sv.screenBy(s, coarsely); err != nil {
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
	if d.seen > 0 && math.Abs(most-d.seen) > worstMoves && !d.worst {
		d.worst = true
		return d.at(of, x)
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
