package shortest

import (
	"math"
	"slices"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/program"
	"lehr/anneal/verify"
)

// screen asks about many programs that differ little from one another. Most of
// them fail, by the few groups that are near their limits, and by more than a
// coarse simulation of these is wrong about. So it asks in an order in which the
// cheap questions come first; a program that passes has answered all of them. The
// answer is that of [solver.excess] but for the cheap ones, which may refuse a
// program that keeps its limits by less than three times screenDoubt.
type screen struct {
	sv       *solver
	of       program.Schedule // whose worst case counts; it keeps every limit of the soak
	leading  []lead
	coarsely verify.Accuracy // how what leads is simulated first
}

// lead is a group that may decide.
type lead struct {
	group   int
	left    []float64 // tension left at each place, full over coarse
	tension float64   // the same of tension
}

// A group leads if it leaves leads of what the worst one leaves, or is under so much of
// the greatest tension, where that is near its limit: changes of one number, which a
// search tries, do not turn the others into the worst.
//
// screenDoubt is how far beyond a limit the coarse simulation, corrected by the
// ratio to the full one that another program has, must see a program to refuse it:
// ratios of programs that differ in one number agree to that
// (TestScreen_refusesWhatFails). Whole minutes of a ramp are larger steps than whole
// degrees per hour, and the ratios agree less: with minutesDoubt the worst of 111
// random loads is 1.7 % shorter.
const (
	leads        = 0.9
	screenDoubt  = 0.001
	minutesDoubt = 0.003
)

func (sv *solver) doubt() float64 {
	if sv.st.Controller.Minutes {
		return minutesDoubt
	}
	return screenDoubt
}

// screenOf prepares to ask about programs like one, whose worst case it takes.
func (sv *solver) screenOf(s program.Schedule) (*screen, error) {
	return sv.screenBy(s, verify.Coarse)
}

// screenBy is screenOf with another accuracy of the coarse simulation.
func (sv *solver) screenBy(s program.Schedule, coarsely verify.Accuracy) (*screen, error) {
	c := &screen{sv: sv, of: s, coarsely: coarsely}
	full, err := sv.calibrate(s)
	if err != nil {
		return c, err
	}
	residual, tension := 0.0, 0.0
	for _, m := range full {
		residual, tension = math.Max(residual, m.Residual), math.Max(tension, m.Tension())
	}
	for k, m := range full {
		leaves := m.Residual > 0 && m.Residual >= leads*residual
		pulls := tension > nearlyTense && m.Tension() >= leads*tension
		if !leaves && !pulls {
			continue
		}
		coarse, err := sv.measure(s, k, coarsely)
		if err != nil {
			return c, err
		}
		left := make([]float64, len(coarse.Left))
		for i := range left {
			left[i] = m.Left[i] / math.Max(coarse.Left[i], 1e-9)
		}
		c.leading = append(c.leading, lead{k, left, tensionBias(m, coarse)})
	}
	return c, nil
}

// ahead is how many programs the coarse simulation is asked about at once, and
// beside how many of those that it leaves are simulated more finely. Neither changes
// which is taken: the first that keeps every limit. One that cannot be simulated is
// refused, and costs no other. They are the same on every machine, so that one load
// takes the same simulations on all.
const (
	ahead  = 8
	beside = 2
)

// offer asks about n programs in their order, and offers the first that keeps every
// limit and is the shortest so far. It returns the index of that one, or n.
func (c *screen) offer(n int, at func(int) (program.Schedule, bool)) (int, error) {
	q := queue{c: c, n: n, at: at}
	for {
		some, err := q.take(beside)
		if err != nil || len(some) == 0 {
			return n, err
		}
		err = parallel.Each(c.sv.ctx, len(some), func(k int) error {
			some[k].may = c.mayHold(some[k].s)
			return c.sv.ctx.Err()
		})
		if err != nil {
			return n, err
		}
		for _, x := range some {
			if x.may && c.holds(x.s) {
				c.sv.offer(x.s)
				return x.index, nil
			}
		}
	}
}

// holds reports whether a program keeps every limit, in every group. One that cannot
// be simulated does not.
func (c *screen) holds(s program.Schedule) bool {
	e, err := c.sv.excessAt(s, verify.Full)
	return err == nil && e.within()
}

