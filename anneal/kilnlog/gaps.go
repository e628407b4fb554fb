package kilnlog

import (
	"math"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// Way is what a kiln may have done while nothing was logged.
type Way int

// The ways through a gap.
const (
	Even           Way = iota // a straight line
	HeldThenFell              // it stayed, then fell by itself to the reading after
	FellThenHeated            // it fell by itself, then was heated back to the reading after
)

// Ways are all of them, the even one first. A verdict that differs between them
// depends on what nobody logged.
var Ways = []Way{Even, HeldThenFell, FellThenHeated}

// CurveBy is Curve with every gap passed in one way. k says how fast the kiln
// falls and heats. A gap that the kiln cannot have passed in that way is passed
// evenly.
//
// Errors: as Curve.
func (l *Log) CurveBy(way Way, k kiln.Kiln) (kiln.Curve, error) {
	c, err := l.Curve()
	if err != nil || way == Even {
		return c, err
	}
	var out []kiln.Reading
	points := c.Points()
	gaps := l.gaps()
	for _, p := range points {
		for len(gaps) > 0 && p.Time >= gaps[0].To.Time {
			g := gaps[0]
			gaps = gaps[1:]
			g.From.At, g.To.At = c.Temp(g.From.Time), c.Temp(g.To.Time)
			out = appendLater(out, g.From)
			for _, q := range g.passed(way, k) {
				out = appendLater(out, q)
			}
			out = appendLater(out, g.To)
		}
		out = appendLater(out, p)
	}
	c, err = kiln.NewCurve(out)
	if err != nil {
		return c, &Error{Name: l.Name, Message: err.Error()}
	}
	return c, nil
}

func appendLater(out []kiln.Reading, p kiln.Reading) []kiln.Reading {
	if n := len(out); n > 0 && p.Time <= out[n-1].Time {
		return out
	}
	return append(out, p)
}

// gaps returns every gap, in order of time.
func (l *Log) gaps() []Gap {
	var out []Gap
	for i := 1; i < len(l.Readings); i++ {
		if isGap(l.Readings[i].Time-l.Readings[i-1].Time, l.Account.Interval) {
			out = append(out, Gap{l.Readings[i-1], l.Readings[i]})
		}
	}
	return out
}

// passed returns the points between the ends of a gap, or none if the kiln
// cannot have gone that way.
func (g Gap) passed(way Way, k kiln.Kiln) []kiln.Reading {
	long := g.Length()
	after := func(points []kiln.Reading, from time.Duration) []kiln.Reading {
		var out []kiln.Reading
		for _, p := range points {
			p.Time += from
			if p.Time > g.From.Time && p.Time < g.To.Time {
				out = append(out, p)
			}
		}
		return out
	}
	switch way {
	case HeldThenFell:
		s := k.Fall.Time(g.From.At, g.To.At, unit.Rate(math.Inf(1)))
		if s <= 0 || !(s < long.Seconds()) {
			return nil
		}
		fall := unit.Seconds(s)
		return after(k.Fall.Curve(g.From.At, fall).Points(), g.To.Time-fall)
	case FellThenHeated:
		// The longest fall from which the kiln is still heated back in time.
		reach := func(d time.Duration) bool {
			low := k.Fall.After(g.From.At, d)
			return k.Ramp(low, g.To.At, unit.Rate(math.Inf(1))) <= (long - d).Seconds()
		}
		if !(g.To.At.Compare(k.Fall.After(g.From.At, long)) >= 0) || !reach(0) && !g.To.At.Less(g.From.At) {
			return nil
		}
		low, high := time.Duration(0), long
		if g.To.At.Less(g.From.At) { // it fell at least that far
			low = k.Fall.Alone(g.From.At, g.To.At)
		}
		for range 50 {
			if mid := low + (high-low)/2; reach(mid) {
				low = mid
			} else {
				high = mid
			}
		}
		if low < time.Second {
			return nil
		}
		return after(k.Fall.Curve(g.From.At, low).Points(), g.From.Time)
	}
	return nil
}

// What takes the verdict on tension away.
const (
	bentGap  = 30 * time.Minute
	evenGap  = time.Hour
	bendRate = 20.0 / 3600 // [K/s] by which the rates beside a gap differ
)

// hotGap is where an even gap begins to matter.
var hotGap = unit.Celsius(300)

// Decisive returns the gaps across which nothing can be said of the tension:
// longer than half an hour with a change of rate within, or longer than an hour
// above 300 °C. The stress left needs the log only where the glass sets.
//
// Source: replays of simulated nights with gaps: no effect up to an hour on one
// ramp, 2 to 4 % across a change of rate, 8 % across the peak [derived].
func (l *Log) Decisive() []Gap {
	var out []Gap
	for _, g := range l.gaps() {
		d := g.Length()
		rate := func(from, to time.Duration) float64 {
			return float64(fitRate(between(l.Readings, from, to), l.Account.Step).Rate)
		}
		before, after := rate(g.From.Time-rateOver, g.From.Time), rate(g.To.Time, g.To.Time+rateOver)
		even := float64(g.To.At.Sub(g.From.At)) / d.Seconds()
		bends := math.Abs(before-after) > bendRate || math.Abs(before-even) > bendRate
		hot := hotGap.Less(g.From.At) || hotGap.Less(g.To.At)
		if d > bentGap && bends || d > evenGap && hot {
			out = append(out, g)
		}
	}
	return out
}

// apartNights is how long nothing may be logged within one night.
const apartNights = 6 * time.Hour

// Nights cuts a log into its firings: from where the kiln rises above cold to
// where it has come below it again, with the readings beside. A stretch of six
// hours without readings ends one, too. A log that never rises above cold has
// none. The account of each is that of the whole log.
func (l *Log) Nights(cold unit.Temp) []*Log {
	var out []*Log
	r := l.Readings
	begin := -1
	cut := func(end int) {
		if begin < 0 {
			return
		}
		n := &Log{Name: l.Name, Known: l.Known, Account: l.Account, lines: l.lines[begin:end]}
		if l.Known != Nothing {
			n.Start = l.Start.Add(r[begin].Time)
		}
		n.Readings = make([]kiln.Reading, end-begin)
		for i := range n.Readings {
			n.Readings[i] = kiln.Reading{At: r[begin+i].At, Time: r[begin+i].Time - r[begin].Time}
		}
		out = append(out, n)
		begin = -1
	}
	for i := range r {
		late := i > 0 && r[i].Time-r[i-1].Time > apartNights
		if late {
			cut(i)
		}
		hot := cold.Less(r[i].At)
		switch {
		case hot && begin < 0:
			begin = i
			if i > 0 && !late {
				begin = i - 1
			}
		case !hot && begin >= 0 && i > begin:
			cut(i + 1)
		}
	}
	cut(len(r))
	return out
}
