package plan

import (
	"context"
	"math"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/rule"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// MostGive is the highest limit of tension that is tried: what is permissible
// for borosilicate 3.3.
//
// Source: 7 N/mm² in EN 1595, as the maker's page for tubing quotes it [quoted].
const MostGive = 7 * unit.Megapascal

// giveSteps bounds the search for a limit: about 3 % of it after 6 halvings of
// the way from 1 to 7 MPa.
const giveSteps = 6

// leastGive is by what share more than a limit what is reached must be for that to
// be said: less is no difference where it is printed.
const leastGive = 1.01

// late is a program that is not ready by its hour.
type late struct {
	ctx    context.Context
	load   *piece.Load
	st     kiln.Studio
	o      Options
	how    ReadyHow
	rep    *verify.Report
	within time.Duration // that a program may take
}

// ways looks for what lets the load be ready in time: first what gives nothing up,
// then the margin, then a warm opening, then a limit.
func (a *late) ways() {
	if a.rep.Ready.Kiln == 0 {
		a.search()
		a.lessMargin()
	}
	a.openWarmer()
	a.giveUp()
	a.rep.Ready.Stopped = a.ctx.Err() != nil
}

func (a *late) add(w verify.Way) { a.rep.Ready.Ways = append(a.rep.Ready.Ways, w) }

// plan plans the load otherwise; ok says that this is within its limits, and in time.
func (a *late) plan(planner Planner, st kiln.Studio, o Options) (rep *verify.Report, ok bool) {
	if a.ctx.Err() != nil {
		return nil, false
	}
	rep, err := planner(a.ctx, a.load, st, o)
	if err != nil || !rep.Within || a.ctx.Err() != nil { // a search that is stopped answers what it has
		return nil, false
	}
	return rep, rep.Actual.Total() <= a.within
}

// mostSearched is the most kinds of piece for which a search is tried: with them it
// takes a second or two. From a cold kiln it takes much longer.
const mostSearched = 4

// search tries the search, where it is quick and its program would be another one.
func (a *late) search() {
	quick := a.load.Into == piece.HotKiln && len(a.load.Pieces) <= mostSearched
	for _, p := range a.load.Pieces {
		quick = quick && p.Profile == nil
	}
	if a.how.Search == nil || !quick || a.o.Rule != "" && a.o.Rule != rule.Stress {
		return
	}
	rep, ok := a.plan(atOnce(a.how.Search), a.st, a.o)
	switch {
	case ok:
		a.add(verify.Way{By: verify.BySearch, Total: rep.Actual.Total()})
	case rep != nil:
		a.rep.Ready.Searched = rep.Actual.Total()
	}
}

// atOnce is a planner that ends with its context: a search that is stopped ends soon,
// too, but judges what it has first, which nobody waits for here.
func atOnce(p Planner) Planner {
	return func(ctx context.Context, l *piece.Load, st kiln.Studio, o Options) (*verify.Report, error) {
		type answer struct {
			rep *verify.Report
			err error
		}
		done := make(chan answer, 1)
		go func() {
			rep, err := p(ctx, l, st, o)
			done <- answer{rep, err}
		}()
		select {
		case a := <-done:
			return a.rep, a.err
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
}

// lessMargin looks for the greatest margin, in whole percent, with which the program
// ends in time.
func (a *late) lessMargin() {
	try := func(percent int) (*verify.Report, bool) {
		o := a.o
		o.Limits.Margin, o.Limits.MarginGiven = float64(percent)/100, true
		return a.plan(a.how.Planner, a.st, o)
	}
	was := a.rep.Limits.Margin
	if was == 0 {
		return
	}
	best, ok := try(0)
	if !ok {
		return
	}
	low, high := 0, int(math.Ceil(100*was-1e-9))
	for high-low > 1 {
		mid := (low + high) / 2
		if rep, ok := try(mid); ok {
			best, low = rep, mid
		} else {
			high = mid
		}
	}
	a.add(verify.Way{By: verify.ByMargin, Total: best.Actual.Total(), Margin: float64(low) / 100})
}

// A kiln is opened warmer by whole steps from what it reads at the time asked for:
// a program to there is shorter, since its last ramp ends sooner, but not always by
// all that is missing. Nobody opens one above warmest.
const openingSteps = 4

// roundUp brings a reading to the next round one of a system of units, 5 °C or
// 10 °F apart.
func roundUp(t unit.Temp, s unit.System) unit.Temp {
	if s == unit.US {
		return unit.Fahrenheit(10 * math.Ceil(t.Fahrenheit()/10-1e-9))
	}
	return unit.Celsius(5 * math.Ceil(t.Celsius()/5-1e-9))
}

// warmest is the highest reading at which opening is considered [common practice]: a
// lower one finds fewer ways to be ready in time, a higher one means hot glass by hand.
var warmest = unit.Celsius(300)

// openWarmer looks for the lowest reading at which the kiln can be opened in time
// with every piece within its limits.
func (a *late) openWarmer() {
	open := roundUp(a.rep.Ready.Then, a.st.Units)
	for range openingSteps {
		if warmest.Less(open) || !a.st.Opening.Less(open) {
			return
		}
		warm := a.st
		warm.Opening = open
		rep, ok := a.plan(a.how.Planner, warm, a.o)
		if rep == nil {
			return
		}
		if ok {
			w := verify.Way{By: verify.ByOpening, Open: open, Total: rep.Actual.Total()}
			for _, p := range rep.Pieces {
				if p.Opening.Use > w.Opened.Use {
					w.Opened = p.Opening
				}
			}
			if f, ok := rep.Notes.Find(finding.StillHot); ok {
				w.Still.Add(f)
			}
			a.add(w)
			return
		}
		open = roundUp(open.Add(1), a.st.Units)
	}
}

// giveUp looks for the least change of one limit, and of both if none alone would
// do: where no program that was tried keeps them and ends in time.
func (a *late) giveUp() {
	r := a.rep.Ready
	if slices.ContainsFunc(r.Ways, func(w verify.Way) bool { return w.By == verify.BySearch || w.By == verify.ByMargin }) {
		return
	}
	for _, i := range []verify.Limit{verify.LimitResidual, verify.LimitTension} {
		g := give{late: a, which: []verify.Limit{i}}
		if g.try([2]float64{1, 1}); g.best != nil {
			g.lower(giveSteps, i)
			a.add(g.way())
		}
	}
	if slices.ContainsFunc(r.Ways, func(w verify.Way) bool { return w.By == verify.ByLimit }) {
		return
	}
	both := give{late: a, which: []verify.Limit{verify.LimitResidual, verify.LimitTension}}
	rep := both.try([2]float64{1, 1})
	switch {
	case both.best != nil:
		both.lower(giveSteps, both.which...)
		both.lower(trimSteps, verify.LimitResidual) // and each as far as the other lets it
		both.lower(trimSteps, verify.LimitTension)
		a.add(both.way())
	case rep != nil && rep.Actual.Total() > a.within:
		r.Least = rep.Actual.Total()
	}
}

// trimSteps bounds the search for each of two limits after that for both.
const trimSteps = 4

// give is a search for how little of some limits has to give.
type give struct {
	*late
	which  []verify.Limit
	shares [2]float64     // of the way, of each limit from as it is to the most, that is in time
	best   *verify.Report // with these; nil if none is
	gives  []verify.Give
}

// try plans with shares of the way to the most of each limit, and keeps what is in
// time with a limit exceeded; else no limit has to give.
func (g *give) try(shares [2]float64) *verify.Report {
	o := g.o
	var asked [2]unit.Stress
	for _, i := range g.which {
		s := binding(g.rep, i)
		asked[i] = asPrinted(unit.Stress(float64(s)*math.Pow(float64(max(MostGive, s)/s), shares[i])), g.st.Units)
		*limitAt(&o.Limits, i) = asked[i]
	}
	rep, ok := g.plan(g.how.Planner, g.st, o)
	if !ok {
		return rep
	}
	var gives []verify.Give
	exceeds := false
	for _, i := range g.which {
		r, over := reached(g.rep, rep, i)
		r.Ask, exceeds = asked[i], exceeds || over
		gives = append(gives, r)
	}
	if exceeds {
		g.shares, g.best, g.gives = shares, rep, gives
	}
	return rep
}

// lower brings some limits as far down as the program stays in time, in steps that
// each halve what is open.
func (g *give) lower(steps int, which ...verify.Limit) {
	low, high := 0.0, g.shares[which[0]]
	for range steps {
		mid, shares := (low+high)/2, g.shares
		for _, i := range which {
			shares[i] = mid
		}
		if g.try(shares); g.shares == shares {
			high = mid
		} else {
			low = mid
		}
	}
}

func (g *give) way() verify.Way {
	return verify.Way{By: verify.ByLimit, Total: g.best.Actual.Total(), Gives: g.gives}
}

func limitAt(l *kiln.Limits, i verify.Limit) *unit.Stress {
	if i == verify.LimitTension {
		return &l.Tension
	}
	return &l.Residual
}

// asPrinted is a limit rounded up to what is printed of one, so that it can be asked
// for in those words.
func asPrinted(s unit.Stress, sys unit.System) unit.Stress {
	step := unit.Megapascal / 100
	if sys == unit.US {
		step = unit.PSI
	}
	return unit.Stress(math.Ceil(float64(s/step)-1e-6)) * step
}

// heldBy is what a piece reaches of a limit.
func heldBy(p verify.PieceReport, i verify.Limit) verify.Tension {
	return [...]verify.Tension{verify.LimitTension: p.Tension, verify.LimitResidual: p.ResidualTension}[i]
}

// binding is the limit of the worst case that, asked for in the place of the
// published ones, lets the piece nearest to its own reach just that.
func binding(rep *verify.Report, i verify.Limit) unit.Stress {
	var most verify.Tension
	for _, p := range rep.Pieces {
		if b := heldBy(p, i); b.Use > most.Use {
			most = b
		}
	}
	if most.Use == 0 || most.Worst <= 0 {
		return MostGive
	}
	return most.Worst / unit.Stress(most.Use*(1-rep.Limits.Margin))
}

// reached is what a program reaches of a limit, in the piece that exceeds most what
// it is held to in another report; over says that it does.
func reached(was, rep *verify.Report, i verify.Limit) (g verify.Give, over bool) {
	most := 0.0
	for n, p := range rep.Pieces {
		b, pair := heldBy(p, i), heldBy(was.Pieces[n], i).Pair
		for _, c := range []verify.Give{{From: pair.Expected, Reaches: b.Expected}, {From: pair.Worst, Reaches: b.Worst, AtWorst: true}} {
			if use := float64(c.Reaches / c.From); c.From > 0 && use > most {
				most, g = use, c
			}
		}
	}
	g.Limit = i
	return g, most >= leastGive
}
