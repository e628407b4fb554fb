package shortest

import (
	"math"
	"slices"
	"time"

	"lehr/anneal/program"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// movesNear bounds the programs that a polish near the floor asks about, moves those of one
// far from it: near it slopes and exchanges leave little, and four times as many changed
// the hours of 36 loads by 0.01 %; far from it a quarter as many made one 0.3 % longer.
const (
	moves     = 90
	movesNear = 22
)

// polish makes single numbers of the best program faster, by what can be keyed
// in, as long as every limit holds in the full simulation.
func (sv *solver) polish() error {
	if sv.best == nil {
		return nil
	}
	screen, err := sv.screenOf(*sv.best)
	if err != nil {
		return err
	}
	refused, most := map[string]bool{}, moves
	if !sv.far() {
		most = movesNear
	}
	for tried, improved := 0, true; improved; {
		improved, err = sv.polishOnce(screen, refused, &tried, most)
		if err != nil {
			return err
		}
	}
	return nil
}

// polishOnce looks for one faster program among those not refused, and counts what
// it tries, up to most.
func (sv *solver) polishOnce(c *screen, refused map[string]bool, tried *int, most int) (improved bool, err error) {
	var next []program.Schedule
	listed := map[string]bool{}
	for _, s := range sv.faster(*sv.best) {
		if k := key(s); !refused[k] && !listed[k] && len(next) < most-*tried {
			next, listed[k] = append(next, s), true
		}
	}
	took, err := c.offer(len(next), func(i int) (program.Schedule, bool) { return next[i], true })
	for _, s := range next[:min(len(next), took+1)] {
		refused[key(s)] = true
		*tried++
	}
	return took < len(next), err
}

// key tells programs apart.
func key(s program.Schedule) string {
	var b []byte
	for _, seg := range s.Segments {
		for _, x := range []float64{float64(seg.Rate) * 36e4, seg.To.Kelvin() * 100, seg.Hold.Seconds()} {
			n := int64(math.Round(x))
			b = append(b, byte(n), byte(n>>8), byte(n>>16), byte(n>>24))
		}
	}
	return string(b)
}

// By how much a single number is made faster: boldly first, since what holds
// saves rounds, and by the least that can be keyed in last.
var (
	fasterRates  = []float64{1.1, 1.03}
	fasterBreaks = []float64{-9, -3, -1, 1, 3, 9} // [degrees of the controller]
	fasterSoaks  = []float64{-3, -1}
)

// fasterHold is the share by which a hold is shortened; a minute is tried too.
const fasterHold = 10

// faster lists programs that differ in one number from s and are shorter, the
// shortest first.
func (sv *solver) faster(s program.Schedule) []program.Schedule {
	soak := 0
	for i, seg := range s.Segments {
		if seg.Purpose == program.PurposeSoak {
			soak = i
		}
	}
	f := quicker{sv: sv, s: s, now: hours(s, sv.st.Kiln)}
	at := s.From
	for i, seg := range s.Segments {
		f.rates(i, float64(seg.To.Sub(at)))
		if i < len(s.Segments)-1 && i != soak {
			f.breaks(i, fasterBreaks)
		}
		f.holds(i)
		at = seg.To
	}
	if to := s.Segments[soak].To; sv.frame.From.Sub(to) != 0 {
		f.breaks(soak, fasterSoaks)
	}
	slices.SortStableFunc(f.all, func(a, b timed) int {
		switch {
		case a.t < b.t-rounding:
			return -1
		case a.t > b.t+rounding:
			return 1
		}
		return 0
	})
	out := make([]program.Schedule, len(f.all))
	for i, o := range f.all {
		out[i] = o.s
	}
	return out
}

// quicker collects programs that are shorter than s by a second or more.
type quicker struct {
	sv  *solver
	s   program.Schedule
	now float64
	all []timed
}

// timed is a program and its length [s].
type timed struct {
	s program.Schedule
	t float64
}

func (f *quicker) try(c change) {
	if t, ok := f.sv.changed(f.s, c); ok {
		if h := hours(t, f.sv.st.Kiln); h < f.now-1 {
			f.all = append(f.all, timed{t, h})
		}
	}
}

// rates tries faster rates for a ramp of d kelvin.
func (f *quicker) rates(i int, d float64) {
	if d == 0 {
		return
	}
	c := f.sv.st.Controller
	r := math.Abs(float64(f.s.Segments[i].Rate))
	next := r + float64(c.Degree())/3600
	if c.Minutes {
		m := math.Round(math.Abs(d) / r / 60)
		next = math.Abs(d) / math.Max(1, m-1) / 60
	}
	var want []float64
	for _, by := range fasterRates {
		want = append(want, r*by)
	}
	for _, v := range append(want, next) {
		if v > math.Max(float64(c.Fastest), r) || d > 0 && v > float64(f.sv.frame.Heating)*(1+rounding) {
			continue
		}
		v = nearest(c, v, r)
		f.try(func(segs []program.Segment) { segs[i].Rate = unit.Rate(math.Copysign(v, d)) })
	}
}

// breaks tries other temperatures for the end of a ramp. A soak stays where every
// piece bears it.
func (f *quicker) breaks(i int, steps []float64) {
	seg := f.s.Segments[i]
	for _, by := range steps {
		to := seg.To.Add(unit.Delta(by) * f.sv.st.Controller.SetStep())
		if seg.Purpose == program.PurposeSoak && to.Less(f.sv.frame.Coolest) {
			continue
		}
		f.try(func(segs []program.Segment) { segs[i].To = to })
	}
}

// holds tries shorter holds.
func (f *quicker) holds(i int) {
	hold := f.s.Segments[i].Hold
	if hold <= time.Minute {
		return
	}
	for _, by := range []time.Duration{hold / fasterHold, time.Minute} {
		f.try(func(segs []program.Segment) {
			segs[i].Hold = max(time.Minute, f.sv.st.Controller.Hold(hold-by))
		})
	}
}

// nearest brings a rate to whole degrees per hour, above the rate it was.
func nearest(c kiln.Controller, v, was float64) float64 {
	if c.Minutes {
		return v
	}
	one := float64(c.Degree()) / 3600
	n := math.Round(v / one)
	if n*one <= was*(1+rounding) {
		n = math.Floor(was/one+1e-6) + 1
	}
	return n * one
}

// redirected gives every ramp the sign of its direction and refuses a program
// that turns where the other does not, or is hotter than the pieces bear.
func (sv *solver) redirected(s, was program.Schedule) (program.Schedule, bool) {
	at, wasAt := s.From, was.From
	top := sv.frame.Hottest
	if top.Less(s.From) {
		top = s.From
	}
	for i := range s.Segments {
		seg := &s.Segments[i]
		d, wasD := float64(seg.To.Sub(at)), float64(was.Segments[i].To.Sub(wasAt))
		if d != 0 && seg.Rate == 0 || d*wasD < 0 || top.Less(seg.To) && was.Segments[i].To.Less(seg.To) {
			return s, false
		}
		if d != 0 {
			seg.Rate = unit.Rate(math.Copysign(math.Abs(float64(seg.Rate)), d))
		}
		at, wasAt = seg.To, was.Segments[i].To
	}
	return s, true
}

// changed applies changes to a copy of a program and keys it in; false if that
// is no program.
func (sv *solver) changed(s program.Schedule, changes ...change) (program.Schedule, bool) {
	t := program.Schedule{From: s.From, Segments: slices.Clone(s.Segments)}
	for _, change := range changes {
		change(t.Segments)
	}
	t, ok := sv.redirected(t, s)
	if !ok {
		return t, false
	}
	t, err := keyed(t, sv.st.Controller)
	return t, err == nil && len(t.Segments) > 0
}
