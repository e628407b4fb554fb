package shortest

import (
	"math"

	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"

	"lehr/glass/unit"
)

// tune scales the rates of a staircase so that the worst piece is near its
// limit of tension left, and finds the bias of the coarse simulation there.
func (sv *solver) tune(g grid, base draft, soak int, rate []float64, scale bool) error {
	for try := range 4 {
		s := g.stairs(base, soak, rate).exact()
		coarse, err := sv.measureAll(s, verify.Coarse)
		if err != nil {
			return err
		}
		worst := 0.0
		for _, m := range coarse {
			worst = math.Max(worst, m.WorstResidual())
		}
		if !scale || try == 3 || worst > 0.8 && worst < 1.25 {
			full, err := sv.measureAll(s, verify.Full)
			if err != nil {
				return err
			}
			sv.leading, sv.watched = sv.leading[:0], sv.watched[:0]
			for _, m := range coarse {
				leads := m.WorstResidual() >= 0.5*worst
				sv.leading = append(sv.leading, leads)
				sv.watched = append(sv.watched, leads || m.Tension() >= quietTension)
			}
			for k := range coarse {
				sv.bias[k] = 1
				if c := coarse[k].WorstResidual(); c > 1e-6 {
					sv.bias[k] = math.Max(0.9, math.Min(1.1, full[k].WorstResidual()/c))
				}
			}
			return nil
		}
		f := math.Max(0.2, math.Min(4, 1/math.Max(worst, 1e-3)))
		for j := range min(g.wake, len(rate)) {
			rate[j] = math.Max(sv.slowest, math.Min(rate[j]*f, math.Min(sv.fastest, math.Max(g.nat[j], rate[j]))))
		}
	}
	return nil
}

// quietTension is the share of the limit of tension below which a group is not
// watched while programs are drafted: rates change by less than its inverse. What
// is drafted is judged in every group.
const quietTension = 0.5

// settle brings a draft to its limits by scaling its ramps. The answer is
// false if it could not be brought within.
func (sv *solver) settle(d draft) (draft, bool, error) {
	d = d.clone()
	var kept draft
	found := false
	keptTime := math.Inf(1)
	skip := max(1, len(d.heats))
	most := make([]float64, len(d.cools)) // rates known to exceed the limit of tension
	for i := range most {
		most[i] = math.Inf(1)
	}
	for range 8 {
		if sv.ctx.Err() != nil {
			break
		}
		all, err := sv.measureWatched(d.exact())
		if err != nil {
			return d, false, err
		}
		e := 0.0
		span := make([]float64, len(d.cools))
		for k, m := range all {
			e = math.Max(e, m.WorstResidual()/sv.target(k))
			for i := range span {
				span[i] = math.Max(span[i], m.Span[skip+i]*1.002)
			}
		}
		tense := false
		for i, t := range span {
			if t > 1 && t > e*1.003 { // more than what is left explains
				most[i] = math.Min(most[i], d.cools[i].rate/t)
				tense = true
			}
		}
		if t := hours(d.exact(), sv.st.Kiln); e <= 1 && !tense && t < keptTime {
			kept, keptTime, found = d.clone(), t, true
			if e > 0.996 {
				break
			}
		}
		changed := false
		at := d.soak
		for i := range d.cools {
			c := &d.cools[i]
			r := c.rate
			if e > 1 || e < 0.996 {
				if f := math.Max(0.4, math.Min(1.6, 0.999/e)); at > sv.wakes() && (f < 1 || r < sv.natural(unit.Kelvin(at))) {
					r *= f
				}
			}
			r = math.Max(sv.slowest, math.Min(r, math.Min(most[i], sv.fastest)))
			changed = changed || math.Abs(r/c.rate-1) > 1e-4
			c.rate, at = r, c.to
		}
		if !changed {
			break
		}
	}
	if !found {
		return d, false, nil
	}
	return kept, true, nil
}

// follows says that a kind is near enough to the limit of tension left for the
// search to follow it; the others are only checked.
func (sv *solver) follows(kind int) bool { return kind < len(sv.leading) && sv.leading[kind] }

// wakes is the temperature below which no glass of the load relaxes [K].
func (sv *solver) wakes() float64 {
	least := math.Inf(1)
	for _, k := range sv.evaluator.Groups {
		least = math.Min(least, piece.SetPoint(k.Piece.Glass).Kelvin())
	}
	return least
}

