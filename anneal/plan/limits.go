package plan

import (
	"math"
	"slices"
	"time"

	"lehr/anneal/formula"
	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// tries bounds the loop of settle.
const tries = 24

// The last step of slowToLimits, at least 3 % long, is halved until less than
// finestStep of a rate is left, which is no longer seen in the hours, and at most
// regains times.
const (
	finestStep = 0.004
	regains    = 8
)

// refreshes is how often the worst case is found anew for a program that was
// brought to its limits with that of another; the last times leave what the last
// step slowed too much.
const (
	refreshes = 6
	tightened = 3
)

// slowToLimits rounds, simulates and slows until the limits hold, then takes back
// what slowing for one limit left unused of another. Between, only the middle
// reading of each glass is simulated, with the worst case of the program before.
func (pl *planner) slowToLimits() (*verify.Report, error) {
	best, err := pl.judged(nil) // bodies of revolution by their bounds
	if err != nil {
		return nil, err
	}
	if best, err = pl.brought(best); err != nil {
		return nil, err
	}
	for _, change := range []func(*verify.Report) (*verify.Report, error){pl.faster, pl.soakLonger, pl.lastFaster} {
		for range rounds {
			next, err := change(best)
			if err != nil {
				return nil, err
			}
			gain := 1 - next.Nominal.Total().Hours()/best.Nominal.Total().Hours()
			best = next
			if gain < worthwhile {
				break
			}
		}
	}
	if best.Borrows() {
		pl.own = true
		if best, err = pl.again(best); err == nil {
			best, err = pl.brought(best)
		}
		if err != nil {
			return nil, err
		}
	}
	rep, err := pl.anyKiln(best)
	if err != nil {
		return nil, err
	}
	if rep, err = pl.finish(rep); err != nil {
		return nil, err
	}
	if !(pl.o.quiet && rep.Within) { // bodies as they are are within all the more
		if err := rep.Refine(pl.ctx); err != nil {
			return nil, err
		}
	}
	return rep, verify.Evening(pl.ctx, rep)
}

// brought slows a program until its limits hold.
func (pl *planner) brought(best *verify.Report) (*verify.Report, error) {
	for i := range refreshes {
		if pl.holds(best) {
			break
		}
		next, err := pl.slowed(best, i < tightened)
		if err != nil {
			return nil, err
		}
		if next == best { // nothing that can be slowed helps, as where the kiln is opened too hot
			break
		}
		best = next
	}
	return best, nil
}

// anyKiln leaves to the kiln what can be, and slows further where a kiln that
// nobody measured may pull harder than the program as told.
func (pl *planner) anyKiln(best *verify.Report) (*verify.Report, error) {
	for i := 0; ; i++ {
		held := best.Within
		rep, err := LeaveToKiln(pl.ctx, best)
		if err != nil {
			return nil, err
		}
		if err := verify.OverKilns(pl.ctx, rep); err != nil {
			return nil, err
		}
		if rep.Within || !held || i == refreshes || !pl.slow(rep) {
			return rep, nil
		}
		if best, err = pl.again(rep); err != nil {
			return nil, err
		}
	}
}

// evenAim is the share of the lag borne at the end of the soak that a program is
// made for: the lag falls by e in minutes, and a finer simulation finds it 3 %
// greater where the one of the planner is at its coarsest.
const evenAim = 0.97

// holds reports whether a program is within its limits, and the soak long enough
// for the planner.
func (pl *planner) holds(rep *verify.Report) bool {
	return rep.Within && !slices.ContainsFunc(rep.Pieces, pl.uneven)
}

// uneven reports whether a piece is not as even at the end of the soak as the
// planner wants it.
func (pl *planner) uneven(r verify.PieceReport) bool {
	return r.SoakAsked && r.EvenAsked && math.Abs(float64(r.SoakLag)) > evenAim*float64(pl.limits.Even)*(1+1e-9)
}

// slowed slows the draft until its limits hold with the worst case of a report,
// takes back what the last step slowed too much if it is to, and judges the
// outcome by its own. Where it can slow nothing it answers the report.
func (pl *planner) slowed(like *verify.Report, tight bool) (*verify.Report, error) {
	at := like
	var over *draft // the last one that was over a limit
	for n := range tries {
		was := pl.draft.clone()
		over = &was
		if !pl.slow(at) {
			if n == 0 {
				return like, nil
			}
			break
		}
		if err := pl.bearsSoak(); err != nil {
			return nil, err
		}
		var err error
		if at, err = pl.judged(like); err != nil {
			return nil, err
		}
		if pl.holds(at) {
			if tight {
				pl.regain(at, like, *over)
			}
			break
		}
	}
	return pl.again(like)
}

// judged rounds the draft and judges the program, with the worst case of another
// report where there is one.
func (pl *planner) judged(like *verify.Report) (*verify.Report, error) {
	s, err := pl.draft.round(pl.st)
	if err != nil {
		return nil, err
	}
	if like == nil {
		return verify.ByBounds(pl.ctx, s, pl.load, pl.st, pl.limits)
	}
	return verify.Judge(pl.ctx, s, pl.load, pl.st, pl.limits, verify.DefaultSettings, like)
}

// again is judged by the program's own worst case, with a report of a like one;
// bodies as they are count as in that until the end.
func (pl *planner) again(like *verify.Report) (*verify.Report, error) {
	s, err := pl.draft.round(pl.st)
	if err != nil {
		return nil, err
	}
	if pl.own {
		return verify.Again(pl.ctx, s, pl.limits, like)
	}
	return verify.Alike(pl.ctx, s, pl.limits, like)
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
	soakSeg := soakSegment(rep)
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
				// Of a core that somebody stated the first minutes are simulated, and
				// no heating helps; else they are not.
				hot := !r.Piece.Core.IsZero() && r.Piece.Core != p.from
				brought := hot && r.PeakTime < verify.EvenAt(r.Piece, pl.load.Into, p.from).Seconds()
				if !brought && math.Abs(float64(p.soak.Sub(p.from))) > 0.5 { // there is a ramp to slow
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
		if r.SoakAsked && r.Relaxed < pl.limits.Relaxed || pl.uneven(r) {
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
	if lag, bears := math.Abs(float64(r.SoakLag)), evenAim*float64(pl.limits.Even); r.EvenAsked && lag > bears {
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
		ramps[i].slowed = slowedForLeft
	}
}
