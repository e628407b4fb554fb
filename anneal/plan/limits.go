package plan

import (
	"math"
	"time"

	"lehr/anneal/formula"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// tries bounds the loop of settle.
const tries = 24

// regains is how often the last step of settle is halved: its steps are at
// least 3 % long, and a sixteenth of one is no longer seen in the hours.
const regains = 4

// slowToLimits rounds, simulates and slows until the limits hold, then takes back
// what the last step slowed too much.
func (pl *planner) slowToLimits() (*verify.Report, error) {
	var best *verify.Report
	var over *draft // the last one that was over a limit
	for range tries {
		rep, err := pl.judged()
		if err != nil {
			return nil, err
		}
		best = rep
		if rep.Within {
			break
		}
		was := pl.draft.clone()
		over = &was
		if !pl.slow(rep) {
			break
		}
		if err := pl.bearsSoak(); err != nil {
			return nil, err
		}
	}
	if best.Within && over != nil {
		best = pl.regain(best, *over)
	}
	return pl.finish(LeaveToKiln(pl.ctx, best))
}

// judged rounds the proposal and judges the program.
func (pl *planner) judged() (*verify.Report, error) {
	s, err := pl.draft.round(pl.st)
	if err != nil {
		return nil, err
	}
	return verify.Judge(pl.ctx, s, pl.load, pl.st, pl.limits, verify.DefaultSettings)
}

// regain looks between a proposal that is over a limit and the one after it,
// whose report is given, for the fastest that is within.
func (pl *planner) regain(best *verify.Report, over draft) *verify.Report {
	within := pl.draft
	for range regains {
		mid := within.clone()
		mid.heatRate = math.Sqrt(within.heatRate * over.heatRate)
		for i := range mid.ramps {
			mid.ramps[i].rate = math.Sqrt(within.ramps[i].rate * over.ramps[i].rate)
		}
		pl.draft = mid
		if rep, err := pl.judged(); err == nil && rep.Within && rep.Actual.Total() <= best.Actual.Total() {
			within, best = mid, rep
		} else {
			over = mid
		}
	}
	pl.draft = within
	return best
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
			pl.slowFreezing(r, math.Max(0.35, 0.97*float64(pl.limits.Tension/r.Peak)), scale)
		}
		for seg, peak := range r.SpanPeak {
			if peak <= float64(pl.limits.Tension)*(1+1e-9) {
				continue
			}
			f := math.Max(0.3, 0.97*float64(pl.limits.Tension)/peak)
			if seg <= soakSeg {
				if math.Abs(float64(p.soak.Sub(p.from))) > 0.5 { // there is a ramp to slow
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
		if r.ResidualAsked && r.Residual > pl.limits.Residual {
			f := math.Max(0.35, 0.97*float64(pl.limits.Residual)/float64(r.Residual))
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
	if r.Peak <= pl.limits.Tension*(1+1e-9) || r.PeakSegment <= soak {
		return false
	}
	return !r.PeakPlace.AtSurface() || float64(r.Peak) > r.SpanPeak[r.PeakSegment]*(1+1e-9)
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
