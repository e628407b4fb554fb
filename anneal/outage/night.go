package outage

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/program"
	"lehr/anneal/rescue"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// Night is what may have happened until now, and the kiln in which it goes on.
type Night struct {
	Studio kiln.Studio
	Past   kiln.Curve // from when the pieces went in to now
}

// leastDrop is how far a kiln must have fallen between two readings for them to
// tell how it falls: two readings may be wrong by some kelvins each.
//
// Source: common practice; no published figure.
const leastDrop = unit.Delta(50)

// slowsBy is by how much longer a time constant may be below a reading than above
// it: walls that are warmed through give up their heat last.
//
// Source: common practice, half as long again; no published figure.
const slowsBy = 1.5

// Nights returns the nights that it may have been, when nobody logged them. Each
// is as [pastCurve] has it, in a kiln as measured; in one that falls as it did between
// two readings whose hours are known, or slower from there on; else in those that
// a kiln which nobody measured may be.
//
// Errors as [pastCurve].
func Nights(s program.Schedule, st kiln.Studio, failed, found unit.Temp, before, after time.Duration) ([]Night, error) {
	var fell []kiln.Fall
	if f, ok := fallBetween(st.Kiln.Fall.Room, failed, found, after); ok && failed.Sub(found) >= leastDrop {
		fell = append(fell, f)
	}
	var out []Night
	for _, as := range studios(st, fell) {
		past, err := pastCurve(s, as, failed, found, before, after)
		if err != nil {
			return nil, err
		}
		out = append(out, Night{as, past})
	}
	return out, nil
}

// Logged returns the nights that go on from a past that is known. fell is how the
// kiln fell in it; without one it is as [Nights] has it.
func Logged(past kiln.Curve, st kiln.Studio, fell ...kiln.Fall) []Night {
	var out []Night
	for _, as := range studios(st, fell) {
		out = append(out, Night{as, past})
	}
	return out
}

// studios are the kilns that this one may be from now on.
func studios(st kiln.Studio, fell []kiln.Fall) []kiln.Studio {
	out := []kiln.Studio{st}
	as := func(f kiln.Fall) kiln.Studio {
		st := st
		st.Kiln.Measured, st.Kiln.Fall = true, f
		return st
	}
	switch {
	case st.Kiln.Measured:
	case len(fell) > 0:
		out = nil
		for _, f := range fell {
			out = append(out, as(f), as(f.Faster(1/slowsBy)))
		}
	default:
		for _, tau := range kiln.Falls() {
			out = append(out, as(kiln.Fall{TimeConstant: tau, Room: st.Kiln.Fall.Room}))
		}
	}
	return out
}

// fallBetween is the natural fall that takes a time from one reading to another.
func fallBetween(room, failed, found unit.Temp, after time.Duration) (kiln.Fall, bool) {
	if after <= 0 || !room.Less(found) || !found.Less(failed) {
		return kiln.Fall{}, false
	}
	return kiln.FallBetween(room, failed, found, after), true
}

// upTo is a program until it is as hot as a temperature, at least for a minute.
func upTo(p []program.Point, failed unit.Temp) []kiln.Reading {
	out := []kiln.Reading{{At: unit.Kelvin(p[0].Temp)}}
	at := 0.0
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		if b.Temp > failed.Kelvin() {
			if b.Temp > a.Temp && failed.Kelvin() > a.Temp {
				at = a.Time + (failed.Kelvin()-a.Temp)/(b.Temp-a.Temp)*(b.Time-a.Time)
			}
			break
		}
		if at = b.Time; unit.Seconds(at) > out[len(out)-1].Time {
			out = append(out, kiln.Reading{At: unit.Kelvin(b.Temp), Time: unit.Seconds(at)})
		}
	}
	end := max(unit.Seconds(at), time.Minute)
	if last := &out[len(out)-1]; len(out) > 1 && last.Time >= end {
		last.At = failed
		return out
	}
	return append(out, kiln.Reading{At: failed, Time: end})
}

// each simulates the load in every night.
func (c Case) each(ctx context.Context, curve func(Night) (kiln.Curve, error)) ([]*verify.Report, error) {
	out := make([]*verify.Report, len(c.Nights))
	err := parallel.Each(ctx, len(out), func(i int) error {
		q, err := curve(c.Nights[i])
		if err != nil {
			return err
		}
		out[i], err = verify.Replay(ctx, q, c.Load, c.Nights[i].Studio, c.Limits, true)
		return err
	})
	return out, err
}

