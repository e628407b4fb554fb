package shortest

import (
	"math"

	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"

	"lehr/glass/unit"
)

// Settings of tune. Weights are taken within a quarter of the limit: what is left
// is nearly linear that far. A group that leaves less than half of what the worst
// one does cannot overtake it within the trust of a round. The coarse simulation is
// never wrong by more than mostBias; more is a piece that leaves next to nothing, and
// of one that leaves less than leastResidual of the limit there is nothing to compare.
// Rates are scaled by tuneLeast to tuneMost at a time, within which what is left
// still tells how far to go.
const (
	tunings       = 4
	tuned         = 0.8
	follows       = 0.5
	mostBias      = 0.1
	tuneLeast     = 0.2
	tuneMost      = 4.0
	leastResidual = 1e-6
)

// tune scales the rates of a staircase so that the worst piece is near its
// limit of tension left, and corrects the coarse simulation there.
func (sv *solver) tune(g grid, base draft, soak int, rate []float64, scale bool) error {
	for try := range tunings {
		s := g.stairs(base, soak, rate).exact()
		coarse, err := sv.measureAll(s, verify.Coarse)
		if err != nil {
			return err
		}
		worst := 0.0
		for _, m := range coarse {
			worst = math.Max(worst, m.Residual)
		}
		if !scale || try == tunings-1 || worst > tuned && worst < 1/tuned {
			return sv.correct(s, coarse)
		}
		f := math.Max(tuneLeast, math.Min(tuneMost, 1/math.Max(worst, leastResidual)))
		for j := range min(g.frozenFrom, len(rate)) {
			rate[j] = math.Max(sv.slowest, math.Min(rate[j]*f, math.Min(sv.fastest, math.Max(g.natural[j], rate[j]))))
		}
	}
	return nil
}

// correct finds the worst case for programs like one that was simulated coarsely,
// the bias of the coarse simulation there, and which groups may decide.
func (sv *solver) correct(s program.Schedule, coarse []verify.Measured) error {
	worst := 0.0
	for _, m := range coarse {
		worst = math.Max(worst, m.Residual)
	}
	sv.leading, sv.watched = sv.leading[:0], sv.watched[:0]
	for _, m := range coarse {
		leads := m.Residual >= follows*worst
		sv.leading = append(sv.leading, leads)
		sv.watched = append(sv.watched, leads || m.Tension() >= quietTension)
	}
	full, err := sv.calibrate(s)
	if err != nil {
		return err
	}
	if coarse, err = sv.measureWatched(s); err != nil {
		return err
	}
	for k, m := range coarse {
		sv.bias[k] = bias(full[k].Residual, m.Residual, leastResidual)
		sv.tensionBias[k] = tensionBias(full[k], m)
	}
	return nil
}

// bias is what a full simulation finds over what a coarse one does, 1 where that is so
// little that there is nothing to compare.
func bias(full, coarse, least float64) float64 {
	if coarse <= least {
		return 1
	}
	return math.Max(1-mostBias, math.Min(1+mostBias, full/coarse))
}

// tensionBias is that of the greatest tension, which the coarse simulation finds up to a
// tenth off where the glass sets, either way.
func tensionBias(full, coarse verify.Measured) float64 {
	return bias(full.Tension(), coarse.Tension(), littleTension)
}

// littleTension is a share of the limit that decides nothing.
const littleTension = 0.1

// quietTension is the share of the limit of tension below which a group is not
// watched while programs are drafted: rates change by less than its inverse. What
// is drafted is judged in every group.
const quietTension = 0.5

// Settings of slowToLimits. A draft is done once it leaves enough of the limit: the
// four thousandths above are what whole degrees and the noise of the coarse
// simulation take. One step changes rates by no more than leastFactor and
// mostFactor, within which what is left is nearly proportional to them; a rate that
// changes by less than unmoved has not changed.
const (
	slowSteps   = 8
	enough      = 0.996
	aimedAt     = 0.999
	leastFactor = 0.4
	mostFactor  = 1.6
	unmoved     = 1e-4
	// spanMargin is added to a coarse tension, overResidual is by how much a tension
	// must exceed what is left for the rate of the moment to be its reason.
	spanMargin   = 1.002
	overResidual = 1.003
)

// slowToLimits brings a draft to its limits by scaling its ramps. The answer is
// false if it could not be brought within.
func (sv *solver) slowToLimits(d draft) (draft, bool, error) {
	d = d.clone()
	var kept draft
	found, keptTime := false, math.Inf(1)
	most := make([]float64, len(d.cools)) // rates known to exceed the limit of tension
	for i := range most {
		most[i] = math.Inf(1)
	}
	for range slowSteps {
		if sv.ctx.Err() != nil {
			break
		}
		residual, span, err := sv.drafted(d)
		if err != nil {
			return d, false, err
		}
		tense := false
		for i, t := range span {
			if t > 1 && t > residual*overResidual { // more than what is left explains
				most[i] = math.Min(most[i], d.cools[i].rate/t)
				tense = true
			}
		}
		if t := hours(d.exact(), sv.st.Kiln); residual <= 1 && !tense && t < keptTime {
			kept, keptTime, found = d.clone(), t, true
			if residual > enough {
				break
			}
		}
		if !sv.scale(&d, residual, most) {
			break
		}
	}
	if !found {
		return d, false, nil
	}
	return kept, true, nil
}

// drafted measures what a draft leaves, as a share of the target, and its tension
// in each cooling ramp, as a share of the limit.
func (sv *solver) drafted(d draft) (residual float64, span []float64, err error) {
	all, err := sv.measureWatched(d.exact())
	if err != nil {
		return 0, nil, err
	}
	skip := max(1, len(d.heats))
	span = make([]float64, len(d.cools))
	for k, m := range all {
		residual = math.Max(residual, m.Residual/sv.target(k))
		for i := range span {
			span[i] = math.Max(span[i], m.Span[skip+i]*spanMargin*sv.tensionBias[k])
		}
	}
	return residual, span, nil
}

// scale changes the rates of a draft that leaves a share of the target, none above
// its most. It answers false when nothing changes.
func (sv *solver) scale(d *draft, residual float64, most []float64) bool {
	changed := false
	at := d.soak
	for i := range d.cools {
		c := &d.cools[i]
		r := c.rate
		if residual > 1 || residual < enough {
			f := math.Max(leastFactor, math.Min(mostFactor, aimedAt/residual))
			if at > sv.frozenBelow() && (f < 1 || r < sv.natural(unit.Kelvin(at))) {
				r *= f
			}
		}
		r = math.Max(sv.slowest, math.Min(r, math.Min(most[i], sv.fastest)))
		changed = changed || math.Abs(r/c.rate-1) > unmoved
		c.rate, at = r, c.to
	}
	return changed
}

// follows says that a group is near enough to the limit of tension left for the
// search to follow it; the others are only checked.
func (sv *solver) follows(group int) bool { return group < len(sv.leading) && sv.leading[group] }

// frozenBelow is the temperature below which no glass of the load relaxes [K].
func (sv *solver) frozenBelow() float64 {
	least := math.Inf(1)
	for _, k := range sv.evaluator.Groups {
		least = math.Min(least, piece.SetPoint(k.Piece.Glass).Kelvin())
	}
	return least
}
