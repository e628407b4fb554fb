package anneal

import (
	"fmt"
	"io"
	"math"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"lehr/anneal/kiln"
	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Segment is one line of a kiln program: a ramp to a temperature and a hold
// there.
type Segment struct {
	Purpose string
	Rate    unit.Rate // of the ramp, positive heating; 0 when it only holds
	To      unit.Temp
	Hold    time.Duration
	// Full says that the kiln goes as fast as it can; Rate is then what that
	// was taken to be, 0 until it is known which kiln that is.
	Full bool
	// Off says that the program has ended with the power off: the kiln falls by
	// itself, and nothing is keyed in for it. Full is then true.
	Off bool
}

// Schedule is a kiln program.
type Schedule struct {
	From     unit.Temp // when it begins
	Segments []Segment
}

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
	ByItself   bool    // the kiln could not fall as fast as told
	Overshoots bool    // the kiln could not heat as fast as told
	Late       float64 // how much longer the ramp takes than told [s]
}

// Timeline is what the kiln does with a schedule.
type Timeline struct {
	Points []Point // piecewise linear
	Spans  []Span  // one per segment
}

// Total returns the length of the program.
func (t Timeline) Total() time.Duration {
	return time.Duration(t.Points[len(t.Points)-1].Time * float64(time.Second))
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

// nearRoom is how close to the room a kiln counts as having reached it: by
// itself it never quite does.
const nearRoom unit.Delta = 3

// aboveRoom returns t, or the temperature at which the room counts as reached
// if t is below it.
func aboveRoom(t unit.Temp, k kiln.Kiln) unit.Temp {
	if least := k.Fall.Room.Add(nearRoom); t.Less(least) {
		return least
	}
	return t
}

// As runs the schedule: exactly as told when k is nil, else as the kiln k can
// follow, waiting at the end of each ramp until its target is reached. With no
// kiln, as fast as one can is as fast as [kiln.Default].
func (s Schedule) As(k *kiln.Kiln) Timeline {
	if k == nil {
		return s.run(kiln.Default(), false, false)
	}
	return s.run(*k, true, true)
}

// run is the schedule in a kiln whose limits count only where it heats or
// falls as said; elsewhere it obeys.
func (s Schedule) run(k kiln.Kiln, heats, falls bool) Timeline {
	at, now := s.From, 0.0
	tl := Timeline{Points: []Point{{0, at.Kelvin()}}}
	put := func(dt float64, to unit.Temp) {
		if dt <= 0 {
			return
		}
		now += dt
		tl.Points = append(tl.Points, Point{now, to.Kelvin()})
	}
	for _, seg := range s.Segments {
		span := Span{From: at, Start: now}
		d := float64(seg.To.Sub(at))
		// A rate beside full is what a kiln was taken to do: the word of an
		// owner who measured it counts more.
		limits := d < 0 && falls || d > 0 && heats
		full := seg.Full && (seg.Rate == 0 || limits && (d < 0 || k.HeatingGiven))
		if d != 0 && (seg.Rate != 0 || full) {
			told := 0.0
			if seg.Rate != 0 {
				told = d / float64(seg.Rate)
			}
			if !full && (!limits || d > 0 && seg.Rate <= k.SlowestHeating(at, seg.To)) {
				put(told, seg.To)
			} else {
				goal, rate := seg.To, seg.Rate
				if d < 0 {
					goal = aboveRoom(seg.To, k)
				}
				if full {
					rate = unit.Rate(math.Copysign(math.Inf(1), d))
				}
				const pieces = 24
				from, drop := at, goal.Sub(at)
				for i := 1; i <= pieces && float64(drop)*d > 0; i++ {
					to := at.Add(drop * unit.Delta(i) / pieces)
					put(k.Ramp(from, to, rate), to)
					from = to
				}
				// What lies below the room is taken to be obeyed.
				if rest := told - (now - span.Start); rest > 1e-6 && (!seg.Full || now == span.Start) {
					put(rest, seg.To)
				}
				if late := now - span.Start - told; !seg.Full && late > told*0.001+1 {
					span.Late, span.ByItself, span.Overshoots = late, d < 0, d > 0
				}
			}
		}
		at = seg.To
		span.RampEnds = now
		put(seg.Hold.Seconds(), at)
		span.End = now
		tl.Spans = append(tl.Spans, span)
	}
	return tl
}

// check refuses what is no program.
func (s Schedule) check() error {
	if len(s.Segments) == 0 {
		return fmt.Errorf("no segments")
	}
	at, total := s.From, 0.0
	for i, seg := range s.Segments {
		d := float64(seg.To.Sub(at))
		switch {
		case d != 0 && seg.Rate == 0 && !seg.Full:
			return fmt.Errorf("segment %d: goes from %s to %s without a rate", i+1, unit.AsTyped(at), unit.AsTyped(seg.To))
		case d*float64(seg.Rate) < 0:
			return fmt.Errorf("segment %d: rate %s leads away from %s (it begins at %s)", i+1, unit.AsTyped(seg.Rate), unit.AsTyped(seg.To), unit.AsTyped(at))
		case seg.To.Celsius() > 1500 || seg.To.Celsius() < -50:
			return fmt.Errorf("segment %d: temperature %s: must be %s", i+1, unit.AsTyped(seg.To), unit.RangeFor(seg.To, unit.Celsius(-50), unit.Celsius(1500)))
		case seg.Hold < 0:
			return fmt.Errorf("segment %d: hold is negative", i+1)
		}
		switch {
		case d != 0 && seg.Rate != 0:
			total += d / float64(seg.Rate)
		case d != 0:
			total++ // as fast as the kiln can takes some time
		}
		total += seg.Hold.Seconds()
		at = seg.To
	}
	if !(total > 0) {
		return fmt.Errorf("takes no time")
	}
	if total > 400*24*3600 {
		return fmt.Errorf("takes %.0f days, at most 400 are simulated", total/86400)
	}
	return nil
}

type segmentText struct {
	Purpose string         `toml:"purpose"`
	Rate    *unit.Rate     `toml:"rate"`
	Ramp    *unit.Duration `toml:"ramp"`
	Full    bool           `toml:"full"`
	Off     bool           `toml:"off"`
	To      *unit.Temp     `toml:"to"`
	Hold    *unit.Duration `toml:"hold"`
}

type scheduleText struct {
	Name    string        `toml:"name"`
	From    *unit.Temp    `toml:"from"`
	Segment []segmentText `toml:"segment"`
}

// ReadSchedule reads a schedule file (see DEVELOPERS.md, files). The rate of a
// ramp is written positive or with its sign; its direction follows from the
// temperatures. Instead of a rate a ramp may say how long it takes, as some
// controllers are set: ramp = "114 min". Errors carry file and line.
func ReadSchedule(r io.Reader, name string) (Schedule, error) {
	var t scheduleText
	f, err := strict.Decode(r, name, &t)
	if err != nil {
		return Schedule{}, err
	}
	if t.From == nil {
		return Schedule{}, f.HintErrorf([]string{"from"}, `write from = "560 °C", the temperature when the program begins`, "from is missing")
	}
	s := Schedule{From: *t.From}
	at := s.From
	for i, seg := range t.Segment {
		key := func(k string) []string { return []string{"segment", fmt.Sprint(i), k} }
		out := Segment{Purpose: seg.Purpose, To: at, Full: seg.Full || seg.Off, Off: seg.Off}
		if seg.To != nil {
			out.To = *seg.To
		}
		d := float64(out.To.Sub(at))
		if seg.Ramp != nil {
			rate, err := rampRate(seg, d)
			if err != nil {
				return s, f.HintErrorf(key("ramp"), `write ramp = "114 min" and to = "480 °C"`, "%w", err)
			}
			seg.Rate = &rate
		}
		switch {
		case seg.Rate != nil && seg.To == nil:
			return s, f.HintErrorf(key("rate"), `write to = "480 °C"`, "a rate without the temperature it goes to")
		case seg.Off && (d >= 0 || seg.Hold != nil || i != len(t.Segment)-1):
			return s, f.HintErrorf(key("off"), `write off = true and to = "45 °C" in the last segment, and nothing else`, "with the power off the kiln only falls, and nothing comes after")
		case seg.Rate == nil && d != 0 && !out.Full:
			return s, f.HintErrorf(key("to"), `write rate = "30 °C/h", or full = true for as fast as the kiln can`, "a temperature without the rate that leads there")
		case seg.Rate == nil && seg.Hold == nil && !out.Full:
			return s, f.HintErrorf(key("hold"), `write hold = "75 min", or rate and to`, "a segment without rate or hold")
		case seg.Rate != nil && *seg.Rate == 0 && d != 0:
			return s, f.Errorf(key("rate"), "%s: must not be zero", *seg.Rate)
		}
		if seg.Hold != nil {
			if out.Hold = seg.Hold.Std(); out.Hold < 0 {
				return s, f.Errorf(key("hold"), "must not be negative")
			}
		}
		if d != 0 && seg.Rate != nil {
			rate := *seg.Rate
			if float64(rate)*d < 0 && rate < 0 {
				return s, f.Errorf(key("rate"), "%s: cools, but the segment goes up to %s", unit.AsTyped(rate), unit.AsTyped(out.To))
			}
			out.Rate = unit.Rate(math.Copysign(math.Abs(float64(rate)), d))
		}
		if out.Purpose == "" {
			switch {
			case out.Off:
				out.Purpose = PurposeOff
			case d > 0:
				out.Purpose = "heating"
			case d < 0:
				out.Purpose = "cooling"
			default:
				out.Purpose = "hold"
			}
		}
		s.Segments = append(s.Segments, out)
		at = out.To
	}
	if err := s.check(); err != nil {
		return s, f.Errorf(nil, "%w", err)
	}
	return s, nil
}

// rampRate is the rate of a ramp of d kelvin that is given by its length.
func rampRate(seg segmentText, d float64) (unit.Rate, error) {
	took := seg.Ramp.Std()
	switch {
	case seg.Rate != nil:
		return 0, fmt.Errorf("rate is given too; one says how fast the ramp is")
	case seg.Full || seg.Off:
		return 0, fmt.Errorf("the segment leaves the ramp to the kiln")
	case seg.To == nil || d == 0:
		return 0, fmt.Errorf("a ramp without another temperature that it goes to")
	case took <= 0:
		return 0, fmt.Errorf("%s: must be above 0", seg.Ramp)
	}
	return unit.Rate(d / took.Seconds()), nil
}

// WriteSchedule writes a schedule file that ReadSchedule reads back to the same
// numbers, in the units given.
func WriteSchedule(w io.Writer, s Schedule, name string, sys unit.System) error {
	return WriteScheduleFor(w, s, name, kiln.Controller{Units: sys})
}

// WriteScheduleFor is WriteSchedule in the way a controller is keyed in: its
// units, and ramps in minutes where it takes those.
func WriteScheduleFor(w io.Writer, s Schedule, name string, c kiln.Controller) error {
	sys := c.Units
	_, err := fmt.Fprintf(w, "# written by lehr; verify it with: lehr verify THIS_FILE LOAD_FILE\n")
	if err == nil && name != "" {
		_, err = fmt.Fprintf(w, "name = %s\n", quoted(name))
	}
	if err == nil {
		_, err = fmt.Fprintf(w, "from = %q\n", exactTemp(s.From, sys))
	}
	at := s.From
	for _, seg := range s.Segments {
		if err == nil {
			_, err = fmt.Fprintf(w, "\n[[segment]]\npurpose = %s\n", quoted(seg.Purpose))
		}
		if err == nil && seg.To.Sub(at) != 0 {
			switch m := math.Abs(float64(seg.To.Sub(at)) / float64(seg.Rate) / 60); {
			case seg.Rate == 0:
			case c.Minutes && !seg.Full && math.Abs(m-math.Round(m)) < 1e-6:
				_, err = fmt.Fprintf(w, "ramp = \"%.0f min\"\n", m)
			default:
				_, err = fmt.Fprintf(w, "rate = %q\n", exactRate(seg.Rate, sys))
			}
			if err == nil {
				_, err = fmt.Fprintf(w, "to   = %q\n", exactTemp(seg.To, sys))
			}
		}
		for _, mark := range []struct {
			word string
			on   bool
		}{{"full", seg.Full && !seg.Off}, {"off ", seg.Off}} {
			if err == nil && mark.on {
				_, err = fmt.Fprintf(w, "%s = true\n", mark.word)
			}
		}
		if err == nil && (seg.Hold > 0 || seg.To.Sub(at) == 0 && !seg.Full) {
			_, err = fmt.Fprintf(w, "hold = %q\n", unit.FormatDuration(seg.Hold))
		}
		at = seg.To
	}
	return err
}

// exactTemp and exactRate print controller numbers, whole in their own unit.
func exactTemp(t unit.Temp, sys unit.System) string {
	if sys == unit.US {
		return fmt.Sprintf("%g °F", round6(t.Fahrenheit()))
	}
	return fmt.Sprintf("%g °C", round6(t.Celsius()))
}

func exactRate(r unit.Rate, sys unit.System) string {
	if sys == unit.US {
		return fmt.Sprintf("%.9g °F/h", math.Abs(r.FahrenheitPerHour()))
	}
	return fmt.Sprintf("%.9g °C/h", math.Abs(r.KelvinPerHour()))
}

// quoted writes a basic string of TOML; what is no text becomes a space.
func quoted(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == utf8.RuneError {
			return ' '
		}
		return r
	}, s)
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

func round6(x float64) float64 { return math.Round(x*1e6) / 1e6 }
