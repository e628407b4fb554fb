package verify

import (
	"context"
	"math"
	"sort"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// Replay simulates what a kiln really did, straight lines between readings, in
// every piece of the load and judges it by the limits, or those of the studio
// where they are zero. The pieces are taken to lie in the kiln from time zero of
// the curve on. ended says that the curve reaches the end of the firing; a night
// that is not over is judged so far, and what follows is not.
//
// The soak of a piece ends where the kiln leaves, for the last time, the
// temperature at which the glass relaxed most. Time at
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
	pieces, err := f.simulateAll(ctx, l.Pieces, sim.Settings{}, nil, true)
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
	return AsBodies(ctx, rep)
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

// newReplay prepares what a kiln did for the pieces that saw it: exactly as logged,
// whatever the kiln is said to be able to.
func newReplay(s program.Schedule, st kiln.Studio, l *piece.Load, limits kiln.Limits, ended bool) firing {
	st.Kiln.HeatingGiven, st.Kiln.Measured = false, false
	f := newFiring(s, st, l, limits)
	f.replayed = true
	f.finished = ended
	return f
}

// What tells a soak in what a kiln did.
const (
	soakStep = 1.0 // [K] between the temperatures that are told apart
	soakNear = 1.0 // [K] below the soak, as readings are off by
	soakDip  = 300 // [s] that an opened kiln may be colder within a soak
)

// soakedUntil is soakMark for what a kiln did: the last time that it had the
// temperature at which the glass relaxed most, in the last stretch in which it
// relaxed at all. Half of the flow happened at that temperature or above. A kiln
// that never came there is asked what was relaxed by the end.
func (f firing) soakedUntil(p piece.Piece) (mark float64, even, ok bool) {
	low, _, err := piece.SoakRange(p.Glass)
	if err != nil {
		return f.kinks[len(f.kinks)-1], false, f.cools
	}
	q := stepped(f.timeline.Points)
	end, begin := -1, 0
	for i := len(q) - 1; i > 0; i-- {
		if q[i].Temp < low.Kelvin() {
			continue
		}
		if end < 0 {
			end, begin = i, i
		}
		if begin-i > 1 && q[begin].Time-q[i].Time > soakDip {
			break
		}
		begin = i
	}
	if end < 0 {
		return f.kinks[len(f.kinks)-1], false, f.cools
	}
	type flow struct{ kelvin, amount float64 }
	var flows []flow
	whole := 0.0
	for i := max(begin, 1); i <= end; i++ {
		middle := (q[i].Temp + q[i-1].Temp) / 2
		amount := fluidity(p.Glass, unit.Kelvin(middle)) * (q[i].Time - q[i-1].Time)
		flows, whole = append(flows, flow{middle, amount}), whole+amount
	}
	sort.Slice(flows, func(i, j int) bool { return flows[i].kelvin > flows[j].kelvin })
	level, sum := low.Kelvin(), 0.0
	for _, x := range flows {
		if sum += x.amount; sum >= whole/2 {
			level = x.kelvin - soakNear
			break
		}
	}
	for ; end > begin && q[end].Temp < level; end-- {
	}
	return q[end].Time, true, true
}

// stepped returns points with others between, so that no two are further apart
// than a step of temperature.
func stepped(p []program.Point) []program.Point {
	out := p[:1:1]
	for i := 1; i < len(p); i++ {
		a, b := p[i-1], p[i]
		n := math.Max(1, math.Ceil(math.Abs(b.Temp-a.Temp)/soakStep))
		for k := 1.0; k <= n; k++ {
			out = append(out, program.Point{Time: a.Time + (b.Time-a.Time)*k/n, Temp: a.Temp + (b.Temp-a.Temp)*k/n})
		}
	}
	return out
}

// held returns how long a piece is above its strain point, ramps and the time
// before the program counted, in whole minutes that have passed.
func (f firing) held(p piece.Piece) time.Duration {
	strain := p.Glass.Strain.Temp().Kelvin()
	held := unit.Seconds(math.Floor(f.above(strain)/60+rounding) * 60)
	if f.schedule.From.Kelvin() >= strain {
		held += p.In
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
	rep.Assumptions.Add(finding.Of(finding.WorstVariants))
	rep.sayGivenLimits()
	if !f.finished {
		rep.Notes.Add(finding.Of(finding.LogEndsHot).At(rep.Schedule.Last()))
	}
	for i, r := range rep.Pieces {
		rep.explainPiece(f, i, r)
	}
	rep.explainFlame(f)
	rep.sayOneGlass()
	for _, s := range sources {
		rep.Sources.Add(s)
	}
}
