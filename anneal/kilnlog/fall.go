package kilnlog

import (
	"fmt"
	"math"
	"strings"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// Natural is how a kiln fell by itself at the end of a log.
type Natural struct {
	Fall     kiln.Fall
	Error    time.Duration // of the time constant, one standard deviation
	From, To kiln.Reading  // the stretch it was fitted to
	Readings int
	Points   []kiln.Reading // a few of the curve, times from the first of them
}

// What a fall must be to be told from a ramp.
const (
	leastFall   = 100.0 // [K]
	fittedTo    = 40    // points of the fit
	goodFit     = 0.7   // [K] root mean square that is as good as any
	worstFit    = 2.5   // [K] root mean square, beside the noise
	tries       = 16    // beginnings
	bendAtLeast = 3.0   // times better than a straight line
	blocks      = 8     // left out one by one for the spread
	pastePoints = 6
	nearRoom    = 10.0 // [K] above the room, below which the room decides
)

// NoFallError says why a log tells nothing of how the kiln falls by itself.
type NoFallError struct{ Reason string }

func (e *NoFallError) Error() string { return e.Reason }

// Hint names the one thing to do.
func (e *NoFallError) Hint() string {
	return "log a night to its end, with the elements off and the kiln closed"
}

// Fall fits how the kiln falls by itself to the end of the log: the longest
// stretch up to the last reading, or up to the room, that bends as a natural
// fall does and not as a ramp. room is that of the kiln; opened is the reading at
// which it is opened, below which it does not fall by itself (zero: it stays
// closed).
//
// The spread of the time constant is that of fits which leave out an eighth of
// the stretch each (jackknife), so that a kiln which follows no one law shows it.
//
// Errors: *NoFallError if there is no such stretch of 100 K or more.
func (l *Log) Fall(room, opened unit.Temp) (Natural, error) {
	r := l.smooth()
	end := len(r)
	for end > 0 && (float64(r[end-1].At.Sub(room)) < nearRoom || r[end-1].At.Less(opened)) {
		end--
	}
	// Back from the end as long as it falls.
	begin := end - 1
	slack := math.Max(2, 3*float64(l.Account.Noise))
	low := math.Inf(1)
	if end > 0 {
		low = r[end-1].At.Kelvin()
	}
	high := low
	for begin > 0 && r[begin-1].At.Kelvin() > high-slack && r[begin].Time-r[begin-1].Time <= 2*time.Hour {
		begin--
		high = math.Max(high, r[begin].At.Kelvin())
	}
	if end < 8 || high-low < leastFall {
		return Natural{}, &NoFallError{fmt.Sprintf("the log does not end with a fall of %s by itself", unit.Delta(leastFall).Text(unit.Metric))}
	}
	// The earliest beginning from which the rest is one natural fall, about as
	// well as a later one: the ramp before it shows as a worse fit.
	type start struct {
		at   int
		fall kiln.Fall
	}
	var starts []start
	least := math.Inf(1)
	for try := range tries {
		top := high - (high-low)*float64(try)/tries
		i := begin
		for i < end-8 && r[i].At.Kelvin() > top {
			i++
		}
		if r[i].At.Kelvin()-low < leastFall {
			break
		}
		if fall, ok := natural(spaced(r[i:end], fittedTo), room); ok {
			starts = append(starts, start{i, fall})
			least = math.Min(least, float64(fall.RMS))
		}
	}
	for _, s := range starts {
		if float64(s.fall.RMS) <= math.Max(goodFit, 2*least) && float64(s.fall.RMS) <= worstFit+float64(l.Account.Noise)/2 {
			return spread(r[s.at:end], s.fall, room), nil
		}
	}
	return Natural{}, &NoFallError{"the end of the log does not bend as a kiln does that falls by itself"}
}

// natural fits the law to points; ok is false if they lie on a line as well.
func natural(points []kiln.Reading, room unit.Temp) (fall kiln.Fall, ok bool) {
	if len(points) < 6 {
		return fall, false
	}
	fall, err := kiln.FitFall(points, room)
	return fall, err == nil && fitLine(points).sd >= bendAtLeast*float64(fall.RMS)
}

// spread tells a fitted fall with the spread of its time constant.
func spread(r []kiln.Reading, fall kiln.Fall, room unit.Temp) Natural {
	points := spaced(r, fittedTo)
	n := Natural{Fall: fall, From: r[0], To: r[len(r)-1], Readings: len(r)}
	var taus []float64
	for b := range blocks {
		lo, hi := b*len(points)/blocks, (b+1)*len(points)/blocks
		var rest []kiln.Reading
		for i, p := range points {
			if i < lo || i >= hi {
				rest = append(rest, p)
			}
		}
		first := rest[0].Time
		for i := range rest {
			rest[i].Time -= first
		}
		if f, err := kiln.FitFall(rest, room); err == nil && f.Power == fall.Power || err == nil && fall.Power > 1 {
			taus = append(taus, f.TimeConstant.Seconds())
		}
	}
	n.Error = unit.Seconds(jackknife(taus))
	n.Points = spaced(r, pastePoints)
	for i := range n.Points {
		whole := math.Round(n.Points[i].At.Celsius())
		n.Points[i].At = unit.Celsius(whole)
		n.Points[i].Time = n.Points[i].Time.Round(time.Minute)
	}
	return n
}

// spaced returns about n readings of a fall, evenly spaced in temperature and
// falling, times from the first.
func spaced(r []kiln.Reading, n int) []kiln.Reading {
	high, low := r[0].At.Kelvin(), r[len(r)-1].At.Kelvin()
	var out []kiln.Reading
	for i := range r {
		level := high - (high-low)*float64(len(out))/float64(n-1)
		if r[i].At.Kelvin() <= level+1e-9 && (len(out) == 0 || r[i].At.Less(out[len(out)-1].At)) {
			p := r[i]
			p.Time -= r[0].Time
			out = append(out, p)
		}
	}
	return out
}

// jackknife is the standard error of a value from its leave-one-block-out
// values.
func jackknife(x []float64) float64 {
	if len(x) < 2 {
		return 0
	}
	mean := 0.0
	for _, v := range x {
		mean += v / float64(len(x))
	}
	sum := 0.0
	for _, v := range x {
		sum += (v - mean) * (v - mean)
	}
	n := float64(len(x))
	return math.Sqrt((n - 1) / n * sum)
}

// StudioLines returns the lines of [kiln] in a studio file that say how this
// kiln falls: the time constant where one holds everywhere, else the points.
func (n Natural) StudioLines() []string {
	if n.Fall.Power <= 1 {
		return []string{fmt.Sprintf("cooling_time_constant = %q", unit.FormatDuration(n.Fall.TimeConstant.Round(time.Minute)))}
	}
	var parts []string
	for _, p := range n.Points {
		parts = append(parts, fmt.Sprintf("%s %s", p.At, unit.FormatDuration(p.Time)))
	}
	return []string{fmt.Sprintf("cooling_points = %q", strings.Join(parts, ", "))}
}
