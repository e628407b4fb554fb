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
	"fmt"
	"math"
	"slices"
	"time"

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
	Studio  kiln.Studio
	Limits  kiln.Limits
	Program program.Schedule // that was under way
	Past    kiln.Curve       // from when the pieces went in to now
	Failed  unit.Temp        // the reading when the power failed
	Logged  bool             // Past is what a log says, else as [Past] has it
}

// Way is one way on, simulated together with the past.
type Way struct {
	Way      rescue.Way
	Schedule program.Schedule // from here; no segments when the kiln is left to fall
	Lasts    time.Duration    // from now until the kiln can be opened
	Rate     unit.Rate        // of the heating back to the soak
	Report   *verify.Report   // of past and way
	Ruled    bool             // out, whatever its numbers
}

// Answer is what to do.
type Answer struct {
	Advice rescue.Advice
	Glass  *glass.Glass   // that decides
	Ways   []Way          // the one to try first in front
	Past   *verify.Report // what has happened already
}

// Past returns what the pieces saw when nobody logged it: the program up to the
// temperature at which the power failed, then a fall to the temperature found. The
// fall lasts as long as given, or as long as this kiln takes when after is zero.
// before is how long the program ran, which counts if the power failed in the
// soak; if it is zero the soak is taken to be over.
//
// Errors: *rescue.StateError for temperatures that do not go together.
func Past(s program.Schedule, st kiln.Studio, failed, found unit.Temp, before, after time.Duration) (kiln.Curve, error) {
	if failed.Less(found) {
		_, err := rescue.Advise(failed, found, rescue.Bounds{})
		return kiln.Curve{}, err
	}
	ran, err := until(s, st, failed, before)
	if err != nil {
		return kiln.Curve{}, err
	}
	fall := st.Kiln.Fall
	if !fall.Room.Less(found) {
		return kiln.Curve{}, &rescue.StateError{Reason: fmt.Sprintf("found at %s, the room or below", unit.AsTyped(found)), Next: "treat the pieces as finished work that was not annealed"}
	}
	s0, s1 := float64(failed.Sub(fall.Room)), float64(found.Sub(fall.Room))
	switch {
	case after > 0 && s1 < s0:
		fall = kiln.Fall{Room: fall.Room, TimeConstant: time.Duration(float64(after) / math.Log(s0/s1))}
	case after == 0:
		after = unit.Seconds(fall.Time(failed, found, unit.Rate(math.Inf(1))))
	}
	if after < time.Second {
		return ran, nil
	}
	return ran.Then(fall.Curve(failed, after)), nil
}

// until is a program up to where it comes down to a temperature; one that never
// is as hot is held there for as long as it ran.
func until(s program.Schedule, st kiln.Studio, failed unit.Temp, before time.Duration) (kiln.Curve, error) {
	s, err := s.Fulfilled(st)
	if err != nil {
		return kiln.Curve{}, err
	}
	p := s.Followed(st).Points
	hot := 0
	for i := range p {
		if p[i].Temp >= p[hot].Temp-1e-6 {
			hot = i
		}
	}
	var out []kiln.Reading
	for i, q := range p {
		if i > hot && q.Temp <= failed.Kelvin() {
			a := p[i-1]
			w := (a.Temp - failed.Kelvin()) / (a.Temp - q.Temp)
			out = append(out, kiln.Reading{At: failed, Time: unit.Seconds(a.Time + w*(q.Time-a.Time))})
			break
		}
		out = append(out, kiln.Reading{At: unit.Kelvin(q.Temp), Time: unit.Seconds(q.Time)})
	}
	if failed.Kelvin() >= p[hot].Temp-0.5 {
		if before == 0 {
			before = unit.Seconds(p[hot].Time)
		}
		out = []kiln.Reading{{At: failed}, {At: failed, Time: max(time.Minute, before)}}
	}
	rising := out[:1]
	for _, r := range out[1:] {
		if r.Time > rising[len(rising)-1].Time {
			rising = append(rising, r)
		}
	}
	return kiln.NewCurve(rising)
}

// Find simulates every way on.
//
// Errors: *rescue.StateError for temperatures that do not go together, and those
// of [verify.Replay].
func Find(ctx context.Context, c Case) (*Answer, error) {
	found := c.Past.Temp(c.Past.End())
	a, err := advise(c, found)
	if err != nil {
		return nil, err
	}
	if a.Past, err = verify.Replay(ctx, c.Past, c.Load, c.Studio, c.Limits, true); err != nil {
		return nil, err
	}
	for _, w := range []rescue.Way{rescue.GoOn, rescue.SoakAgain, rescue.LetFall} {
		way, err := c.way(ctx, w, a.Advice, found)
		if err != nil {
			return nil, err
		}
		way.Ruled = !slices.Contains(a.Advice.Ways, w)
		a.Ways = append(a.Ways, way)
	}
	slices.SortStableFunc(a.Ways, a.order)
	return a, nil
}

