package program

import (
	"math"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// Point is one knot of the kiln's temperature in time.
type Point struct {
	Time float64 // [s]
	Temp float64 // [K]
}

// Span is a segment in time.
type Span struct {
	From       unit.Temp
	Start      float64 // [s]
	RampEnds   float64 // [s]
	End        float64 // [s]
	ByItself   bool    // the kiln could not fall as fast as programmed
	Overshoots bool    // the kiln could not heat as fast as programmed
	Late       float64 // how much longer the ramp takes than programmed [s]
}

// Timeline is what the kiln does with a schedule.
type Timeline struct {
	Points []Point // piecewise linear
	Spans  []Span  // one per segment
}

// Total returns the length of the program.
func (t Timeline) Total() time.Duration {
	return unit.Seconds(t.Points[len(t.Points)-1].Time)
}

// Curve returns the temperatures as a curve.
//
// Errors: those of [kiln.NewCurve].
func (t Timeline) Curve() (kiln.Curve, error) {
	var r []kiln.Reading
	for _, p := range t.Points {
		r = append(r, kiln.Reading{At: unit.Kelvin(p.Temp), Time: unit.Seconds(p.Time)})
	}
	return kiln.NewCurve(r)
}

// At returns the kiln's temperature [K] at a time [s].
func (t Timeline) At(s float64) float64 {
	p := t.Points
	lo, hi := 0, len(p)-1
	if s <= p[0].Time {
		return p[0].Temp
	}
	if s >= p[hi].Time {
		return p[hi].Temp
	}
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; p[mid].Time <= s {
			lo = mid
		} else {
			hi = mid
		}
	}
	a, b := p[lo], p[hi]
	return a.Temp + (b.Temp-a.Temp)*(s-a.Time)/(b.Time-a.Time)
}

// NearRoom is how close to the room a kiln counts as having reached it: by
// itself it never quite does.
const NearRoom unit.Delta = 3

// aboveRoom returns t, or the temperature at which the room counts as reached
// if t is below it.
func aboveRoom(t unit.Temp, k kiln.Kiln) unit.Temp {
	if least := k.Fall.Room.Add(NearRoom); t.Less(least) {
		return least
	}
	return t
}

// As runs the schedule: exactly as programmed when k is nil, else as the kiln k can
// follow, waiting at the end of each ramp until its target is reached. With no
// kiln, as fast as one can is as fast as [kiln.Default].
func (s Schedule) As(k *kiln.Kiln) Timeline {
	if k == nil {
		return s.run(kiln.Default(), false, false)
	}
	return s.run(*k, true, true)
}

// run is the schedule in a kiln whose limits count only where it heats or falls
// as said; elsewhere it obeys.
func (s Schedule) run(k kiln.Kiln, heats, falls bool) Timeline {
	at := s.From
	w := walk{kiln: k, tl: Timeline{Points: []Point{{0, at.Kelvin()}}}}
	for _, seg := range s.Segments {
		span := Span{From: at, Start: w.now}
		d := seg.To.Sub(at)
		limits := d < 0 && falls || d > 0 && heats
		// A rate beside full is what a kiln was taken to do: the word of an
		// owner who measured it counts more.
		full := seg.Full && (seg.Rate == 0 || limits && (d < 0 || k.HeatingGiven))
		switch nominal := seg.nominalTime(d); {
		case d == 0 || seg.Rate == 0 && !full:
		case !full && (!limits || d > 0 && seg.Rate <= k.SlowestHeating(at, seg.To)):
			w.put(nominal, seg.To)
		default:
			w.follow(&span, seg, nominal, full)
		}
		at = seg.To
		span.RampEnds = w.now
		w.put(seg.Hold.Seconds(), at)
		span.End = w.now
		w.tl.Spans = append(w.tl.Spans, span)
	}
	return w.tl
}

// nominalTime is how long a ramp over a difference takes at the rate of the
// segment [s], 0 without one.
func (seg Segment) nominalTime(d unit.Delta) float64 {
	if seg.Rate == 0 {
		return 0
	}
	return float64(d) / float64(seg.Rate)
}

// walk is a timeline that grows in a kiln.
type walk struct {
	kiln kiln.Kiln
	tl   Timeline
	now  float64 // [s]
}

// put goes on to a temperature in dt seconds.
func (w *walk) put(dt float64, to unit.Temp) {
	if dt <= 0 {
		return
	}
	w.now += dt
	w.tl.Points = append(w.tl.Points, Point{w.now, to.Kelvin()})
}

// follow goes the ramp of a segment as the kiln can, which may take longer than
// told [s]; full asks for as fast as it can.
func (w *walk) follow(span *Span, seg Segment, nominal float64, full bool) {
	at, d := span.From, float64(seg.To.Sub(span.From))
	goal, rate := seg.To, seg.Rate
	if d < 0 {
		goal = aboveRoom(seg.To, w.kiln)
	}
	if full {
		rate = unit.Rate(math.Copysign(math.Inf(1), d))
	}
	const pieces = 24
	from, drop := at, goal.Sub(at)
	for i := 1; i <= pieces && float64(drop)*d > 0; i++ {
		to := at.Add(drop * unit.Delta(i) / pieces)
		w.put(w.kiln.Ramp(from, to, rate), to)
		from = to
	}
	// What lies below the room is taken to be obeyed.
	if rest := nominal - (w.now - span.Start); rest > 1e-6 && (!seg.Full || w.now == span.Start) {
		w.put(rest, seg.To)
	}
	if late := w.now - span.Start - nominal; !seg.Full && late > nominal*0.001+1 {
		span.Late, span.ByItself, span.Overshoots = late, d < 0, d > 0
	}
}

// When returns the time in a monotone stretch at which a temperature is met.
func (t Timeline) When(kelvin, from, to float64) float64 {
	falls := t.At(to) < t.At(from)
	for range 60 {
		mid := (from + to) / 2
		if (t.At(mid) > kelvin) == falls {
			from = mid
		} else {
			to = mid
		}
	}
	return to
}
