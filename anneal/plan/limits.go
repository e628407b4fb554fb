package plan

import (
	"math"
	"slices"
	"time"

	"lehr/anneal/formula"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/rule"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// tries bounds the loop of settle.
const tries = 24

// regains is how often the last step of slowToLimits is halved: its steps are at
// least 3 % long, and an eighth of one is no longer seen in the hours.
const regains = 3

// refreshes is how often the worst case is found anew for a program that was
// brought to its limits with that of another.
const refreshes = 3

// slowToLimits rounds, simulates and slows until the limits hold, then takes back
// what the last step slowed too much. Between, only the middle reading of each
// glass is simulated, with the worst case of the program before.
func (pl *planner) slowToLimits() (*verify.Report, error) {
	best, err := pl.judged(nil)
	if err != nil {
		return nil, err
	}
	if best, err = pl.quicken(best); err != nil {
		return nil, err
	}
	for range refreshes {
		if best.Within {
			break
		}
		if best, err = pl.slowed(best); err != nil {
			return nil, err
		}
	}
	rep, err := LeaveToKiln(pl.ctx, best)
	if err != nil {
		return nil, err
	}
	return pl.finish(rep)
}

// slowed slows the draft until its limits hold with the worst case of a report,
// and judges the outcome by its own.
func (pl *planner) slowed(like *verify.Report) (*verify.Report, error) {
	at := like
	var over *draft // the last one that was over a limit
	for range tries {
		was := pl.draft.clone()
		over = &was
		if !pl.slow(at) {
			break
		}
		if err := pl.bearsSoak(); err != nil {
			return nil, err
		}
		var err error
		if at, err = pl.judged(like); err != nil {
			return nil, err
		}
		if at.Within {
			pl.regain(at, like, *over)
			break
		}
	}
	return pl.judged(nil)
}

// judged rounds the draft and judges the program, with the worst case of another
// report where there is one.
func (pl *planner) judged(like *verify.Report) (*verify.Report, error) {
	s, err := pl.draft.round(pl.st)
	if err != nil {
		return nil, err
	}
	return verify.Judge(pl.ctx, s, pl.load, pl.st, pl.limits, verify.DefaultSettings, like)
}

// regain looks between a draft that is over a limit and the one after it, whose
// report is given, for the fastest that is within: first in the cooling, then in
// the heating, which limit nothing of each other.
func (pl *planner) regain(best, like *verify.Report, over draft) {
	between := func(slow, fast float64) float64 { return math.Sqrt(slow * fast) }
	try := func(mix func(slow, fast, mid *draft)) {
		slow, fast := pl.draft, over
		for range regains {
			mid := slow.clone()
			mix(&slow, &fast, &mid)
			pl.draft = mid
			if rep, err := pl.judged(like); err == nil && rep.Within && rep.Actual.Total() <= best.Actual.Total() {
				slow, best = mid, rep
			} else {
				fast = mid
			}
		}
		pl.draft = slow
	}
	if !slices.EqualFunc(pl.draft.ramps, over.ramps, func(a, b ramp) bool { return a.rate == b.rate }) {
		try(func(slow, fast, mid *draft) {
			for i := range mid.ramps {
				mid.ramps[i].rate = between(slow.ramps[i].rate, fast.ramps[i].rate)
			}
		})
	}
	if pl.draft.heatRate != over.heatRate {
		try(func(slow, fast, mid *draft) { mid.heatRate = between(slow.heatRate, fast.heatRate) })
	}
}

// quickenFrom is the share of every limit below which a first draft is made
// faster: the rule knows neither light inside the glass nor a piece in its plane.
const quickenFrom = 0.93

// quicken makes all cooling of a first draft that uses up no limit faster by what
// is left of the limit used most, but not a published rule, which stands as it
// is. The draft is then over a limit, or uses one up; the report is its own.
func (pl *planner) quicken(rep *verify.Report) (*verify.Report, error) {
	if !rep.Within || pl.o.Rule != "" && pl.o.Rule != rule.Stress {
		return rep, nil
	}
	use := 0.01
	for _, r := range rep.Pieces {
		use = math.Max(use, math.Max(r.Left.Use, r.Tension.Use))
	}
	if use > quickenFrom || !rep.Pieces[0].ResidualAsked {
		return rep, nil
	}
	slow := pl.draft.clone()
	for i := range pl.draft.ramps {
		pl.draft.ramps[i].rate /= math.Max(use, 0.5) // never twice as fast: stress is not quite linear
	}
	next, err := pl.judged(rep)
	if err != nil {
		pl.draft = slow
		return rep, nil
	}
	if !next.Within {
		fast := pl.draft
		pl.draft = slow
		pl.regain(rep, rep, fast)
	}
	return pl.judged(nil)
}

// slow changes the proposal where the report exceeds a limit. It answers false
// when nothing is left to change.
func (pl *planner) slow(rep *verify.Report) bool {
	p := &pl.draft
	changed := false
	scale := make([]float64, len(p.ramps))
	for i := range scale {
		scale[i] = 1
	}
	heat, longer := 1.0, time.Duration(0)
	soakSeg := 0
	for i, seg := range rep.Schedule.Segments {
		if seg.Purpose == program.PurposeSoak {
			soakSeg = i
		}
	}
	for _, r := range rep.Pieces {
		frozen := pl.frozenIn(r, soakSeg)
		if frozen {
			pl.slowFreezing(r, math.Max(0.35, 0.97/r.Tension.Use), scale)
		}
		for seg, use := range r.SpanUse {
			if use <= 1+1e-9 {
				continue
			}
			f := math.Max(0.3, 0.97/use)
			if seg <= soakSeg {
				brought := r.PeakTime < verify.EvenAt(r.Piece, pl.load.Into, p.from).Seconds() // from the flame: no heating helps
				if !brought && math.Abs(float64(p.soak.Sub(p.from))) > 0.5 {                   // there is a ramp to slow
					heat = math.Min(heat, f)
				}
				continue
			}
			if !frozen {
				i := p.rampTo(rep.Schedule.Segments[seg].To)
				scale[i] = math.Min(scale[i], f)
				p.ramps[i].slowed = slowedForTension
			}
		}
		if r.ResidualAsked && r.Left.Use > 1 {
			f := math.Max(0.35, 0.97/r.Left.Use)
			pl.slowFreezing(r, f, scale)
		}
		if r.SoakAsked && (r.Relaxed < pl.limits.Relaxed || r.EvenAsked && math.Abs(float64(r.SoakLag)) > float64(pl.limits.Even)) {
			longer = max(longer, pl.missing(r))
		}
	}
	slowest := float64(pl.st.Controller.SlowestKeyed())
	room := false // some ramp can still be keyed in slower
	for i, f := range scale {
		room = room || f < 1 && p.ramps[i].rate > slowest*(1+1e-9)
	}
	for i, f := range scale {
		if f < 1 && (!room || p.ramps[i].rate > slowest*(1+1e-9)) {
			p.ramps[i].rate = pl.slower(p.ramps[i].rate, f)
			changed = true
		}
	}
	if heat < 1 {
		p.heatRate = pl.slower(p.heatRate, heat)
		changed = true
	}
	if longer > 0 && pl.longer < 16 {
		p.hold += longer
		pl.longer++
		changed = true
	}
	return changed
}

// slower scales a rate, but not in one step past the slowest that can be keyed
// in: what is refused must be needed, not a step too long.
func (pl *planner) slower(rate, f float64) float64 {
	slowest := float64(pl.st.Controller.SlowestKeyed())
	if rate > slowest*(1+1e-9) {
		return math.Max(rate*f, slowest)
	}
	return rate * f
}

// missing returns by how much the soak is too short for a piece: the slowest
// term has to relax the share that is too much, the slowest mode to even out
// the difference that is.
func (pl *planner) missing(r verify.PieceReport) time.Duration {
	more := time.Minute
	tau, mode, err := soakTimes(r.Piece, pl.draft.soak)
	if err != nil {
		return max(more, pl.draft.hold/4)
	}
	slowest := tau.Seconds()
	if r.Piece.Glass.Relaxation != "maxwell" {
		_, times := formula.SixTermShape()
		slowest *= times[len(times)-1]
	}
	if left, bears := 1-r.Relaxed, 1-pl.limits.Relaxed; left > bears {
		more = max(more, unit.Seconds(slowest*math.Log(left/bears)))
	}
	if lag, bears := math.Abs(float64(r.SoakLag)), float64(pl.limits.Even); r.EvenAsked && lag > bears {
		more = max(more, unit.Seconds(mode.Seconds()*math.Log(lag/bears)))
	}
	return more
}

// frozenIn reports whether the greatest tension of a piece is one that was set
// when it froze and comes out as it cools: inside, or once it has evened out.
// Slowing the ramp in which it shows would raise it; the remedy is to freeze
// slower.
func (pl *planner) frozenIn(r verify.PieceReport, soak int) bool {
	if r.Tension.Use <= 1+1e-9 || r.PeakSegment <= soak {
		return false
	}
	return !r.PeakPlace.AtSurface() || r.Tension.Use > r.SpanUse[r.PeakSegment]*(1+1e-9)
}

// rampTo returns the index of the ramp that a segment to a temperature belongs
// to; a hold or a ramp split over several segments belongs to one ramp.
func (p draft) rampTo(to unit.Temp) int {
	for i, r := range p.ramps {
		if float64(to.Sub(r.to)) > -1.1 { // up to rounding to a degree
			return i
		}
	}
	return len(p.ramps) - 1
}

// slowFreezing scales the ramps in which a piece may still freeze: its middle
// may be hotter than the kiln by the lag that was simulated.
func (pl *planner) slowFreezing(r verify.PieceReport, f float64, scale []float64) {
	top := pl.draft.soak
	low := piece.SetPoint(r.Piece.Glass).Add(-r.MaxLag)
	for i, r := range pl.draft.ramps {
		if low.Less(top) {
			scale[i] = math.Min(scale[i], f)
			pl.draft.ramps[i].slowed = slowedForLeft
		}
		top = r.to
	}
}
