package report

import (
	"fmt"
	"math"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/term"
	"lehr/glass/unit"
)

// hourStep is the time between two readings of the table of hours.
const hourStep = 30 * time.Minute

// bandReserve is how far a reading may lie beside what was computed before it is
// worth a look: our own choice, more than a probe and a controller differ by in
// a kiln that does as it is told.
const bandReserve unit.Delta = 5

// mostReadings is the most rows of the table of hours: a program of weeks is
// read in steps of hours.
const mostReadings = 200

// Reading is what the kiln should read at a moment of the program.
type Reading struct {
	At   float64 // [s] since the start, by the clock
	Time string  // clock time, or hours since the start
	Day  string  // "+1d" at the first reading of a later day, else ""
	// Kiln is the reading as this kiln is taken to fall, in whole degrees of the
	// controller. From Low to High lies what is no reason to look: between the
	// program as told and the slowest kiln that this one may be, and some degrees
	// more.
	Kiln, Low, High int
	Segment         int  // the number of the segment, from 1
	Ends            bool // the segment ends then
	Half            bool // not on the hour, and no end of a segment
}

// Readings is the table of what the kiln should read: every half hour of the
// clock, the start, and the end of every segment.
func Readings(rep *verify.Report) []Reading {
	total := rep.Actual.Total().Seconds()
	step := hourStep.Seconds()
	for total/step > mostReadings {
		step *= 2
	}
	offset := 0.0
	if rep.Load.Start != nil {
		offset = 60 * float64(*rep.Load.Start)
	}
	slowest := rep.Actual
	if tau := slowestFall(rep); tau > 0 {
		k := rep.Studio.Kiln
		k.Fall.TimeConstant = tau
		slowest = rep.Schedule.As(&k)
	}
	var out []Reading
	days := 0
	add := func(at float64, segment int, ends bool) {
		if n := len(out); n > 0 && at-out[n-1].At < 60 { // the same minute
			if !ends || out[n-1].Ends {
				return
			}
			out = out[:n-1]
		}
		r := newReading(rep, slowest, at, segment, ends)
		minutes := int(math.Round((offset + at) / 60))
		r.Half = !ends && at > 0 && minutes%60 != 0
		if d := minutes / (24 * 60); rep.Load.Start != nil && d > days {
			days, r.Day = d, fmt.Sprintf("+%dd", d)
		}
		out = append(out, r)
	}
	add(0, 0, false)
	next := (math.Floor(offset/step+1e-9)+1)*step - offset
	for i, span := range rep.Actual.Spans {
		for ; next < span.End-30; next += step {
			add(next, i, false)
		}
		add(span.End, i, true)
	}
	return out
}

func newReading(rep *verify.Report, slowest program.Timeline, at float64, segment int, ends bool) Reading {
	u := rep.Studio.Controller.Units
	degree := func(kelvin float64) float64 { x, _ := unit.Kelvin(kelvin).In(u); return x }
	nominal, kiln, slow := nominalAt(rep, at), rep.Actual.At(at), slowest.At(at)
	reserve := float64(max(bandReserve, rep.Studio.Kiln.ProbeError))
	r := Reading{At: at, Kiln: int(math.Round(degree(kiln))), Segment: segment + 1, Ends: ends,
		Low: int(math.Floor(degree(min(nominal, kiln, slow) - reserve))), High: int(math.Ceil(degree(max(nominal, kiln, slow) + reserve)))}
	r.Low = min(max(r.Low, int(degree(rep.Studio.Kiln.Fall.Room.Kelvin()))), r.Kiln)
	r.Time = ClockOnly(rep, at)
	return r
}

// slowestFall is the time constant of the slowest kiln that this one may be, 0 where
// it is known how it falls.
func slowestFall(rep *verify.Report) time.Duration {
	switch {
	case len(rep.Kilns) > 0:
		return rep.Kilns[len(rep.Kilns)-1].TimeConstant
	case EndsEstimated(rep):
		return kiln.SlowestFall
	}
	return 0
}

// nominalAt is what the program says the kiln reads [K] at a moment of the clock: the
// segment's own ramp, begun when the kiln begins that segment.
func nominalAt(rep *verify.Report, at float64) float64 {
	for i, span := range rep.Actual.Spans {
		if at > span.End && i < len(rep.Actual.Spans)-1 {
			continue
		}
		nominal := rep.Nominal.Spans[i]
		return rep.Nominal.At(min(nominal.Start+at-span.Start, nominal.End))
	}
	return rep.Actual.At(at)
}

// ClockOnly is [ClockText] without the day.
func ClockOnly(rep *verify.Report, at float64) string {
	if rep.Load.Start == nil {
		m := int(math.Round(at / 60))
		return fmt.Sprintf("%d:%02d", m/60, m%60)
	}
	clock, _ := clockAt(rep, at)
	return clock.Text(rep.Studio.Units)
}

// BandText says what the band of the table of hours is.
func BandText(rep *verify.Report) string {
	reserve := max(bandReserve, rep.Studio.Kiln.ProbeError)
	band := "from the program as told to the kiln as it falls"
	if slowestFall(rep) > 0 {
		band = "from the kiln as told to the slowest it may be"
	}
	return fmt.Sprintf("Band: %s, and %s beyond. Outside it, look at the kiln.", band, reserve.Text(rep.Studio.Controller.Units))
}

// PercentText is a share of a limit. Nothing over a limit is rounded down to it.
func PercentText(use float64) string {
	switch n := math.Ceil(100*use - 0.5); {
	case n < 1:
		return "under 1 %"
	case use > 1 && n <= 100:
		return "over 100 %"
	default:
		return term.Whole(n) + " %"
	}
}
