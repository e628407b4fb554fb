package verify

import (
	"context"
	"math"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/glass/unit"
)

// Replay simulates what a kiln really did, straight lines between readings, in
// every piece of the load and judges it by the limits, or those of the studio
// where they are zero. The pieces are taken to lie in the kiln from time zero of
// the curve on. ended says that the curve reaches the end of the firing; a night
// that is not over is judged so far, and what follows is not.
//
// The soak of a piece ends where the kiln leaves, for the last time, the
// temperature that it had most of the time that the glass was relaxing. Time at
// temperature counts ramps too. The kiln's own fall and heating do not matter
// here: nothing is taken to lag.
//
// Errors as [Program].
func Replay(ctx context.Context, c kiln.Curve, l *piece.Load, st kiln.Studio, limits kiln.Limits, ended bool) (*Report, error) {
	limits = limits.Or(st.Limits)
	if err := limits.Check(); err != nil {
		return nil, err
	}
	s := lines(c)
	if err := s.Check(); err != nil {
		return nil, err
	}
	f := newReplay(s, st, l, limits, ended)
	pieces, err := f.simulateAll(ctx, l.Pieces, DefaultSettings, nil)
	if err != nil {
		return nil, err
	}
	rep := &Report{Load: l, Studio: st, Limits: limits, Schedule: s, Pieces: pieces, Within: true, Replayed: true,
		Actual: f.timeline, Nominal: f.timeline}
	for i := range rep.Pieces {
		r := &rep.Pieces[i]
		r.judge(limits)
		rep.Within = rep.Within && r.Within
	}
	rep.explainReplay(f)
	return rep, nil
}

// lines returns a curve as a schedule, one segment for each line.
func lines(c kiln.Curve) program.Schedule {
	p := c.Points()
	s := program.Schedule{From: c.Temp(0)}
	at, temp := time.Duration(0), s.From
	for _, q := range p {
		if q.Time <= at {
			continue
		}
		seg := program.Segment{To: q.At}
		if d := q.At.Sub(temp); d != 0 {
			seg.Rate = unit.Rate(float64(d) / (q.Time - at).Seconds())
		} else {
			seg.Hold = q.Time - at
		}
		s.Segments = append(s.Segments, seg)
		at, temp = q.Time, q.At
	}
	return s
}

// newReplay prepares what a kiln did for the pieces that saw it: exactly as told,
// whatever the kiln is said to be able to.
func newReplay(s program.Schedule, st kiln.Studio, l *piece.Load, limits kiln.Limits, ended bool) firing {
	st.Kiln.HeatingGiven, st.Kiln.Measured = false, false
	f := newFiring(s, st, l, limits)
	f.replayed = true
	f.finished = ended
	return f
}

// soakedUntil is soakMark for what a kiln did: the last time that it had the
// middle one of the temperatures at which the glass relaxed, in the stretch in
// which it did so for the last time. A kiln that never came there is asked what
// was relaxed by the end.
func (f firing) soakedUntil(p piece.Piece) (mark float64, even, ok bool) {
	const near = 2.0 // [K] below, as readings are off by
	low, _, err := piece.SoakRange(p.Glass)
	q := f.timeline.Points
	type stay struct{ kelvin, seconds float64 }
	var stays []stay
	end := -1
	for i := len(q) - 1; err == nil && i > 0; i-- {
		middle := (q[i].Temp + q[i-1].Temp) / 2
		if middle < low.Kelvin() {
			if end >= 0 && q[end].Time-q[i].Time >= 60 {
				break
			}
			continue
		}
		if end < 0 {
			end = i
		}
		stays = append(stays, stay{middle, q[i].Time - q[i-1].Time})
	}
	if end < 0 {
		return f.kinks[len(f.kinks)-1], false, f.cools
	}
	slices.SortFunc(stays, func(a, b stay) int {
		switch {
		case a.kelvin < b.kelvin:
			return -1
		case a.kelvin > b.kelvin:
			return 1
		}
		return 0
	})
	whole, sum := 0.0, 0.0
	for _, s := range stays {
		whole += s.seconds
	}
	level := 0.0
	for _, s := range stays {
		if sum += s.seconds; sum >= whole/2 {
			level = s.kelvin - near
			break
		}
	}
	for i := end; i > 0; i-- {
		a, b := q[i-1], q[i]
		if b.Temp >= level {
			return b.Time, true, true
		}
		if a.Temp > level {
			return a.Time + (a.Temp-level)/(a.Temp-b.Temp)*(b.Time-a.Time), true, true
		}
	}
	return q[end].Time, true, true
}

// held returns how long a piece was kept where it relaxes: the holds of a
// program, or all the time that a kiln really was there.
func (f firing) held(p piece.Piece) time.Duration {
	low, _, err := piece.SoakRange(p.Glass)
	if err != nil {
		return 0
	}
	if f.replayed {
		return unit.WholeMinutes(unit.Seconds(math.Floor(f.above(low.Kelvin())/60) * 60))
	}
	var held time.Duration
	for _, s := range f.schedule.Segments {
		if !s.To.Less(low) {
			held += s.Hold
		}
	}
	return held
}

// explainReplay lists what the report of a night must say about its own footing.
func (rep *Report) explainReplay(f firing) {
	if len(f.offsets) > 1 {
		rep.Assumptions.Add(finding.Of(finding.PlacesDiffer).Apart(unit.Delta(f.offsets[1])))
	} else {
		rep.Assumptions.Add(finding.Of(finding.PlacesEven))
	}
	rep.Assumptions.Add(finding.Of(finding.WorstReadings))
	if !f.finished {
		rep.Notes.Add(finding.Of(finding.LogEndsHot).At(rep.Schedule.Last()))
	}
	for i, r := range rep.Pieces {
		rep.explainPiece(f, i, r)
	}
	rep.Assumptions.Add(finding.Of(finding.OneGlass))
	for _, s := range sources {
		rep.AddSource(s)
	}
}
