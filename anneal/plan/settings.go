package plan

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/program"
	"lehr/anneal/rule"
	"lehr/anneal/verify"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// What is tried of a controller that a program cannot be set for: segments up to so
// many, or so many more than it has, and the longest hold up to so many times as long.
// Each number is a plan, and what no number tried does is said to have none.
const (
	mostSegments = 12
	moreSegments = 4
	mostLonger   = 32
)

// nearSlowest is how near to one that does not do the smallest rate is found: nearer
// takes a plan for each halving.
const nearSlowest = 1.1

// nearest sets on an error of what a controller cannot be set for the nearest
// settings with which there is a program: each was planned with.
func (pl *planner) nearest(err error) {
	c := pl.st.Controller
	var slow *kiln.SlowError
	var many *SegmentsError
	switch {
	case errors.As(err, &slow):
		slow.Tried = true
		free := pl.anyRate()
		if rep := pl.does(&free.Controller, pl.o.Rule); rep != nil {
			pl.most = farLonger * rep.Actual.Total()
			if rate := slowestOf(rep); rate < slow.Slowest*(1-rounding) {
				slow.Wanted = rate
			}
		}
		slow.Segments, slow.Takes = pl.segmentsThatDo(0), pl.slowestThatDoes()
		c = c.InMinutes()
		slow.Minutes = !pl.st.Controller.Minutes && pl.does(&c, pl.o.Rule) != nil
	case errors.As(err, &many):
		many.Tried = true
		many.Needs = pl.segmentsThatDo(many.Needs)
		many.Own = pl.o.published() && pl.does(&c, "") != nil
		for times := 2; many.Needs == 0 && many.Longest == 0 && times <= mostLonger; times *= 2 {
			if c.Longest *= 2; pl.does(&c, pl.o.Rule) != nil {
				many.Longest = c.Longest
			}
		}
	}
}

// published reports whether the rule is one that stands as it is.
func (o *Options) published() bool { return o.Rule != "" && o.Rule != rule.Stress }

// does is the program of the load by a rule with another controller, nil if there is
// none within the limits; of a published rule it need not be.
func (pl *planner) does(c *kiln.Controller, by string) *verify.Report {
	next := planner{stillSets: stillSets, ctx: pl.ctx, load: pl.load, st: pl.st, o: pl.o, limits: pl.limits, most: pl.most, inAll: true}
	next.anyDoes, next.fewerTried = true, c.Segments > pl.st.Controller.Segments
	next.st.Controller, next.o.Rule, next.o.quiet = *c, by, true
	if rep, err := next.plan(); err == nil && (rep.Within || next.o.published()) {
		return rep
	}
	return nil
}

// segmentsThatDo is the fewest segments, more than there are, with which there is a
// program, 0 if none of those tried. No fewer than needs are tried of a published
// rule, which stands as it is.
func (pl *planner) segmentsThatDo(needs int) int {
	c := pl.st.Controller
	if pl.o.published() {
		c.Segments = max(c.Segments, needs-1)
	}
	for most := max(mostSegments, c.Segments+moreSegments); c.Segments < most && pl.ctx.Err() == nil; {
		if c.Segments++; pl.does(&c, pl.o.Rule) != nil {
			return c.Segments
		}
	}
	return 0
}

// slowestThatDoes is about the greatest smallest rate, in whole degrees per hour,
// with which there is a program, 0 if there is none with the least.
func (pl *planner) slowestThatDoes() unit.Rate {
	c := pl.st.Controller
	degree := unit.Rate(float64(c.Degree()) / 3600)
	low, high := 0.0, math.Round(float64(c.SlowestKeyed()/degree))
	for mid := 1.0; high > mid && mid > low && pl.ctx.Err() == nil; {
		if c.Slowest = degree * unit.Rate(mid); pl.does(&c, pl.o.Rule) != nil {
			low = mid
		} else {
			high = mid
		}
		if high < low*nearSlowest {
			break
		}
		mid = math.Floor(math.Sqrt(low * high))
	}
	return degree * unit.Rate(low)
}

// slowestOf is the slowest rate at which a program cools.
func slowestOf(rep *verify.Report) unit.Rate {
	least := unit.Rate(math.Inf(1))
	for _, s := range rep.Schedule.Segments {
		if s.Rate < 0 && !s.Full {
			least = min(least, -s.Rate)
		}
	}
	return least
}

// SegmentsError says that a program does not fit the controller.
type SegmentsError struct {
	Needs, Has int // Needs is 0 where none of the numbers tried does
	// Soak is how many of them the soak takes, as one holds for Held at most.
	Soak int
	Held time.Duration
	// Tried says that each setting was planned with: Needs, Longest if that is 0, and
	// the rule of the design stress with the segments there are.
	Tried   bool
	Longest time.Duration
	Own     bool
}

// NewSegmentsError says so of the segments that a program would have.
func NewSegmentsError(segs []program.Segment, c kiln.Controller) *SegmentsError {
	e := &SegmentsError{Needs: len(segs), Has: c.Segments, Held: c.Longest}
	for _, seg := range segs {
		if seg.Purpose == program.PurposeSoak {
			e.Soak++
		}
	}
	return e
}

func (e *SegmentsError) Error() string {
	if e.Needs == 0 {
		return fmt.Sprintf("no program was found for the %d segments of the controller", e.Has)
	}
	soak := ""
	if e.Soak > 1 {
		soak = fmt.Sprintf(" (%d hold the soak, %s each at most)", e.Soak, unit.FormatDuration(e.Held))
	}
	return fmt.Sprintf("the program needs %d segments%s, the controller has %d", e.Needs, soak, e.Has)
}

// Hint names what the person can do.
func (e *SegmentsError) Hint() string { return e.Advice().String() }

// Advice is the hint as data.
func (e *SegmentsError) Advice() strict.Advice {
	a := strict.Advice("give more {controller.segments} if it has them, or the longest hold that it takes")
	switch {
	case e.Tried && e.Needs > 0:
		a = strict.Advice("give {controller.segments=" + strconv.Itoa(e.Needs) + "} if it has as many")
	case e.Longest > 0:
		a = strict.Advice("give {controller.longest_hold=" + unit.FormatDuration(e.Longest) + "} if it takes as long")
	}
	if e.Own {
		a += "; the rule " + rule.Stress + " fits this controller"
	}
	return a
}