// order puts ways that keep every limit first, in the order of the advice; then
// those that keep none, that one first whose stress exceeds its limit least; last
// what is ruled out.
func (a *Answer) order(x, y Way) int {
	class := func(w Way) int {
		switch {
		case w.Ruled:
			return 2
		case w.Report.Verdict() == verify.WithinLimits:
			return 0
		}
		return 1
	}
	if c := cmp.Compare(class(x), class(y)); c != 0 {
		return c
	}
	if class(x) == 1 {
		// In whole percent: less is no reason to prefer one.
		if c := cmp.Compare(math.Round(100*a.exceeds(x)), math.Round(100*a.exceeds(y))); c != 0 {
			return c
		}
	}
	return cmp.Compare(slices.Index(a.Advice.Ways, x.Way), slices.Index(a.Advice.Ways, y.Way))
}

// exceeds is the greatest share of a limit that the stress of a way uses up, at
// least 1: the tension that has been there already is no difference between ways.
func (a *Answer) exceeds(w Way) float64 {
	most := 1.0
	for i, p := range w.Report.Pieces {
		if p.Tension.Use > a.Past.Pieces[i].Tension.Use*1.001 {
			most = max(most, p.Tension.Use)
		}
		if p.ResidualAsked {
			most = max(most, p.Left.Use)
		}
	}
	return most
}

// Keeps reports whether a way keeps every limit.
func (a *Answer) Keeps() bool { return a.Ways[0].Report.Verdict() == verify.WithinLimits }

// advise asks for every glass of the load; the one that lost most decides.
func advise(c Case, found unit.Temp) (*Answer, error) {
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
func (c Case) way(ctx context.Context, w rescue.Way, a rescue.Advice, found unit.Temp) (Way, error) {
	out := Way{Way: w}
	switch w {
	case rescue.LetFall:
		k := c.Studio.Kiln
		long := unit.Seconds(k.Fall.Time(found, c.Studio.Opening, unit.Rate(math.Inf(1))))
		out.Lasts = max(long, 0)
		if k.Measured {
			k = k.Emptier()
			long = unit.Seconds(k.Fall.Time(found, c.Studio.Opening, unit.Rate(math.Inf(1))))
		}
		err := c.judge(ctx, &out, k.Fall.Curve(found, max(long, time.Minute)))
		return out, err
	case rescue.GoOn:
		return out, c.follow(ctx, &out, program.Schedule{From: found, Segments: c.cooling(found)})
	}
	soak, hold := c.soak()
	again := func(r unit.Rate) (Way, error) {
		x := Way{Way: w, Rate: r}
		seg := program.Segment{Purpose: program.PurposeSoak, To: soak, Hold: max(hold, a.Hold, leastHold)}
		if soak.Sub(found) > 0 {
			seg.Rate = r
		}
		s := program.Schedule{From: found, Segments: append([]program.Segment{seg}, c.cooling(soak)...)}
		return x, c.follow(ctx, &x, s)
	}
	// The fastest that every piece bears. Where what has set already pulls more
	// than the limit, no rate keeps it: the fastest that adds next to nothing.
	rates := c.rates()
	lo, hi := 0, len(rates)-1
	best, err := again(rates[0])
	if err != nil || soak.Sub(found) <= 0 {
		return best, err
	}
	most := math.Max(1, addsLittle*mostUsed(best.Report))
	for lo < hi {
		mid := (lo + hi + 1) / 2
		x, err := again(rates[mid])
		if err != nil {
			return out, err
		}
		if mostUsed(x.Report) <= most {
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

// mostUsed is the greatest share of its limit that a tension uses up.
func mostUsed(rep *verify.Report) float64 {
	most := 0.0
	for _, p := range rep.Pieces {
		most = math.Max(most, p.Tension.Use)
	}
	return most
}

// rates are those tried for the heating, rising, in steps that can be keyed in.
func (c Case) rates() []unit.Rate {
	steps := []float64{5, 10, 15, 20, 30, 40, 50, 60, 80, 100, 120, 150, 200, 250, 300, 400, 500, 600, 800}
	most := min(c.Studio.Kiln.Heating, c.Studio.Controller.FastestKeyed())
	var out []unit.Rate
	for _, x := range steps {
		r := unit.KelvinPerHour(x)
		if c.Studio.Controller.Units == unit.US {
			r = unit.FahrenheitPerHour(2 * x)
		}
		if keyed, err := c.Studio.Controller.Rate(r); err == nil && (keyed <= most || len(out) == 0) {
			out = append(out, keyed)
		}
	}
	if len(out) == 0 {
		out = append(out, c.Studio.Controller.FastestKeyed())
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
func (c Case) follow(ctx context.Context, w *Way, s program.Schedule) error {
	if len(s.Segments) == 0 {
		s.Segments = []program.Segment{{Purpose: program.PurposeHold, To: s.From, Hold: time.Minute}}
	}
	s, err := s.Fulfilled(c.Studio)
	if err != nil {
		return err
	}
	w.Schedule, w.Lasts = s, s.As(&c.Studio.Kiln).Total()
	var r []kiln.Reading
	for _, p := range s.Followed(c.Studio).Points {
		r = append(r, kiln.Reading{At: unit.Kelvin(p.Temp), Time: unit.Seconds(p.Time)})
	}
	curve, err := kiln.NewCurve(r)
	if err != nil {
		return err
	}
	return c.judge(ctx, w, curve)
}

// judge simulates the past and what follows.
func (c Case) judge(ctx context.Context, w *Way, next kiln.Curve) (err error) {
	w.Report, err = verify.Replay(ctx, c.Past.Then(next), c.Load, c.Studio, c.Limits, true)
	return err
}
