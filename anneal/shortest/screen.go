package shortest

import (
	"math"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/program"
	"lehr/anneal/verify"
)

// screen asks about many programs that differ little from one another. Most of
// them fail, by the few groups and readings that are near their limits, and by
// more than a coarse simulation of these is wrong about. So it asks in an order
// in which the cheap questions come first; a program that passes has answered
// all of them. The answer is that of [solver.excess] but for the coarse one,
// which may refuse a program that fails to fail by less than screenDoubt.
type screen struct {
	sv      *solver
	leading []lead
}

// lead is a question: some readings of a group.
type lead struct {
	group    int
	readings []int
	ratio    []float64 // tension left, full over coarse, by reading
}

// A reading leads if it leaves leads of what the worst one leaves: changes of one
// number, which a search tries, do not turn the others into the worst.
//
// screenDoubt is how far beyond a limit the coarse simulation, corrected by the
// ratio to the full one that another program has, must see a program to refuse it:
// ratios of programs that differ in one number agree to that
// (TestScreen_refusesWhatFails).
const (
	leads       = 0.9
	screenDoubt = 0.001
)

// screenOf prepares to ask about programs like one whose answers it takes from
// simulations of it.
func (sv *solver) screenOf(s program.Schedule) (*screen, error) {
	c := &screen{sv: sv}
	full, err := sv.measureAll(s, verify.Full)
	if err != nil {
		return c, err
	}
	worst := 0.0
	for _, m := range full {
		worst = math.Max(worst, m.WorstResidual())
	}
	for k, m := range full {
		q := lead{group: k}
		for i, r := range m.Residual {
			if r > 0 && r >= leads*worst {
				q.readings = append(q.readings, i)
			}
		}
		if len(q.readings) == 0 {
			continue
		}
		coarse, err := sv.measure(s, k, verify.Coarse, q.readings)
		if err != nil {
			return c, err
		}
		for n, i := range q.readings {
			q.ratio = append(q.ratio, m.Residual[i]/math.Max(coarse.Residual[n], 1e-9))
		}
		c.leading = append(c.leading, q)
	}
	return c, nil
}

// within asks about programs beside each other: which of them keep every limit.
func (c *screen) within(batch []program.Schedule) ([]bool, error) {
	ok := make([]bool, len(batch))
	return ok, parallel.Each(c.sv.ctx, len(batch), func(n int) (err error) {
		ok[n], err = c.one(batch[n])
		return err
	})
}

func (c *screen) one(s program.Schedule) (bool, error) {
	if left, _, err := c.coarse(s); err != nil || left > 1+screenDoubt {
		return false, err
	}
	for _, q := range c.leading {
		m, err := c.sv.measure(s, q.group, verify.Full, q.readings)
		if err != nil || !c.sv.keeps(m) {
			return false, err
		}
	}
	e, err := c.sv.excess(s)
	return err == nil && e.within(), err
}

// keeps reports whether a simulation keeps every limit.
func (sv *solver) keeps(m verify.Measured) bool {
	return m.WorstResidual() <= 1 && m.Tension() <= 1 && sv.soaked(m)
}

// soaked reports whether the soak did what is asked of it.
func (sv *solver) soaked(m verify.Measured) bool {
	lim := sv.evaluator.Limits()
	return m.Soaked && 1-m.Unrelaxed >= lim.Relaxed && m.Lag <= lim.Even
}

// coarse returns the tension left and the greatest tension, as shares of their
// limits, that a coarse simulation of what leads finds, the first corrected.
func (c *screen) coarse(s program.Schedule) (left, tension float64, err error) {
	for _, q := range c.leading {
		m, err := c.sv.measure(s, q.group, verify.Coarse, q.readings)
		if err != nil {
			return left, tension, err
		}
		for i, r := range m.Residual {
			left = math.Max(left, r*q.ratio[i])
		}
		tension = math.Max(tension, m.Tension())
	}
	return left, tension, nil
}
