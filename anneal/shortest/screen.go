package shortest

import (
	"math"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/program"
	"lehr/anneal/verify"
)

// screen asks about many programs that differ little from one another. Most of
// them fail, by the few groups that are near their limits, and by more than a
// coarse simulation of these is wrong about. So it asks in an order in which the
// cheap questions come first; a program that passes has answered all of them. The
// answer is that of [solver.excess] but for the cheap ones, which may refuse a
// program that fails to fail by less than screenDoubt.
type screen struct {
	sv      *solver
	leading []lead
}

// lead is a group that may decide.
type lead struct {
	group int
	ratio float64 // tension left, full over coarse
}

// A group leads if it leaves leads of what the worst one leaves: changes of one
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

// screenOf prepares to ask about programs like one, whose worst case it takes.
func (sv *solver) screenOf(s program.Schedule) (*screen, error) {
	c := &screen{sv: sv}
	full, err := sv.calibrate(s)
	if err != nil {
		return c, err
	}
	worst := 0.0
	for _, m := range full {
		worst = math.Max(worst, m.Residual)
	}
	for k, m := range full {
		if m.Residual == 0 || m.Residual < leads*worst {
			continue
		}
		coarse, err := sv.measure(s, k, verify.Coarse)
		if err != nil {
			return c, err
		}
		c.leading = append(c.leading, lead{k, m.Residual / math.Max(coarse.Residual, 1e-9)})
	}
	return c, nil
}

// offer asks about programs beside each other, and offers the first that keeps
// every limit and is the shortest so far.
func (c *screen) offer(batch []program.Schedule) (bool, error) {
	may := make([]bool, len(batch))
	err := parallel.Each(c.sv.ctx, len(batch), func(n int) (err error) {
		may[n], err = c.mayHold(batch[n])
		return err
	})
	for n := 0; n < len(batch) && err == nil; n++ {
		if !may[n] || !c.sv.better(batch[n]) {
			continue
		}
		var e excess
		if e, err = c.sv.excessAt(batch[n], verify.Full); err == nil && e.within() {
			c.sv.offer(batch[n])
			return true, nil
		}
	}
	return false, err
}

// mayHold reports whether the cheap simulations leave a program in the running.
func (c *screen) mayHold(s program.Schedule) (bool, error) {
	if residual, _, err := c.coarse(s); err != nil || residual > 1+screenDoubt {
		return false, err
	}
	for _, q := range c.leading {
		m, err := c.sv.measure(s, q.group, verify.Average)
		if err != nil || m.Residual > 1+screenDoubt || m.Tension() > 1+screenDoubt || !c.sv.soaked(m) {
			return false, err
		}
	}
	return true, nil
}

// soaked reports whether the soak did what is asked of it.
func (sv *solver) soaked(m verify.Measured) bool {
	lim := sv.evaluator.Limits()
	return m.Soaked && 1-m.Unrelaxed >= lim.Relaxed && m.Lag <= lim.Even
}

// coarse returns the tension left and the greatest tension, as shares of their
// limits, that a coarse simulation of what leads finds, the first corrected.
func (c *screen) coarse(s program.Schedule) (residual, tension float64, err error) {
	for _, q := range c.leading {
		m, err := c.sv.measure(s, q.group, verify.Coarse)
		if err != nil {
			return residual, tension, err
		}
		residual = math.Max(residual, m.Residual*q.ratio)
		tension = math.Max(tension, m.Tension())
	}
	return residual, tension, nil
}
