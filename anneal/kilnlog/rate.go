package kilnlog

import (
	"math"
	"sort"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// line is a straight line fitted to readings by least squares.
type line struct {
	mean, slope float64 // [K], [K/s]
	mid         float64 // [s], where the line has its mean
	sd          float64 // of the readings about it [K]
	spread      float64 // root of the sum of squares of the times about mid [s]
}

func (l line) at(t time.Duration) float64 { return l.mean + l.slope*(t.Seconds()-l.mid) }

// fitLine fits a line to one reading or more.
func fitLine(r []kiln.Reading) line {
	n := float64(len(r))
	t0, x0 := r[0].Time, r[0].At
	st, sx := 0.0, 0.0
	for _, p := range r {
		st += (p.Time - t0).Seconds()
		sx += float64(p.At.Sub(x0))
	}
	mt, mx := st/n, sx/n
	stt, stx, sxx := 0.0, 0.0, 0.0
	for _, p := range r {
		t, x := (p.Time-t0).Seconds()-mt, float64(p.At.Sub(x0))-mx
		stt += t * t
		stx += t * x
		sxx += x * x
	}
	l := line{mean: x0.Kelvin() + mx, mid: t0.Seconds() + mt, spread: math.Sqrt(stt)}
	if stt > 0 {
		l.slope = stx / stt
	}
	if len(r) > 2 {
		l.sd = math.Sqrt(math.Max(0, sxx-l.slope*stx) / (n - 2))
	}
	return l
}

// Rate is a rate fitted to readings, with its standard error.
type Rate struct {
	Rate     unit.Rate
	Error    unit.Rate // one standard deviation, never below what the display's step makes
	Readings int
	From, To time.Duration
}

// fitRate fits a straight line through readings by least squares and returns
// its slope. step is the step of the display, 0 if it shows none.
//
//	error = max(sd, step/√12) / √Σ(t − t̄)²
//
// A rate that is differenced instead is off by ±24 °C/h when a display of whole
// degrees is read every minute; fitted over half an hour, by ±0.35 °C/h.
//
// Valid: two readings or more; zero for fewer.
//
// Checked: testdata/cases/kiln-logs.toml
func fitRate(r []kiln.Reading, step unit.Delta) Rate {
	if len(r) < 2 {
		return Rate{}
	}
	l := fitLine(r)
	sd := math.Max(l.sd, float64(step)/math.Sqrt(12))
	return Rate{Rate: unit.Rate(l.slope), Error: unit.Rate(sd / l.spread), Readings: len(r), From: r[0].Time, To: r[len(r)-1].Time}
}

// rateOver is how long a stretch must be for its rate to be told.
const rateOver = 30 * time.Minute

// Passage is how the kiln went through a range of temperatures.
type Passage struct {
	From, To time.Duration // when it left the one end, and reached the other
	Rate     Rate          // of the whole way
	// Fastest is the greatest rate over half an hour within it, that of the
	// whole way if it took less.
	Fastest Rate
	// Gap is the longest stretch without readings on the way.
	Gap time.Duration
}

// Through returns how the kiln went down through a range of temperatures for
// the last time: from the last reading above high to the first reading below
// low after it. ok is false if it did not.
func (l *Log) Through(high, low unit.Temp) (p Passage, ok bool) {
	r := l.Readings
	// The last time below low after having been above high.
	to, from := -1, -1
	above := -1
	for i := range r {
		switch {
		case high.Less(r[i].At):
			above = i
		case r[i].At.Less(low) && above >= 0:
			from, to, above = above, i, -1
		}
	}
	if to < 0 {
		return Passage{}, false
	}
	return l.passage(from, to), true
}

// passage measures the readings from one to another, ends included.
func (l *Log) passage(from, to int) Passage {
	r, step := l.Readings[from:to+1], l.Account.Step
	p := Passage{From: r[0].Time, To: r[len(r)-1].Time, Rate: fitRate(r, step)}
	p.Fastest = p.Rate
	for i, j := 0, 0; j < len(r); j++ {
		if j > 0 {
			p.Gap = max(p.Gap, r[j].Time-r[j-1].Time)
		}
		for i < j && r[j].Time-r[i+1].Time >= rateOver { // the shortest stretch of half an hour
			i++
		}
		if r[j].Time-r[i].Time >= rateOver {
			if f := fitRate(r[i:j+1], step); math.Abs(float64(f.Rate)) > math.Abs(float64(p.Fastest.Rate)) {
				p.Fastest = f
			}
		}
	}
	return p
}

// Soak is the time a kiln spent above a temperature.
type Soak struct {
	From, To time.Duration // of the longest stretch
	Total    time.Duration // of all stretches
	Mean     unit.Temp     // of the longest stretch
	Low      unit.Temp
	High     unit.Temp
	Slope    Rate // of the longest stretch
}

// Above returns the time that the kiln read a temperature or more. Dips of an
// opened kiln, of at most five minutes, do not end a stretch but do not count.
// ok is false if it never did.
func (l *Log) Above(least unit.Temp) (s Soak, ok bool) {
	const dip = 5 * time.Minute
	r := l.Readings
	begin, end := -1, -1
	close := func() {
		if begin >= 0 && (!ok || r[end].Time-r[begin].Time > s.To-s.From) {
			s.From, s.To, ok = r[begin].Time, r[end].Time, true
		}
		begin = -1
	}
	for i := range r {
		if r[i].At.Less(least) {
			continue
		}
		if i > 0 && !r[i-1].At.Less(least) {
			s.Total += r[i].Time - r[i-1].Time
		}
		if begin >= 0 && r[i].Time-r[end].Time > dip && end != i-1 {
			close()
		}
		if begin < 0 {
			begin = i
		}
		end = i
	}
	close()
	if !ok {
		return s, false
	}
	part := between(r, s.From, s.To)
	s.Low, s.High = part[0].At, part[0].At
	for _, p := range part {
		if p.At.Less(s.Low) {
			s.Low = p.At
		}
		if s.High.Less(p.At) {
			s.High = p.At
		}
	}
	s.Mean, s.Slope = unit.Kelvin(fitLine(part).mean), fitRate(part, l.Account.Step)
	return s, true
}

// between returns the readings from one time to another, ends included.
func between(r []kiln.Reading, from, to time.Duration) []kiln.Reading {
	lo := sort.Search(len(r), func(i int) bool { return r[i].Time >= from })
	hi := sort.Search(len(r), func(i int) bool { return r[i].Time > to })
	return r[lo:hi]
}
