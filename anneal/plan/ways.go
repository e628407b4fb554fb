package plan

import (
	"context"
	"math"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
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
// be said: less is no difference where it is printed, more would ask for more of the
// limit than minutes need.
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

// add books a way by which a program is in time.
func (a *late) add(by verify.Means, rep *verify.Report) *verify.Way {
	r := a.rep.Ready
	r.Ways = append(r.Ways, verify.Way{By: by, Total: rep.Actual.Total()})
	return &r.Ways[len(r.Ways)-1]
}

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
// takes a few seconds; with more it finds as much, and takes longer than whoever asks
// for an hour waits. From a cold kiln it takes that long with one.
const mostSearched = 4

// search tries the search, where it is quick and its program would be another one.
func (a *late) search() {
	quick := a.how.Search != nil && a.load.Into == piece.HotKiln && len(a.load.Pieces) <= mostSearched && !a.o.published()
	for i := range a.load.Pieces {
		quick = quick && a.load.Pieces[i].Profile == nil
	}
	if !quick {
		return
	}
	rep, ok := a.plan(a.how.Search, a.st, a.o)
	if ok {
		a.add(verify.BySearch, rep)
	} else if rep != nil {
		a.rep.Ready.Searched = rep.Actual.Total()
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
	a.add(verify.ByMargin, best).Margin = float64(low) / 100
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
			w := a.add(verify.ByOpening, rep)
			w.Open = open
			for i := range rep.Pieces {
				if b := &rep.Pieces[i].Opening; b.Use > w.Opened.Use {
					w.Opened = *b
				}
			}
			if f, ok := rep.Notes.Find(finding.StillHot); ok {
				w.Still.Add(f)
			}
			return
		}
		open = roundUp(open.Add(1), a.st.Units)
	}
}

// giveUp looks for the least change of one limit, and of both if none alone would
// do: where no program that was tried keeps them and ends in time.
func (a *late) giveUp() {
	r := a.rep.Ready
	if r.Has(verify.BySearch) || r.Has(verify.ByMargin) {
		return
	}
	for _, i := range []verify.Limit{verify.LimitResidual, verify.LimitTension} {
		g := give{late: a, which: []verify.Limit{i}}
		if g.try([2]float64{1, 1}); g.best != nil {
			g.lower(giveSteps, i)
			a.add(verify.ByLimit, g.best).Gives = g.gives
		}
	}
	if r.Has(verify.ByLimit) {
		return
	}
	both := give{late: a, which: []verify.Limit{verify.LimitResidual, verify.LimitTension}}
	rep := both.try([2]float64{1, 1})
	switch {
	case both.best != nil:
		both.lower(giveSteps, both.which...)
		both.lower(trimSteps, verify.LimitResidual) // and each as far as the other lets it
		both.lower(trimSteps, verify.LimitTension)
		a.add(verify.ByLimit, both.best).Gives = both.gives
	case rep != nil && rep.Actual.Total() > a.within:
		r.Least = rep.Actual.Total()
	}
}

// trimSteps bounds the search for each of two limits after that for both: less leaves
// more of a limit given than needed, more takes plans.
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
func heldBy(p *verify.PieceReport, i verify.Limit) *verify.Tension {
	if i == verify.LimitTension {
		return &p.Tension
	}
	return &p.ResidualTension
}

// binding is the limit of the worst case that, asked for in the place of the
// published ones, lets the piece nearest to its own reach just that.
func binding(rep *verify.Report, i verify.Limit) unit.Stress {
	most := heldBy(&rep.Pieces[0], i)
	for n := range rep.Pieces {
		if b := heldBy(&rep.Pieces[n], i); b.Use > most.Use {
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
	for n := range rep.Pieces {
		b, pair := heldBy(&rep.Pieces[n], i), heldBy(&was.Pieces[n], i).Pair
		if use := float64(b.Expected / pair.Expected); pair.Expected > 0 && use > most {
			most, g = use, verify.Give{From: pair.Expected, Reaches: b.Expected}
		}
		if use := float64(b.Worst / pair.Worst); pair.Worst > 0 && use > most {
			most, g = use, verify.Give{From: pair.Worst, Reaches: b.Worst, AtWorst: true}
		}
	}
	g.Limit = i
	return g, most >= leastGive
}
