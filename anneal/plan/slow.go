package plan

import (
	"math"
	"time"

	"lehr/anneal/formula"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// rounding is what the rounding of floating point numbers may make of two numbers that are one,
// as a share or in the unit at hand; it is far below anything that is shown or keyed in.
const rounding = 1e-9

// A rate over a limit is slowed as if stress went with it, to slowedTo of the limit,
// and a soak is lengthened at most lengthenings times. What is slowed too much is
// taken back in the end (see regains) but where a load is only warmed: from 0.9 to 1
// the hours of 54 loads were the same to 0.1 %. Of their soaks that of a slab of
// 20 mm on its shelf was lengthened most, nine to twelve times (TestSlowing_numbers
// has both for some of them).
var (
	slowedTo     = 0.97
	lengthenings = 16
)

// slowing is what a report over a limit asks of the draft.
type slowing struct {
	ramps  []float64     // what the rate of each is multiplied by
	heat   float64       // what that of heating is
	longer time.Duration // by how much the soak is too short
}

// tooLong reports whether a program takes longer than one is slowed at most.
func (pl *planner) tooLong(rep *verify.Report) bool {
	return pl.most > 0 && rep.Nominal.Total() > pl.most
}

// slow changes the draft where the report exceeds a limit. It answers false
// when nothing is left to change, or it takes too long already.
func (pl *planner) slow(rep *verify.Report) bool {
	if pl.tooLong(rep) {
		return false
	}
	need := slowing{ramps: make([]float64, len(pl.draft.ramps)), heat: 1}
	for i := range need.ramps {
		need.ramps[i] = 1
	}
	soak := soakSegment(rep)
	for _, r := range rep.Pieces {
		pl.slowForTension(rep, r, soak, &need)
		if r.ResidualJudged && r.ResidualTension.Use > 1 {
			pl.slowFreezing(r, slowedTo/r.ResidualTension.Use, need.ramps)
		}
		if r.SoakJudged && r.Relaxed < pl.limits.Relaxed || pl.uneven(r) {
			need.longer = max(need.longer, pl.soakMissing(r))
		}
	}
	return pl.applySlowing(need)
}

// slowForTension asks for slower ramps in the segments in which the tension of a
// piece exceeds its limit, or where it froze.
func (pl *planner) slowForTension(rep *verify.Report, r verify.PieceReport, soak int, need *slowing) {
	frozen := pl.frozenIn(r, soak)
	if frozen {
		pl.slowFreezing(r, slowedTo/r.Tension.Use, need.ramps)
	}
	for seg, use := range r.SpanUse {
		if use <= 1+rounding {
			continue
		}
		f := slowedTo / use
		switch {
		case seg <= soak:
			if pl.heatingHelps(r) {
				need.heat = math.Min(need.heat, f)
			}
		case !frozen:
			i := pl.draft.rampTo(rep.Schedule.Segments[seg].To)
			need.ramps[i] = math.Min(need.ramps[i], f)
			pl.draft.ramps[i].slowed = slowedForTension
		}
	}
}

// heatingHelps reports whether slower heating eases a piece up to the soak. Of a
// core that somebody stated the first minutes are simulated, and no heating
// helps; else they are not.
func (pl *planner) heatingHelps(r verify.PieceReport) bool {
	p := &pl.draft
	hot := !r.Piece.Core.IsZero() && r.Piece.Core != p.from
	brought := hot && r.PeakTime < verify.EvenAt(r.Piece, pl.load.Into, p.from).Seconds()
	return !brought && math.Abs(float64(p.soak.Sub(p.from))) > 0.5 // there is a ramp to slow
}

// applySlowing slows the draft as needed and reports whether that changed it. A
// ramp that is at the slowest rate that can be keyed in is slowed further only if
// all of them are, or where each is a step.
func (pl *planner) applySlowing(need slowing) (changed bool) {
	p := &pl.draft
	stepped := len(p.ramps) > 0 && p.stepped(&pl.st.Controller)
	slowest := float64(pl.st.Controller.SlowestKeyed()) * (1 + rounding)
	room := false // some ramp can still be keyed in slower
	for i, f := range need.ramps {
		room = room || f < 1 && p.ramps[i].rate > slowest
	}
	for i, f := range need.ramps {
		r := &p.ramps[i]
		if at := r.keyed(); f < 1 && (!room || stepped || r.rate > slowest) {
			r.rate = pl.slower(r.rate, f)
			changed = changed || r.keyed() < at
		}
	}
	if need.heat < 1 {
		p.heatRate = pl.slower(p.heatRate, need.heat)
		changed = true
	}
	if need.longer > 0 && pl.longer < lengthenings {
		p.hold += need.longer
		pl.longer++
		changed = true
	}
	return changed
}

// slower scales a rate, but not in one step past the slowest that can be keyed
// in: what is refused must be needed, not a step too long.
func (pl *planner) slower(rate, f float64) float64 {
	slowest := float64(pl.st.Controller.SlowestKeyed())
	if rate > slowest*(1+rounding) {
		return math.Max(rate*f, slowest)
	}
	return rate * f
}

// soakMissing returns by how much the soak is too short for a piece: the slowest
// term has to relax the share that is too much, the slowest mode to even out
// the difference that is. Where neither is known it is a quarter more.
func (pl *planner) soakMissing(r verify.PieceReport) time.Duration {
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
	if unrelaxed, bears := 1-r.Relaxed, 1-pl.limits.Relaxed; unrelaxed > bears {
		more = max(more, unit.Seconds(slowest*math.Log(unrelaxed/bears)))
	}
	if lag, bears := math.Abs(float64(r.SoakLag)), evenAim*float64(pl.limits.Even); r.EvenJudged && lag > bears {
		more = max(more, unit.Seconds(mode.Seconds()*math.Log(lag/bears)))
	}
	return more
}

// frozenIn reports whether the greatest tension of a piece is one that was set
// when it froze and comes out as it cools: inside, or once it has evened out.
// Slowing the ramp in which it shows would raise it; the remedy is to freeze
// slower.
func (pl *planner) frozenIn(r verify.PieceReport, soak int) bool {
	if r.Tension.Use <= 1+rounding || r.PeakSegment <= soak {
		return false
	}
	return !r.PeakPlace.AtSurface() || r.Tension.Use > r.SpanUse[r.PeakSegment]*(1+rounding)
}

// sameEnd is how far a segment may end below its ramp and still be of it [K]: a
// controller rounds by half a degree, and ramps that fall one or two end elsewhere.
const sameEnd = 1.1

// rampTo returns the index of the ramp that a segment to a temperature belongs
// to; a hold or a ramp split over several segments belongs to one ramp.
func (p *draft) rampTo(to unit.Temp) int {
	for i, r := range p.ramps {
		if float64(to.Sub(r.to)) > -sameEnd {
			return i
		}
	}
	return len(p.ramps) - 1
}

// stillSets is how far below the set point a ramp still counts for what is left:
// little sets there, but of a ramp that is twenty times as fast as those above
// that is as much as of them. See lastFaster.
const stillSets unit.Delta = 20

// timesAbove is how many times faster than the ramp above it a ramp may be in
// which something still sets, where what is left decides.
const timesAbove = 20

// freezing reports for each ramp whether a piece may still freeze in it: its
// middle may be hotter than the kiln by the lag that was simulated.
func (pl *planner) freezing(r verify.PieceReport) []bool {
	out := make([]bool, len(pl.draft.ramps))
	top := pl.draft.soak
	low := piece.SetPoint(r.Piece.Glass).Add(-r.MaxLag - pl.stillSets)
	for i, ramp := range pl.draft.ramps {
		out[i] = low.Less(top)
		top = ramp.to
	}
	return out
}

// slowFreezing scales the ramps in which a piece may still freeze, and the one
// below to no more than so many times the rate above.
func (pl *planner) slowFreezing(r verify.PieceReport, f float64, scale []float64) {
	for i, freezes := range pl.freezing(r) {
		if !freezes {
			continue
		}
		ramps := pl.draft.ramps
		scale[i] = math.Min(scale[i], f)
		if i > 0 {
			scale[i] = math.Min(scale[i], timesAbove*scale[i-1]*ramps[i-1].rate/ramps[i].rate)
		}
		ramps[i].slowed = slowedForResidual
	}
}
