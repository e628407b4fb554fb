// Package outage answers what to do with a load whose kiln lost its power: it
// simulates the past, then each way on from the temperature at which the kiln was
// found, and says which to try first.
//
// Which ways there are and why is for package rescue to say, what a history does
// to a piece for package verify. The program that was under way comes from the
// caller; this package proposes none of its own.
package outage

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sort"
	"time"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/rescue"
	"lehr/anneal/verify"
	"lehr/glass"
	"lehr/glass/unit"
)

// Case is what is known of a load and its night.
type Case struct {
	Load    *piece.Load
	Limits  kiln.Limits
	Program program.Schedule // that was under way
	Nights  []Night          // that it may have been, the one to show in front; see [Nights]
	Failed  unit.Temp        // the reading when the power failed
	Rising  bool             // it failed on the way up to the soak, see [Rising]
	Logged  bool             // the past is what a log says, else as [pastCurve] has it
}

// Way is one way on, simulated together with the past.
type Way struct {
	Way      rescue.Way
	Schedule program.Schedule // from here; no segments when the kiln is left to fall
	Times                     // from now until the way ends
	Opens    Times            // from now until the kiln can be opened; zero where no reading was found at which it can
	Rate     unit.Rate        // of the heating back to the soak
	Gentlest unit.Rate        // the slowest heating that was tried
	Report   *verify.Report   // of past and way, each piece at its worst in these kilns
	Ruled    bool             // out, whatever its numbers

	reports           []*verify.Report // by night
	took              []time.Duration  // by night
	tension, residual float64          // shares of their limits, see weigh
}

// BreaksNow reports whether the way itself exceeds the limit of tension, in which
// a piece breaks at once. What has been there already does not count, nor what
// the way leaves in a piece, which a later annealing can mend, nor opening the kiln at
// its end, which nobody has to do there.
func (w Way) BreaksNow() bool { return !(w.tension <= 1) }

// LeavesMore reports whether the way leaves more tension in a piece than it may.
func (w Way) LeavesMore() bool { return !(w.residual <= 1) }

// Answer is what to do.
type Answer struct {
	Advice rescue.Advice
	Glass  *glass.Glass   // that decides
	Ways   []Way          // the one to try first in front
	Past   *verify.Report // what has happened already, each piece at its worst

	pasts []*verify.Report // by night
}

// cracked reports whether a piece has been over its limit of tension already. It
// may have cracked, and a cracked piece is not heated again.
func (a *Answer) cracked() bool {
	for _, p := range a.Past.Pieces {
		if !(p.Tension.Use <= 1) {
			return true
		}
	}
	return false
}

// Find simulates every way on, in every kiln that this one may be. When ctx ends it
// returns at once; the load must stay as it is for a moment longer.
//
// Errors: *rescue.StateError for temperatures that do not go together, and those
// of [verify.Replay].
func Find(ctx context.Context, c Case) (*Answer, error) {
	return parallel.Until(ctx, func() (*Answer, error) { return answer(ctx, c) })
}

// answer is [Find], to the end of the simulation that it is at when ctx ends.
func answer(ctx context.Context, c Case) (*Answer, error) {
	found := c.Found()
	a, err := advise(c, found)
	if err != nil {
		return nil, err
	}
	a.pasts, err = c.each(ctx, func(n Night) (kiln.Curve, error) { return n.Past, nil })
	if err != nil {
		return nil, err
	}
	a.Past = worst(a.pasts)
	for _, w := range []rescue.Way{rescue.GoOn, rescue.SoakAgain, rescue.LetFall} {
		way, err := c.way(ctx, w, a, found)
		if err != nil {
			return nil, err
		}
		way.Ruled = !slices.Contains(a.Advice.Ways, w)
		if way, err = c.opened(ctx, way); err != nil {
			return nil, err
		}
		a.Ways = append(a.Ways, a.stayShut(way))
	}
	sort.SliceStable(a.Ways, func(i, j int) bool { return a.order(a.Ways[i], a.Ways[j]) < 0 })
	a.Ways[0], err = c.stillHot(a.Ways[0])
	return a, err
}

// Found is what the kiln reads now.
func (c Case) Found() unit.Temp { return c.Nights[0].Past.Temp(c.Nights[0].Past.End()) }

// class is how far behind a way stands, whatever its numbers: in front those that
// keep every limit, then those that keep that of tension, in which a piece breaks
// now, and leave more in it than they may, which can be annealed later. Then what
// exceeds the limit of tension, heating what may have cracked already, and last
// what is ruled out.
func (a *Answer) class(w Way) int {
	switch {
	case w.Ruled:
		return 4
	case w.Way == rescue.SoakAgain && a.cracked():
		return 3
	case w.BreaksNow():
		return 2
	case w.Report.Verdict() == verify.WithinLimits:
		return 0
	}
	return 1
}

