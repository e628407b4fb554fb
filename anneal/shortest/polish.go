package shortest

import (
	"math"
	"slices"
	"time"

	"lehr/anneal/program"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// beside is how many programs are asked about at once, whatever the machine: the
// first that is better is kept, so the number is part of the answer.
const beside = 2

// moves bounds the programs that the first polish simulates.
const moves = 90

// polish makes single numbers of the best program faster, by what can be keyed
// in, as long as every limit holds in the full simulation.
func (sv *solver) polish(moves int) error {
	if sv.best == nil {
		return nil
	}
	screen, err := sv.screenOf(*sv.best)
	if err != nil {
		return err
	}
	refused := map[string]bool{}
	for tried := 0; tried < moves && sv.ctx.Err() == nil; {
		next := sv.faster(*sv.best)
		improved := false
		for i := 0; i < len(next) && tried < moves && sv.ctx.Err() == nil && !improved; {
			var batch []program.Schedule
			for ; i < len(next) && len(batch) < beside; i++ {
				if k := key(next[i]); !refused[k] {
					refused[k] = true
					batch = append(batch, next[i])
				}
			}
			ok, err := screen.within(batch)
			if err != nil {
				return err
			}
			tried += len(batch)
			for n, s := range batch {
				if ok[n] {
					sv.offer(s)
					improved = true
					break
				}
			}
		}
		if !improved {
			break
		}
	}
	return nil
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

// faster lists programs that differ in one number from s and are shorter, the
// shortest first.
func (sv *solver) faster(s program.Schedule) []program.Schedule {
	c := sv.st.Controller
	type option struct {
		s program.Schedule
		t float64
	}
	now := hours(s, sv.st.Kiln)
	var all []option
	try := func(change func(segs []program.Segment)) {
		t, ok := sv.changed(s, change)
		if !ok {
			return
		}
		if h := hours(t, sv.st.Kiln); h < now-1 {
			all = append(all, option{t, h})
		}
	}
	unitRate := float64(c.Degree()) / 3600
	soak := 0
	for i, seg := range s.Segments {
		if seg.Purpose == program.PurposeSoak {
			soak = i
		}
	}
	at := s.From
	for i, seg := range s.Segments {
		if d := float64(seg.To.Sub(at)); d != 0 {
			r := math.Abs(float64(seg.Rate))
			steps := []float64{r * 1.1, r * 1.03, r + unitRate}
			if c.Minutes {
				m := math.Round(math.Abs(d) / r / 60)
				steps = []float64{r * 1.1, r * 1.03, math.Abs(d) / math.Max(1, m-1) / 60}
			}
			for _, v := range steps {
				if v > math.Max(float64(c.Fastest), r) || d > 0 && v > float64(sv.frame.Heating)*(1+1e-9) {
					continue
				}
				v = nearest(c, v, r)
				try(func(segs []program.Segment) { segs[i].Rate = unit.Rate(math.Copysign(v, d)) })
			}
		}
		if i < len(s.Segments)-1 && i != soak {
			for _, by := range []float64{-9, -3, -1, 1, 3, 9} {
				try(func(segs []program.Segment) { segs[i].To = seg.To.Add(unit.Delta(by) * c.Degree()) })
			}
		}
		if seg.Hold > time.Minute {
			for _, by := range []time.Duration{seg.Hold / 10, time.Minute} {
				try(func(segs []program.Segment) {
					segs[i].Hold = max(time.Minute, c.Hold(seg.Hold-by))
				})
			}
		}
		at = seg.To
	}
	if soakAt := s.Segments[soak]; sv.frame.From.Sub(soakAt.To) != 0 {
		for _, by := range []float64{-3, -1} {
			to := soakAt.To.Add(unit.Delta(by) * c.Degree())
			if !to.Less(sv.frame.Coolest) {
				try(func(segs []program.Segment) { segs[soak].To = to })
			}
		}
	}
	slices.SortStableFunc(all, func(a, b option) int {
		switch {
		case a.t < b.t-1e-9:
			return -1
		case a.t > b.t+1e-9:
			return 1
		}
		return 0
	})
	out := make([]program.Schedule, len(all))
	for i, o := range all {
		out[i] = o.s
	}
	return out
}

// nearest brings a rate to whole degrees per hour, above the rate it was.
func nearest(c kiln.Controller, v, was float64) float64 {
	if c.Minutes {
		return v
	}
	one := float64(c.Degree()) / 3600
	n := math.Round(v / one)
	if n*one <= was*(1+1e-9) {
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
