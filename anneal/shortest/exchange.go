package shortest

import (
	"lehr/anneal/internal/parallel"
	"lehr/anneal/program"
)

// Bounds of the exchange: how often all variations are measured, and the share of
// the length that a round must gain for another one.
const (
	exchanges = 24
	slowGain  = 2e-4
)

// exchange makes one number of the best program faster and others slower, where
// together they save time: single numbers alone are stuck once the tension left
// is at its limit. Where it finds nothing more it goes on from other ramps.
func (sv *solver) exchange() error {
	for n := range exchanges {
		sv.progress(polished + (1-polished)*float64(n)/exchanges)
		if sv.best == nil || sv.ctx.Err() != nil {
			return nil
		}
		before := sv.seconds
		if err := sv.exchangeFrom(*sv.best); err != nil {
			return err
		}
		if before-sv.seconds < slowGain*before {
			if err := sv.slideReshaped(); err != nil {
				return err
			}
		}
		if sv.seconds == before {
			return nil
		}
		if err := sv.polish(); err != nil {
			return err
		}
		if before-sv.seconds < slowGain*before {
			return nil
		}
	}
	return nil
}

// exchangeFrom offers the first combination of changes to a program that keeps every
// limit and is shorter than the best.
func (sv *solver) exchangeFrom(s program.Schedule) error {
	c, err := sv.screenOf(s)
	if err != nil {
		return err
	}
	all := sv.vary(s)
	does, err := c.weigh(s, all)
	if err != nil {
		return err
	}
	promising := combined(all, does)
	_, err = c.offer(len(promising), func(i int) (program.Schedule, bool) {
		return sv.changed(s, promising[i].changes...)
	})
	return err
}

// weigh fills in what each variation does to the worst piece, by the coarse simulation
// of what leads, and returns what the program itself does. With another soak other
// bounds decide the tension of heating, by a tenth: the ladder knew them, and the full
// simulation will.
func (c *screen) weigh(s program.Schedule, all []variation) (effect, error) {
	left, span, err := c.coarse(s)
	of := effect{hours(s, c.sv.st.Kiln) - c.sv.seconds, left, span}
	if err != nil {
		return of, err
	}
	return of, parallel.Each(c.sv.ctx, len(all), func(i int) error {
		l, t, err := c.coarse(all[i].s)
		if n := otherSoak(s, all[i].s); n > 0 {
			copy(t[:n], span)
		}
		for n := range l {
			l[n] -= left[n]
		}
		all[i].does.left, all[i].does.span = l, t
		return err
	})
}

// otherSoak is how many segments lead to and through the soak where it is at another
// temperature than that of a program like it, 0 where it is not.
func otherSoak(s, other program.Schedule) int {
	n := coolingFrom(s.Segments)
	if n == 0 || n > len(other.Segments) || s.Segments[n-1].To == other.Segments[n-1].To {
		return 0
	}
	return n
}
