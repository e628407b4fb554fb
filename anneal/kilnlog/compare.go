package kilnlog

import (
	"math"
	"slices"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// Followed is how a kiln followed its program. Times are those of the log; the
// program ran from Shift on.
type Followed struct {
	// Shift is when the program began, in times of the log. Aligned says that it
	// was found from the first ramp; otherwise both were taken to begin together.
	Shift   time.Duration
	Aligned bool
	Hottest Apart // where the kiln was furthest above the program
	Coldest Apart // where it was furthest below
	// Behind is where it was furthest below while the program rose: how far the
	// kiln lags when its elements drive it. A steady lag on the first ramp looks
	// like a late start, and is not in it. Its zero says that it did not lag, or
	// that the program never rises.
	Behind Apart
	Over   time.Duration
	Under  time.Duration // spent further from the program than the tolerance
	// Left is where the kiln first left the program for ten minutes or more; its
	// zero says that it did not.
	Left Apart
	// Arrivals are the ends of the program's ramps, with how much later than programmed
	// the kiln got there.
	Arrivals []Arrival
	// OtherScale says that the log is far above the program and would fit it if
	// its degrees were of the other scale: the person must say which they are.
	OtherScale Unit
}

// Apart is a moment at which kiln and program differ.
type Apart struct {
	At      time.Duration // in times of the log
	Read    unit.Temp
	Nominal unit.Temp
}

// By is how far the kiln is above the program.
func (a Apart) By() unit.Delta { return a.Read.Sub(a.Nominal) }

// Arrival is the end of a ramp of the program.
type Arrival struct {
	To      unit.Temp
	Nominal time.Duration // in times of the program
	Late    time.Duration // negative: early
	Reached bool
}

const (
	leftFor    = 10 * time.Minute // shorter departures are no leaving
	leastRamp  = 20.0             // [K] of a ramp that can align
	otherScale = 40.0             // [K] that the hottest readings may differ in the other scale
	farAbove   = 100.0            // [K] above which the other scale is asked for
	mostSteps  = 200_000
)

// Compare holds the log against a program given as the temperatures it tells at
// its times, from zero. If tolerance is zero it is 5 K.
//
// Log and program are aligned by the first ramp of the program: by when the log
// passes a quarter, half and three quarters of it. A program without a ramp of
// 20 K, or a log without it, is taken to begin with the log.
func (l *Log) Compare(program kiln.Curve, tolerance unit.Delta) Followed {
	var f Followed
	if tolerance <= 0 {
		tolerance = 5
	}
	f.OtherScale = l.otherScale(program)
	log, err := l.Curve()
	if err != nil {
		return f
	}
	f.Shift, f.Aligned = align(log, program)
	from, to := max(0, f.Shift+program.Start()), min(log.End(), f.Shift+program.End())
	if to <= from {
		return f
	}
	step := max(10*time.Second, (to-from)/mostSteps)
	var since time.Duration
	away := false
	for t := from; ; t += step {
		t = min(t, to)
		a := Apart{At: t, Read: log.Temp(t), Nominal: program.Temp(t - f.Shift)}
		by := a.By()
		if f.Hottest.Nominal.IsZero() || by > f.Hottest.By() {
			f.Hottest = a
		}
		if f.Coldest.Nominal.IsZero() || by < f.Coldest.By() {
			f.Coldest = a
		}
		if before := max(from, t-step) - f.Shift; by < min(0, f.Behind.By()) && program.Temp(before).Less(a.Nominal) {
			f.Behind = a
		}
		switch {
		case by > tolerance:
			f.Over += step
		case by < -tolerance:
			f.Under += step
		}
		if out := by > tolerance || by < -tolerance; out != away {
			away, since = out, t
		}
		if away && t-since >= leftFor && f.Left.Nominal.IsZero() {
			f.Left = Apart{At: since, Read: log.Temp(since), Nominal: program.Temp(since - f.Shift)}
		}
		if t >= to {
			break
		}
	}
	f.Arrivals = arrivals(log, program, f.Shift, tolerance)
	return f
}

// otherScale tells whether the log would fit the program in the other scale.
func (l *Log) otherScale(program kiln.Curve) Unit {
	hot := func(r []kiln.Reading) unit.Temp {
		return slices.MaxFunc(r, func(a, b kiln.Reading) int { return a.At.Compare(b.At) }).At
	}
	read, nominal := hot(l.Readings), hot(program.Points())
	near := func(t unit.Temp) bool { return math.Abs(float64(t.Sub(nominal))) <= otherScale }
	switch d := float64(read.Sub(nominal)); {
	case d > farAbove && near(unit.Fahrenheit(read.Celsius())):
		return Fahrenheit
	case d < -farAbove && near(unit.Celsius(read.Fahrenheit())):
		return Celsius
	}
	return NoUnit
}

// ramp is one stretch of a program between two temperatures.
type ramp struct{ from, to kiln.Reading }

// ramps returns the stretches of a program that rise or fall by the least that
// aligns, with what rises or falls on taken together.
func ramps(program kiln.Curve) []ramp {
	p := program.Points()
	var out []ramp
	for i := 1; i < len(p); i++ {
		d := float64(p[i].At.Sub(p[i-1].At))
		if math.Abs(d) >= leastRamp {
			out = append(out, ramp{p[i-1], p[i]})
		}
	}
	return out
}

// align returns when in the log the program began.
func align(log, program kiln.Curve) (shift time.Duration, ok bool) {
	all := ramps(program)
	if len(all) == 0 {
		return 0, false
	}
	r := all[0]
	var shifts []time.Duration
	end, ok := passed(log, r, 0.9, log.Start(), true)
	if !ok {
		return 0, false
	}
	for _, share := range []float64{0.25, 0.5, 0.75} {
		at, ok := passed(log, r, share, end, false)
		if !ok {
			return 0, false
		}
		nominal := r.from.Time + time.Duration(share*float64(r.to.Time-r.from.Time))
		shifts = append(shifts, at-nominal)
	}
	slices.Sort(shifts)
	return shifts[1].Round(time.Second), true
}

// passed returns when a curve passes a share of a ramp in the ramp's direction:
// the first time from at on, or the last time before at.
func passed(c kiln.Curve, r ramp, share float64, at time.Duration, first bool) (time.Duration, bool) {
	level := r.from.At.Kelvin() + share*float64(r.to.At.Sub(r.from.At))
	up := r.from.At.Less(r.to.At)
	p := c.Points()
	found, ok := time.Duration(0), false
	for i := 1; i < len(p); i++ {
		a, b := p[i-1].At.Kelvin(), p[i].At.Kelvin()
		if up && !(a < level && b >= level) || !up && !(a > level && b <= level) {
			continue
		}
		t := p[i-1].Time + time.Duration((level-a)/(b-a)*float64(p[i].Time-p[i-1].Time))
		if first && t >= at {
			return t, true
		}
		if !first && t <= at {
			found, ok = t, true
		}
	}
	return found, ok
}

// arrivals says when the log reached the ends of the program's ramps, within
// the tolerance.
func arrivals(log, program kiln.Curve, shift time.Duration, tolerance unit.Delta) []Arrival {
	var out []Arrival
	for _, r := range ramps(program) {
		a := Arrival{To: r.to.At, Nominal: r.to.Time}
		size := math.Abs(float64(r.to.At.Sub(r.from.At)))
		// Just before the end, so that noise and a slow controller do not keep
		// the kiln from arriving; the same for the program.
		share := math.Max(0.5, 1-float64(tolerance)/size)
		nominal := r.from.Time + time.Duration(share*float64(r.to.Time-r.from.Time))
		begin, seen := passed(log, r, 0.25, shift+r.from.Time-6*time.Hour, true)
		if !seen {
			begin = shift + r.from.Time
		}
		at, ok := passed(log, r, share, begin, true)
		if a.Reached = ok; ok {
			a.Late = (at - shift - nominal).Round(time.Second)
		}
		out = append(out, a)
	}
	return out
}
