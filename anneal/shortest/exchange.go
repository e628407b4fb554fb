package shortest

import (
	"math"
	"slices"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/program"
	"lehr/anneal/verify"

	"lehr/glass/unit"
)

// variation is a program that differs from another in one number.
type variation struct {
	s       program.Schedule
	time    float64 // longer than the other [s]
	left    float64 // more tension left, as a share of its limit
	tense   bool    // it exceeds the limit of tension by itself
	segment int
	apply   func([]program.Segment)
}

// vary lists changes of single numbers, both faster and slower ones, that can
// be keyed in. Their left is not filled in.
func (sv *solver) vary(s program.Schedule) []variation {
	c := sv.st.Controller
	now := hours(s, sv.st.Kiln)
	var all []variation
	seen := map[string]bool{key(s): true}
	try := func(segment int, change func([]program.Segment)) {
		t, ok := sv.changed(s, change)
		if !ok || seen[key(t)] {
			return
		}
		seen[key(t)] = true
		all = append(all, variation{s: t, time: hours(t, sv.st.Kiln) - now, segment: segment, apply: change})
	}
	one := float64(c.Degree()) / 3600
	at := s.From
	cooling := false
	for i, seg := range s.Segments {
		d := float64(seg.To.Sub(at))
		if cooling && d != 0 {
			r := math.Abs(float64(seg.Rate))
			for _, v := range []float64{r * 0.94, r - one, r + one, r * 1.06} {
				if c.Minutes {
					m := math.Round(math.Abs(d) / r / 60)
					v = math.Abs(d) / 60 / math.Max(1, math.Round(m*r/v))
				} else {
					v = math.Round(v/one) * one
				}
				if v < float64(c.Slowest)*(1-1e-9) || v > math.Max(r, float64(c.Fastest)) {
					continue
				}
				try(i, func(segs []program.Segment) { segs[i].Rate = unit.Rate(-v) })
			}
			if i < len(s.Segments)-1 {
				for _, by := range []float64{-6, -2, 2, 6} {
					to := seg.To.Add(unit.Delta(by) * c.Degree())
					try(i, func(segs []program.Segment) { segs[i].To = to })
				}
			}
		}
		cooling = cooling || seg.Purpose == program.PurposeSoak
		at = seg.To
	}
	return all
}

// Bounds of the exchange: how often all variations are measured, and how many
// pairs of them are simulated fully each time.
const (
	exchanges = 12
	pairs     = 32
)

// exchange makes one number of the best program faster and another slower,
// where together they save time: single numbers alone are stuck once the
// tension left is at its limit.
func (sv *solver) exchange() error {
	for range exchanges {
		if sv.best == nil || sv.ctx.Err() != nil {
			return nil
		}
		s := *sv.best
		e, err := sv.excess(s)
		if err != nil {
			return err
		}
		all := sv.vary(s)
		if err := sv.weigh(s, all); err != nil {
			return err
		}
		type pair struct {
			a, b int
			time float64
		}
		var promising []pair
		for a := range all {
			for b := range a {
				x, y := all[a], all[b]
				if x.time+y.time < -30 && e.left+x.left+y.left < 1.0005 && x.left*y.left <= 0 && !x.tense && !y.tense {
					promising = append(promising, pair{a, b, x.time + y.time})
				}
			}
		}
		slices.SortStableFunc(promising, func(a, b pair) int {
			switch {
			case a.time < b.time:
				return -1
			case a.time > b.time:
				return 1
			}
			return 0
		})
		screen, err := sv.screenOf(s)
		if err != nil {
			return err
		}
		before := sv.seconds
		for i := 0; i < min(len(promising), pairs) && sv.seconds == before; i += beside {
			var batch []program.Schedule
			for _, p := range promising[i:min(len(promising), i+beside)] {
				if t, ok := sv.changed(s, all[p.a].apply, all[p.b].apply); ok {
					batch = append(batch, t)
				}
			}
			if err := sv.offerWithin(screen, batch); err != nil {
				return err
			}
		}
		if sv.seconds == before {
			return nil
		}
		if err := sv.polish(moves / 4); err != nil {
			return err
		}
	}
	return nil
}

// offerWithin offers the programs that keep every limit.
func (sv *solver) offerWithin(c *screen, batch []program.Schedule) error {
	ok, err := c.within(batch)
	if err != nil {
		return err
	}
	for n, s := range batch {
		if ok[n] {
			sv.offer(s)
		}
	}
	return nil
}

// weigh fills in how much tension left each variation adds in the worst piece,
// by the coarse simulation.
func (sv *solver) weigh(s program.Schedule, all []variation) error {
	worst := func(s program.Schedule) (e, tension float64, err error) {
		for k := range sv.evaluator.Groups {
			if !sv.follows(k) {
				continue
			}
			m, err := sv.measure(s, k, verify.Coarse, nil)
			if err != nil {
				return 0, 0, err
			}
			e = math.Max(e, m.WorstResidual()*sv.bias[k])
			tension = math.Max(tension, m.Tension())
		}
		return e, tension, nil
	}
	base, baseTension, err := worst(s)
	if err != nil {
		return err
	}
	return parallel.Each(sv.ctx, len(all), func(i int) error {
		l, t, err := worst(all[i].s)
		all[i].left = l - base
		all[i].tense = t > math.Max(1.001, baseTension+1e-4)
		return err
	})
}