// alike is by how much a way may exceed a limit more than another that is preferred for
// another reason.
//
// Source: common practice, a twentieth; no published figure.
const alike = 1.05

// leaves reports whether letting the kiln fall stands before another way because a piece
// may have cracked: it exceeds no limit by more than a little beyond that.
func (a *Answer) leaves(x, y Way) bool {
	if !a.cracked() || x.Way != rescue.LetFall || y.Way != rescue.GoOn {
		return false
	}
	over := func(share float64) float64 { return math.Max(1, share) }
	return over(x.tension) <= alike*over(y.tension) && over(x.residual) <= alike*over(y.residual)
}

// LeftAlone reports whether letting the kiln fall stands first for that, though another
// way exceeds the limit of tension by a little less.
func (a *Answer) LeftAlone() bool {
	first := a.Ways[0]
	return slices.ContainsFunc(a.Ways[1:], func(w Way) bool {
		return a.class(w) == a.class(first) && a.leaves(first, w) && w.tension < first.tension-0.005
	})
}

// order is by class; where some limit is exceeded, then by how much, first by
// tension; else in the order of the advice. What may have cracked is left alone where that
// is as good as a program.
func (a *Answer) order(x, y Way) int {
	if c := cmp.Compare(a.class(x), a.class(y)); c != 0 {
		return c
	}
	switch {
	case a.leaves(x, y):
		return -1
	case a.leaves(y, x):
		return 1
	}
	if a.class(x) > 0 {
		// In whole percent: less is no reason to prefer one.
		for _, share := range []func(Way) float64{func(w Way) float64 { return w.tension }, func(w Way) float64 { return w.residual }} {
			over := func(w Way) float64 { return math.Round(100 * math.Max(1, share(w))) }
			if c := cmp.Compare(over(x), over(y)); c != 0 {
				return c
			}
		}
	}
	return cmp.Compare(slices.Index(a.Advice.Ways, x.Way), slices.Index(a.Advice.Ways, y.Way))
}

// Keeps reports whether a way keeps every limit.
func (a *Answer) Keeps() bool { return a.class(a.Ways[0]) == 0 }

// advise asks for every glass of the load; the one that lost most decides.
func advise(c Case, found unit.Temp) (*Answer, error) {
	if c.Rising {
		return &Answer{Advice: rescue.BeforeSoak(), Glass: c.Load.Pieces[0].Glass}, nil
	}
	weight := map[rescue.Case]int{rescue.SetBefore: 0, rescue.NothingLost: 1, rescue.SetTooFast: 2, rescue.SettingNow: 3}
	var out *Answer
	for _, p := range c.Load.Pieces {
		b := rescue.BoundsOf(p.Glass.Strain.Temp(), p.Glass.Anneal.Temp())
		advice, err := rescue.Advise(c.Failed, found, b)
		if err != nil {
			return nil, err
		}
		if out == nil || weight[advice.Case] > weight[out.Advice.Case] {
			out = &Answer{Advice: advice, Glass: p.Glass}
		}
	}
	return out, nil
}

// way composes one way and simulates it.
func (c Case) way(ctx context.Context, w rescue.Way, a *Answer, found unit.Temp) (Way, error) {
	switch w {
	case rescue.LetFall:
		return c.letFall(ctx, a, found)
	case rescue.GoOn:
		return c.follow(ctx, a, Way{Way: w}, program.Schedule{From: found, Segments: c.cooling(found)})
	}
	soak, hold := c.soak()
	rates := c.rates()
	again := func(r unit.Rate) (Way, error) {
		seg := program.Segment{Purpose: program.PurposeSoak, To: soak, Hold: max(hold, a.Advice.Hold, leastHold)}
		if soak.Sub(found) > 0 {
			seg.Rate = r
		}
		s := program.Schedule{From: found, Segments: append([]program.Segment{seg}, c.cooling(soak)...)}
		return c.follow(ctx, a, Way{Way: w, Rate: r, Gentlest: rates[0]}, s)
	}
	// The fastest that every piece bears. Where none keeps the limit, the fastest
	// that adds next to nothing to the slowest.
	lo, hi := 0, len(rates)-1
	best, err := again(rates[0])
	if err != nil || soak.Sub(found) <= 0 {
		return best, err
	}
	most := 1.0
	if best.BreaksNow() {
		most = addsLittle * best.tension
	}
	for lo < hi {
		mid := (lo + hi + 1) / 2
		x, err := again(rates[mid])
		if err != nil {
			return x, err
		}
		if x.tension <= most {
			lo, best = mid, x
		} else {
			hi = mid - 1
		}
	}
	return best, nil
}