// queue gives the programs that the coarse simulation leaves in the running, in their
// order.
type queue struct {
	c    *screen
	n    int
	at   func(int) (program.Schedule, bool)
	next int // index of the first that was not asked about
	left []candidate
}

// candidate is a program that may be the next best.
type candidate struct {
	index int
	s     program.Schedule
	may   bool // as far as was asked
}

// take returns so many of them, fewer where there are no more.
func (q *queue) take(most int) ([]candidate, error) {
	for q.next < q.n && len(q.left) < most {
		if err := q.more(); err != nil {
			return nil, err
		}
	}
	some := q.left[:min(len(q.left), most)]
	q.left = q.left[len(some):]
	return some, nil
}

// more asks about the next few.
func (q *queue) more() error {
	var some []candidate
	for ; q.next < q.n && len(some) < ahead; q.next++ {
		if s, ok := q.at(q.next); ok && q.c.sv.better(s) {
			some = append(some, candidate{index: q.next, s: s})
		}
	}
	err := parallel.Each(q.c.sv.ctx, len(some), func(k int) error {
		left, _, err := q.c.coarse(some[k].s)
		some[k].may = err == nil && most(left) <= 1+q.c.sv.doubt()
		return q.c.sv.ctx.Err()
	})
	for _, x := range some {
		if x.may {
			q.left = append(q.left, x)
		}
	}
	return err
}

// mayHold reports whether the finer simulation of what leads leaves a program in
// the running. One that soaks as the program of the screen does is not asked about
// its soak.
func (c *screen) mayHold(s program.Schedule) bool {
	if otherSoak(c.of, s) > 0 {
		return true // only the full simulation tells
	}
	soaked := c.soaksAlike(s)
	a := verify.Average
	if soaked {
		a = verify.AverageCooling
	}
	for _, q := range c.leading {
		m, err := c.sv.measure(s, q.group, a)
		if err != nil || m.Residual > 1+c.sv.doubt() || m.Tension() > 1+c.sv.doubt() || !soaked && !c.sv.soaked(m) {
			return false
		}
	}
	return true
}

// soaksAlike reports whether a program is that of the screen until the end of its
// soak.
func (c *screen) soaksAlike(s program.Schedule) bool {
	for i, seg := range c.of.Segments {
		if i >= len(s.Segments) || s.Segments[i] != seg {
			return false
		}
		if seg.Purpose == program.PurposeSoak {
			return s.From == c.of.From
		}
	}
	return false
}

// soaked reports whether the soak did what is asked of it.
func (sv *solver) soaked(m verify.Measured) bool {
	lim := sv.evaluator.Limits()
	return m.Soaked && 1-m.Unrelaxed >= lim.Relaxed && m.Lag <= lim.Even
}

// coarse returns the tension left at each place of what leads and the greatest tension
// of each segment, as shares of their limits, that a coarse simulation finds, corrected.
func (c *screen) coarse(s program.Schedule) (left, span []float64, err error) {
	span = make([]float64, len(s.Segments))
	all, err := c.corrected(s)
	for _, m := range all {
		left = append(left, m.Left...)
		for i, t := range m.Span {
			span[i] = math.Max(span[i], t)
		}
	}
	return left, span, err
}

// corrected is what a coarse simulation finds of each group that leads, corrected.
func (c *screen) corrected(s program.Schedule) ([]verify.Measured, error) {
	var all []verify.Measured
	for _, q := range c.leading {
		m, err := c.sv.measure(s, q.group, c.coarsely)
		if err != nil {
			return all, err
		}
		m.Left, m.Span = slices.Clone(m.Left), slices.Clone(m.Span) // a full one is kept
		for i := range m.Left {
			m.Left[i] *= q.left[i]
		}
		for i := range m.Span {
			m.Span[i] *= q.tension
		}
		all = append(all, m)
	}
	return all, nil
}

// most is the largest of some numbers, 0 of none.
func most(of []float64) float64 {
	m := 0.0
	for _, v := range of {
		m = math.Max(m, v)
	}
	return m
}