// worst is the report that uses its limits most, with whatever is worse in another
// put in its place, piece by piece.
func worst(reports []*verify.Report) *verify.Report {
	most := slices.MaxFunc(reports, func(x, y *verify.Report) int {
		if x.Verdict() != y.Verdict() {
			return int(x.Verdict() - y.Verdict())
		}
		return int(1000 * (greatest(x) - greatest(y)))
	})
	out := *most
	out.Studio, out.Pieces = reports[0].Studio, slices.Clone(most.Pieces)
	for i := range out.Pieces {
		p := &out.Pieces[i]
		p.Over = slices.Clone(p.Over)
		for _, rep := range reports {
			q := rep.Pieces[i]
			for _, f := range q.Over {
				worseFinding(&p.Over, f, p, q)
			}
			if q.Tension.Use > p.Tension.Use {
				p.Tension = q.Tension
			}
			if q.ResidualJudged && q.ResidualTension.Use > p.ResidualTension.Use {
				p.ResidualTension = q.ResidualTension
			}
			if q.Opening.Use > p.Opening.Use {
				p.Opening, p.Opened = q.Opening, q.Opened
			}
			p.Within = p.Within && q.Within
		}
		out.Within = out.Within && p.Within
	}
	return &out
}

// worseFinding takes over what another kiln exceeds: a limit that is exceeded is
// not called unproven, too, and of two times above the strain point the longer
// counts.
func worseFinding(over *finding.List, f finding.Finding, p *verify.PieceReport, q verify.PieceReport) {
	surer := map[finding.Kind]finding.Kind{finding.OverTension: finding.UnprovenTension, finding.OverResidual: finding.UnprovenResidual}
	for u, v := range surer {
		if f.Kind == v && over.Has(u) {
			return
		}
		if f.Kind == u {
			*over = slices.DeleteFunc(*over, func(g finding.Finding) bool { return g.Kind == v })
		}
	}
	for i, g := range *over {
		if g.Kind == f.Kind {
			if f.Time > g.Time || f.Kind == finding.OverTension && q.Tension.Use > p.Tension.Use || f.Kind == finding.OverOpening && q.Opening.Use > p.Opening.Use || f.Kind == finding.OverResidual && q.ResidualTension.Use > p.ResidualTension.Use {
				(*over)[i] = f
			}
			return
		}
	}
	over.Add(f)
}

// greatest is the greatest share of a limit that a report uses up.
func greatest(rep *verify.Report) (most float64) {
	for _, p := range rep.Pieces {
		most = math.Max(most, p.Tension.Use)
		if p.ResidualJudged {
			most = math.Max(most, p.ResidualTension.Use)
		}
	}
	return most
}

// weigh notes which share of their limits the way uses up: of tension without what
// has been there already, which is no difference between ways.
func (w *Way) weigh(reports, pasts []*verify.Report) {
	for n, rep := range reports {
		for i, p := range rep.Pieces {
			if p.Tension.Use > pasts[n].Pieces[i].Tension.Use*1.001 {
				w.tension = math.Max(w.tension, p.Tension.Use)
			}
			if p.ResidualJudged {
				w.residual = math.Max(w.residual, p.ResidualTension.Use)
			}
		}
	}
}

// pastCurve returns what the pieces saw when nobody logged it: the program up to the
// temperature at which the power failed, then a fall to the temperature found. The
// fall lasts as long as given, or as long as this kiln takes when after is zero.
// before is how long the program ran, which counts if the power failed in the
// soak; if it is zero the soak is taken to be over.
//
// Errors: *rescue.StateError for temperatures that do not go together.
func pastCurve(s program.Schedule, st kiln.Studio, failed, found unit.Temp, before, after time.Duration) (kiln.Curve, error) {
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
	f, fell := fallBetween(fall.Room, failed, found, after)
	switch {
	case fell:
		fall = f
	case after == 0:
		after = fall.Alone(failed, found)
	}
	if after < time.Second {
		return ran, nil
	}
	return ran.Then(fall.Curve(failed, after)), nil
}

// Rising reports whether a program that ran for a time was on its way up to its soak
// when the power failed. One of which nobody knows how long it ran was not.
func Rising(s program.Schedule, st kiln.Studio, failed unit.Temp, ran time.Duration) bool {
	s, err := s.Fulfilled(st)
	if err != nil || ran <= 0 {
		return false
	}
	p := s.Followed(st).Points
	hot := hottest(p)
	return failed.Kelvin() < p[hot].Temp-soakNear && ran.Seconds() < p[hot].Time
}

// NeverSoaked reports whether a kiln in its past never came as hot as the soak of a
// program, but for what its probe or the hand that read it may be off.
func NeverSoaked(past kiln.Curve, s program.Schedule) bool {
	for _, p := range past.Points() {
		if s.Hottest().Sub(p.At) <= 4*soakNear {
			return false
		}
	}
	return true
}

// soakNear is by how much a reading in the soak may be below it [K].
const soakNear = 5

// hottest is the first point at which a program is as hot as it gets.
func hottest(p []program.Point) (first int) {
	for i := range p {
		if p[i].Temp > p[first].Temp+1e-6 {
			first = i
		}
	}
	return first
}

// until is a program up to where it comes down to a temperature, or up to it if the
// power failed on the way to the soak; one that never is as hot is held there for
// as long as it ran.
func until(s program.Schedule, st kiln.Studio, failed unit.Temp, before time.Duration) (kiln.Curve, error) {
	s, err := s.Fulfilled(st)
	if err != nil {
		return kiln.Curve{}, err
	}
	p := s.Followed(st).Points
	if Rising(s, st, failed, before) {
		return kiln.NewCurve(upTo(p, failed))
	}
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
