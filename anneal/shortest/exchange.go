package shortest

import (
	"math"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/program"
)

// Bounds of the exchange: how often all variations are measured, and the share of
// the length that a round must gain for another one.
const (
	exchanges = 24
	slowGain  = 2e-4
)

// tooTense is the share of the limit of tension above which a variation is left
// out: a thousandth more than the limit, for the coarse simulation. Where the program
// itself is above that, coarsely, a variation may be so by noTenser more: what the
// steps of the simulation move where nothing changed.
const (
	tooTense = 1.001
	noTenser = 1e-4
)

// exchange makes one number of the best program faster and others slower, where
// together they save time: single numbers alone are stuck once the tension left
// is at its limit.
func (sv *solver) exchange() error {
	for n := range exchanges {
		sv.progress(polished + (1-polished)*float64(n)/exchanges)
		if sv.best == nil || sv.ctx.Err() != nil {
			return nil
		}
		s := *sv.best
		c, err := sv.screenOf(s)
		if err != nil {
			return err
		}
		all := sv.vary(s)
		residual, err := c.weigh(s, all)
		if err != nil {
			return err
		}
		before := sv.seconds
		promising := combined(all, residual)
		if _, err := c.offer(len(promising), func(i int) (program.Schedule, bool) {
			return sv.changed(s, promising[i].changes...)
		}); err != nil {
			return err
		}
		if sv.seconds == before {
			return nil
		}
		if err := sv.polish(fewMoves); err != nil {
			return err
		}
		if before-sv.seconds < slowGain*before {
			return nil
		}
	}
	return nil
}

// weigh fills in how much tension left each variation adds in the worst piece, by
// the coarse simulation of what leads, and returns what the program itself leaves.
func (c *screen) weigh(s program.Schedule, all []variation) (residual float64, err error) {
	residual, tension, err := c.coarse(s)
	if err != nil {
		return residual, err
	}
	return residual, parallel.Each(c.sv.ctx, len(all), func(i int) error {
		l, t, err := c.coarse(all[i].s)
		all[i].residual = l - residual
		all[i].tense = t > math.Max(tooTense, tension+noTenser)
		return err
	})
}
