package kilnlog

import (
	"math"
	"slices"
	"sort"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

const (
	mostBack = int64(time.Minute)     // a clock that was set right by so much loses a row, no more
	halfDay  = int64(12 * time.Hour)  // a clock that falls by more has passed midnight
	longGap  = 20 * time.Minute       // straight lines miss a fall by more than a kelvin beyond
	wholeDay = int64(24 * time.Hour)  //
	longest  = 10 * 366 * 24 * 3600e9 // [ns] from the first reading to the last
)

// tornReading drops the last reading of a log that ends within a line when it
// cannot be true: 55 of 559.
func (r *reader) tornReading(w *watcher) {
	n := len(r.rows)
	if n < 2 || !w.torn() || len(r.acc.Left) > 0 && r.acc.dropped(Torn) > 0 {
		return
	}
	last, before := r.rows[n-1], r.rows[n-2]
	if int(last.line) == r.acc.Lines && before.kelvin-last.kelvin > offMedian && last.t-before.t < int64(15*time.Minute) {
		r.acc.leave(Torn, int(last.line), "")
		r.acc.Rows--
		r.rows = r.rows[:n-1]
	}
}

// finish puts the readings in order and cleans them.
func (r *reader) finish() (*Log, error) {
	if err := r.when.settle(r); err != nil {
		return nil, err
	}
	l := &Log{Name: r.name}
	kept := 0
	days := int64(0)
	for _, x := range r.rows {
		x.t += days
		if kept > 0 {
			last := r.rows[kept-1]
			d := x.t - last.t
			if d <= -halfDay && r.when.kind == daily && !r.l.elapsed {
				days, x.t, d = days+wholeDay, x.t+wholeDay, d+wholeDay
				r.acc.Midnights++
			}
			switch {
			case d == 0 && x.kelvin == last.kelvin:
				r.acc.leave(Repeated, int(x.line), "")
				continue
			case d == 0:
				return nil, r.fail(int(x.line), "have the logger write seconds, or leave one of the rows out", "two values at one time: line %d has another", last.line)
			case d < -mostBack:
				return nil, r.back(x, last, -d)
			case d < 0:
				r.acc.leave(OutOfOrder, int(x.line), "")
				continue
			case x.t-r.rows[0].t > longest:
				return nil, r.fail(int(x.line), "", "lies more than ten years after the first row")
			}
		}
		r.rows[kept] = x
		kept++
	}
	r.rows = r.rows[:kept]
	r.spikes()
	if n := r.acc.dropped(Impossible); n > 3 && 2*n > r.acc.Rows {
		return nil, r.option(0, OptTempUnit, "as the column is, or choose another column", "%d of %d readings cannot be true", n, r.acc.Rows)
	}
	if len(r.rows) == 0 {
		return nil, r.fail(0, "", "has no readings that can be used")
	}
	first := r.rows[0].t
	l.Start, l.Known = r.when.began(r, first, r.acc.Midnights)
	l.zones = r.when.zones
	l.take(r.rows)
	r.usual(l.Readings)
	every := r.acc.Interval
	if r.means(); r.acc.Means > 0 {
		l.take(r.rows)
		r.usual(l.Readings)
	}
	r.measure(l.Readings)
	r.acc.Interval = every
	for _, b := range r.l.beside {
		b.tell(&r.acc.Columns[b.column])
	}
	sort.Slice(r.acc.Left, func(i, j int) bool { return r.acc.Left[i].Reason < r.acc.Left[j].Reason })
	l.Account = r.acc
	return l, nil
}

// take makes rows the readings of the log.
func (l *Log) take(rows []row) {
	l.Readings, l.lines = make([]kiln.Reading, len(rows)), make([]int32, len(rows))
	for i, x := range rows {
		l.Readings[i] = kiln.Reading{At: unit.Kelvin(x.kelvin), Time: time.Duration(x.t - rows[0].t)}
		l.lines[i] = x.line
	}
}

// back refuses a clock that goes back.
func (r *reader) back(x, last row, by int64) error {
	d := time.Duration(by).Round(time.Second)
	text := unit.FormatDuration(d)
	if r.when.kind == counted {
		return r.fail(int(x.line), "give one night at a time", "the time goes back %s after line %d", text, last.line)
	}
	if r.when.kind == exact {
		return r.fail(int(x.line), "put the rows in order", "the clock goes back %s after line %d", text, last.line)
	}
	return r.option(int(x.line), OptTime, "a column that counts from the start, or log with the offset from UTC", "the clock goes back %s after line %d", text, last.line)
}

// offMedian is how far a true reading can lie from the median of the five
// around it [K].
const offMedian = 25.0

// fastestBack is how fast the air of a kiln comes back after the lid was open
// [K/s]: what comes back faster never was away.
//
// Source: common practice, 100 K in five minutes, with a threefold reserve.
const fastestBack = 60.0 / 60

// spikes drops readings that cannot be true: one or two that stand alone above
// the others and rose faster than the kiln heats, or below them and came back
// faster than air does. A dip that comes back slowly is an opened kiln and is
// kept.
func (r *reader) spikes() {
	heating := float64(r.o.Heating)
	if heating <= 0 {
		heating = float64(unit.KelvinPerHour(1200))
	}
	n := len(r.rows)
	drop := make(map[int]bool)
	off := func(i int) float64 {
		var w [5]float64
		m := 0
		for j := max(0, i-2); j <= min(n-1, i+2); j++ {
			w[m] = r.rows[j].kelvin
			m++
		}
		slices.Sort(w[:m])
		d := r.rows[i].kelvin - w[m/2]
		if other := r.rows[i].kelvin - w[(m-1)/2]; math.Abs(other) < math.Abs(d) {
			d = other // of an even number, the middle one that is nearer
		}
		return d
	}
	for i := 0; i < n && n > 2; i++ {
		d := off(i)
		if math.Abs(d) <= offMedian {
			continue
		}
		end := i + 1
		if end < n && end < i+2 && off(end)*d > 0 && math.Abs(off(end)) > offMedian {
			end++
		}
		if d > 0 && i > 0 && r.slope(i-1, i) > heating || d < 0 && end < n && r.slope(end-1, end) > fastestBack ||
			d > 0 && i == 0 && end < n && -r.slope(end-1, end) > fastestBack {
			for j := i; j < end; j++ {
				drop[j] = true
				r.acc.impossible(r.rows[j])
			}
		}
		i = end - 1
	}
	if len(drop) == 0 {
		return
	}
	kept := r.rows[:0]
	for i := range r.rows {
		if !drop[i] {
			kept = append(kept, r.rows[i])
		}
	}
	r.rows = kept
}

// slope between two rows [K/s].
func (r *reader) slope(i, j int) float64 {
	return (r.rows[j].kelvin - r.rows[i].kelvin) / (float64(r.rows[j].t-r.rows[i].t) / 1e9)
}

// usual finds the usual interval, the step of the display and the noise.
func (r *reader) usual(rd []kiln.Reading) {
	a := &r.acc
	if len(rd) < 2 {
		return
	}
	between := make([]time.Duration, len(rd)-1)
	for i := range between {
		between[i] = rd[i+1].Time - rd[i].Time
	}
	slices.Sort(between)
	a.Interval = between[len(between)/2]
	perUnit := 1.0
	switch r.l.tempUnit {
	case Fahrenheit:
		perUnit = unit.FahrenheitDelta(1).Kelvin()
	case Millivolt:
		perUnit = 0
	}
	if len(rd) >= 4 {
		a.Step = unit.Delta(r.grid.step() * perUnit)
	}
	a.Noise = noise(rd, a.Interval, a.Step)
}

// measure finds the gaps and the swing.
func (r *reader) measure(rd []kiln.Reading) {
	a := &r.acc
	for i := range len(rd) - 1 {
		if isGap(rd[i+1].Time-rd[i].Time, a.Interval) {
			a.GapCount++
			a.Gaps = append(a.Gaps, Gap{rd[i], rd[i+1]})
			if len(a.Gaps) > 4*mostGaps {
				a.trimGaps()
			}
		}
	}
	a.trimGaps()
	a.Swing = swing(rd, a.Interval, a.Noise)
}

// isGap tells a stretch without readings from the usual interval.
func isGap(d, usual time.Duration) bool {
	return d > longGap || d > 5*time.Minute && float64(d) > 3.5*float64(usual)
}

func (a *Account) trimGaps() {
	sort.SliceStable(a.Gaps, func(i, j int) bool { return a.Gaps[i].Length() > a.Gaps[j].Length() })
	a.Gaps = a.Gaps[:min(len(a.Gaps), mostGaps)]
}

// noise is the standard deviation of a reading about a smooth curve, from the
// median of the second differences; at least what rounding to the step makes.
func noise(rd []kiln.Reading, usual time.Duration, step unit.Delta) unit.Delta {
	var second []float64
	for i := 1; i+1 < len(rd); i++ {
		a, b := rd[i].Time-rd[i-1].Time, rd[i+1].Time-rd[i].Time
		if a > 2*usual || b > 2*usual || a <= 0 || b <= 0 {
			continue
		}
		w := float64(b) / float64(a+b)
		bend := float64(rd[i].At.Sub(rd[i-1].At))*w - float64(rd[i+1].At.Sub(rd[i].At))*(1-w)
		second = append(second, math.Abs(bend)/math.Sqrt(1+w*w+(1-w)*(1-w)))
	}
	least := float64(step) / math.Sqrt(12)
	if len(second) < 10 {
		return unit.Delta(least)
	}
	slices.Sort(second)
	return unit.Delta(math.Max(least, second[len(second)/2]/0.6745))
}

// stepper finds the step of a display: the largest of the usual ones of which
// every reading is a multiple.
type stepper struct{ fails [len(steps)]bool }

var steps = [...]float64{10, 5, 2, 1, 0.5, 0.2, 0.1}

func (s *stepper) see(x float64) {
	for i, step := range steps {
		if q := x / step; !s.fails[i] && math.Abs(q-math.Round(q)) > 1e-6 {
			s.fails[i] = true
		}
	}
}

func (s *stepper) step() float64 {
	for i, f := range s.fails {
		if !f {
			return steps[i]
		}
	}
	return 0
}