// leastHold is the hold of a new soak where the advice gives none.
const leastHold = 30 * time.Minute

// addsLittle is by how much heating back may raise a tension that is over its
// limit however slowly one heats.
//
// Source: common practice, a tenth; no published figure.
const addsLittle = 1.1

// rates are those tried for the heating, rising, in steps that can be keyed in.
func (c Case) rates() []unit.Rate {
	st := c.Nights[0].Studio
	steps := []float64{5, 10, 15, 20, 30, 40, 50, 60, 80, 100, 120, 150, 200, 250, 300, 400, 500, 600, 800}
	most := min(st.Kiln.Heating, st.Controller.FastestKeyed())
	var out []unit.Rate
	for _, x := range steps {
		r := unit.KelvinPerHour(x)
		if st.Controller.Units == unit.US {
			r = unit.FahrenheitPerHour(2 * x)
		}
		if keyed, err := st.Controller.Rate(r); err == nil && (keyed <= most || len(out) == 0) {
			out = append(out, keyed)
		}
	}
	if len(out) == 0 {
		out = append(out, st.Controller.FastestKeyed())
	}
	return out
}

// soak is the hottest hold of the program.
func (c Case) soak() (at unit.Temp, hold time.Duration) {
	at = c.Program.Hottest()
	for _, s := range c.Program.Segments {
		if s.To == at {
			hold += s.Hold
		}
	}
	return at, hold
}

// cooling is what of the program lies below a temperature, after its soak.
func (c Case) cooling(from unit.Temp) []program.Segment {
	hot := c.Program.Hottest()
	at := 0
	for i, s := range c.Program.Segments {
		if s.To == hot {
			at = i + 1
		}
	}
	return slices.DeleteFunc(slices.Clone(c.Program.Segments[at:]), func(s program.Segment) bool { return !s.To.Less(from) })
}

// follow judges a program from here.
func (c Case) follow(ctx context.Context, a *Answer, w Way, s program.Schedule) (Way, error) {
	if len(s.Segments) == 0 {
		s.Segments = []program.Segment{{Purpose: program.PurposeHold, To: s.From, Hold: time.Minute}}
	}
	for i, n := range c.Nights {
		fulfilled, err := s.Fulfilled(n.Studio)
		if err != nil {
			return w, err
		}
		if i == 0 {
			w.Schedule = fulfilled
		}
		w.took = append(w.took, fulfilled.As(&n.Studio.Kiln).Total())
	}
	return c.judge(ctx, a, w, func(n Night) (kiln.Curve, error) {
		fulfilled, err := s.Fulfilled(n.Studio)
		if err != nil {
			return kiln.Curve{}, err
		}
		return fulfilled.Followed(n.Studio).Curve()
	})
}

// letFall judges the kiln left closed and off.
func (c Case) letFall(ctx context.Context, a *Answer, found unit.Temp) (Way, error) {
	w := Way{Way: rescue.LetFall}
	alone := func(k kiln.Kiln, st kiln.Studio) time.Duration {
		return max(k.Fall.Alone(found, st.Opening), 0)
	}
	for _, n := range c.Nights {
		w.took = append(w.took, alone(n.Studio.Kiln, n.Studio))
	}
	return c.judge(ctx, a, w, func(n Night) (kiln.Curve, error) {
		k := n.Studio.Kiln
		if k.Measured {
			k = k.Emptier()
		}
		if long := alone(k, n.Studio); long > 0 {
			return k.Fall.Curve(found, max(long, time.Minute)), nil
		}
		return kiln.NewCurve([]kiln.Reading{{At: found}, {At: found, Time: time.Minute}}) // as it is opened already
	})
}

// judge simulates the past and what follows, in every night.
func (c Case) judge(ctx context.Context, a *Answer, w Way, next func(Night) (kiln.Curve, error)) (Way, error) {
	reports, err := c.each(ctx, func(n Night) (kiln.Curve, error) {
		curve, err := next(n)
		if err != nil {
			return curve, err
		}
		return n.Past.Then(curve), nil
	})
	if err != nil {
		return w, err
	}
	w.Times, w.Report, w.reports = timesOf(w.took), worst(reports), reports
	w.weigh(reports, a.pasts)
	return w, nil
}