// land brings a draft to the controller in two ways: once by slower rates, and
// where a whole degree per hour is a large step also by wider slow ramps.
func (sv *solver) land(d draft) error {
	if err := sv.landSlower(d); err != nil {
		return err
	}
	return sv.landWider(d)
}

// landWider rounds slow rates to the nearest that can be keyed in, even a little
// up, and makes up for it by moving the breaks of the slower ramps apart until
// the full simulation finds the program within every limit.
func (sv *solver) landWider(d draft) error {
	d = d.clone()
	up := false
	for i := range d.cools {
		c := &d.cools[i]
		if sv.degree > 0 && c.rate < 30*sv.degree {
			r := math.Max(math.Round(c.rate/sv.degree), math.Ceil(sv.slowest/sv.degree-1e-6)) * sv.degree
			up = up || math.Abs(r/c.rate-1) > 1e-6
			c.rate = r
		}
	}
	if !up {
		return nil
	}
	for range 6 {
		s, err := d.rounded(sv.st)
		if err != nil {
			return nil // it cannot be keyed in
		}
		e, err := sv.excess(s)
		if err != nil {
			return err
		}
		if e.within() {
			sv.offer(s)
			return nil
		}
		if e.left <= 1 || !e.soaked || e.left > 1.15 {
			return nil
		}
		by := math.Max(1, 0.5*(e.left-1)*60) * sv.perDegree()
		for i := range len(d.cools) - 1 {
			c, next := &d.cools[i], d.cools[i+1]
			top := d.soak
			if i > 0 {
				top = d.cools[i-1].to
			}
			if c.rate < next.rate {
				c.to = math.Max(c.to-by, next.to+1)
			} else {
				c.to = math.Min(c.to+by, top-1)
			}
		}
	}
	return nil
}

// perDegree is one degree of the controller [K].
func (sv *solver) perDegree() float64 { return float64(sv.st.Controller.Degree()) }

// landSlower rounds rates toward slow and slows what exceeds a limit until the
// full simulation finds the program within every limit.
func (sv *solver) landSlower(d draft) error {
	d = d.clone()
	skip := max(1, len(d.heats))
	for range 10 {
		s, err := d.rounded(sv.st)
		if unkeyable(err) {
			return nil // this candidate's fault alone
		}
		if err != nil {
			return err
		}
		e, err := sv.excess(s)
		if err != nil {
			return err
		}
		if e.within() {
			sv.offer(s)
			return nil
		}
		if !e.soaked {
			d.hold = d.hold*1.06 + 60
		}
		at := d.soak
		for i := range d.cools {
			c := &d.cools[i]
			if e.left > 1 && at > sv.wakes() {
				c.rate *= math.Max(0.5, 0.998/e.left)
			}
			if n := skip + i; n < len(e.span) && len(e.span) == skip+len(d.cools) && e.span[n] > 1 && e.span[n] > e.left*1.003 {
				c.rate *= 0.995 / e.span[n]
			} else if len(e.span) != skip+len(d.cools) && e.tension() > 1 && e.left <= 1 {
				c.rate *= 0.97
			}
			c.rate = math.Max(c.rate, sv.slowest)
			at = c.to
		}
		for i := range d.heats {
			if i < len(e.span) && e.span[i] > 1 {
				d.heats[i].rate *= 0.99 / e.span[i]
				if i == 1 { // fast came too soon
					d.heats[0].to += 4
				}
			}
		}
		if len(d.heats) == 2 && d.heats[0].to > d.soak-8 {
			d.heats = []ramp{{d.soak, d.heats[0].rate}}
			skip = 1
		}
	}
	return nil
}

// excess is how near to its limits a program is in the worst piece.
type excess struct {
	left   float64
	span   []float64
	soaked bool
}

func (e excess) tension() float64 {
	t := 0.0
	for _, s := range e.span {
		t = math.Max(t, s)
	}
	return t
}

func (e excess) within() bool { return e.left <= 1 && e.soaked && e.tension() <= 1 }

// excess simulates a program fully in every kind.
func (sv *solver) excess(s program.Schedule) (excess, error) {
	e := excess{soaked: true, span: make([]float64, len(s.Segments))}
	all, err := sv.measureAll(s, verify.Full)
	if err != nil {
		return e, err
	}
	for _, m := range all {
		e.left = math.Max(e.left, m.WorstResidual())
		for i, t := range m.Span {
			e.span[i] = math.Max(e.span[i], t)
		}
		e.soaked = e.soaked && sv.soaked(m)
	}
	return e, nil
}
