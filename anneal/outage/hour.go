package outage

import (
	"math"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/program"
	"lehr/glass/unit"
)

// ReadsOff is by how much a reading may differ from its program before the hour or
// the reading is doubted.
//
// Source: common practice, a probe and a hand on the clock; no published figure.
const ReadsOff unit.Delta = 15

// Hour is what a kiln reads at an hour of its program.
type Hour struct {
	Ran       time.Duration // since the start of the program
	Reads     unit.Temp     // in the kiln as it is known
	Ends      time.Duration // the program, in that kiln
	low, high unit.Temp     // in the kilns that it may be
}

// HourOf returns what a kiln reads so long after the start of a program, or so
// long and whole days, if that is still in it and nearer to a reading.
func HourOf(s program.Schedule, st kiln.Studio, ran time.Duration, reading unit.Temp) Hour {
	const day = 24 * time.Hour
	best := hourOf(s, st, ran)
	for later := ran + day; later <= best.Ends; later += day {
		if h := hourOf(s, st, later); h.apart(reading) < best.apart(reading) {
			best = h
		}
	}
	return best
}

func hourOf(s program.Schedule, st kiln.Studio, ran time.Duration) Hour {
	told := s.As(&st.Kiln)
	h := Hour{Ran: ran, Reads: unit.Kelvin(told.At(ran.Seconds())), Ends: told.Total()}
	h.low, h.high = h.Reads, h.Reads
	as := []program.Timeline{s.As(nil)}
	for _, may := range studios(st, nil) {
		as = append(as, s.As(&may.Kiln))
	}
	for _, t := range as {
		at := unit.Kelvin(t.At(ran.Seconds()))
		if at.Less(h.low) {
			h.low = at
		}
		if h.high.Less(at) {
			h.high = at
		}
	}
	if p := told.Points; ran.Seconds() < p[hottest(p)].Time {
		h.low = s.From // on the way up a kiln may be slower than it is told
	}
	return h
}

// apart is how far a reading is from all that the kiln may read.
func (h Hour) apart(reading unit.Temp) unit.Delta {
	return unit.Delta(math.Max(0, math.Max(float64(h.low.Sub(reading)), float64(reading.Sub(h.high)))))
}

// Doubts reports whether a reading is none of that hour.
func (h Hour) Doubts(reading unit.Temp, probeError unit.Delta) bool {
	return h.apart(reading) > ReadsOff+probeError
}

// Over reports whether the program has ended by then.
func (h Hour) Over() bool { return h.Ran > h.Ends }
