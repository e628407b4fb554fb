package kilnlog

import (
	"math"
	"time"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// How readings are made a curve.
const (
	fitHalf   = 5 * time.Minute  // readings this far on either side share a line
	noisyHalf = 15 * time.Minute // where the noise exceeds noisyAbove
	// noisyAbove is the noise [K] above which more readings share a line.
	noisyAbove = 2.0
	// thinTo is how far the thinned curve may lie from the smoothed readings
	// [K]. It moves the tension left by less than a tenth of a percent
	// (replay_test.go).
	thinTo = 0.25
	// trueFold is how many times the noise a reading must lie off the line to be
	// taken for what the kiln did: an opened lid, a kink.
	trueFold = 3.5
)

// Curve returns the kiln as a function of time: each reading replaced by a
// straight line fitted through its neighbors, as far as noise and the step of
// the display explain the difference, and straight lines between. Where the
// readings leave that line by more, such as when the lid is opened, they stand
// as they are: no peak is smoothed away. The swing of a relay is real for the air
// but less so for the glass, and is averaged over its period. The curve is thinned to the bends that
// matter.
//
// Errors: *Error for fewer than two readings.
func (l *Log) Curve() (kiln.Curve, error) {
	if len(l.Readings) < 2 {
		return kiln.Curve{}, &Error{Name: l.Name, Message: "one reading is no history: must be at least 2", Next: "log the kiln all night, one reading a minute or every five"}
	}
	c, err := kiln.NewCurve(l.smooth())
	if err != nil {
		return c, &Error{Name: l.Name, Message: err.Error()}
	}
	return c.Thin(thinTo), nil
}

// smooth returns the readings as Curve takes them, not thinned.
func (l *Log) smooth() []kiln.Reading {
	r := l.Readings
	noise := float64(l.Account.Noise)
	half := max(fitHalf, 2*l.Account.Interval)
	if noise > noisyAbove {
		half = max(noisyHalf, half)
	}
	half = min(half, noisyHalf)
	swing := l.Account.Swing
	if swing.Period > 0 { // over one whole period a swing has no mean
		half = swing.Period / 2
	}
	fit := make([]float64, len(r))
	wild := make([]bool, len(r))
	limit := trueFold*math.Max(noise, 0.05) + 0.5*float64(l.Account.Step) + 1.5*float64(swing.Amplitude)
	lo, hi := 0, 0
	for i := range r {
		for r[lo].Time < r[i].Time-half {
			lo++
		}
		for hi < len(r) && r[hi].Time <= r[i].Time+half {
			hi++
		}
		// As many on the one side as on the other, so that no bend at the end of
		// the log tilts the line.
		n := min(i-lo, hi-1-i)
		if n < 1 {
			fit[i] = r[i].At.Kelvin()
			continue
		}
		fit[i] = fitLine(r[i-n : i+n+1]).at(r[i].Time)
		wild[i] = math.Abs(fit[i]-r[i].At.Kelvin()) > limit
	}
	// Where a reading leaves its line, so does the line near it.
	out := make([]kiln.Reading, len(r))
	next, last := -1, -1
	for i := range r {
		if wild[i] {
			last = i
		}
		if next < i {
			for next = max(next, i); next < len(r) && !wild[next]; next++ {
			}
		}
		out[i] = r[i]
		near := last >= 0 && r[i].Time-r[last].Time <= half || next < len(r) && r[next].Time-r[i].Time <= half
		if !near {
			out[i].At = unit.Kelvin(fit[i])
		}
	}
	return out
}
