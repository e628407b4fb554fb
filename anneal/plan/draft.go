package plan

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/formula"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/rule"
	"lehr/glass"
	"lehr/glass/unit"
)

// requirement is what a group of equal pieces requires of the program.
type requirement struct {
	piece  piece.Piece
	rule   rule.Result
	stages []rule.Stage // cooling only, after the soak, rates negative
	hold   time.Duration
}

// rateAt returns the rate asked for at a temperature while cooling, as a
// positive number [K/s]; +Inf where the piece requires nothing.
func (a requirement) rateAt(t unit.Temp) float64 {
	for _, s := range a.stages {
		if s.Rate != 0 && !t.Less(s.To) {
			return math.Abs(float64(s.Rate))
		}
	}
	return math.Inf(1)
}

// ramp is one cooling ramp of a proposal, before rounding.
type ramp struct {
	to      unit.Temp
	rate    float64 // [K/s], positive
	hold    time.Duration
	decider int     // index of the requirement that decided the rate
	most    float64 // what the kiln can do, for a ramp that is no faster [K/s]; 0: not asked
	slowed  slowed
	least   float64 // what it is not keyed in slower than, as that takes more segments [K/s]; 0: anything
}

// slowed says why a ramp is slower than its rule asked.
type slowed int

const (
	asAsked slowed = iota
	slowedForTension
	slowedForResidual
)

// draft is a program before rounding.
type draft struct {
	from     unit.Temp
	heatRate float64 // [K/s]
	soak     unit.Temp
	ceiling  unit.Temp // the set point must not round above it, zero for no limit
	hold     time.Duration
	ramps    []ramp
	rises    []rise // before the soak, of what is dried
	holdBy   int    // index of the requirement that decided the hold
	tempBy   int    // and the soak temperature
	heatBy   int    // and the heating
	// pieces are those of the requirements, for messages
	pieces []string
}

// clone returns a copy whose ramps are its own.
func (p *draft) clone() draft {
	d := *p
	d.ramps = slices.Clone(p.ramps)
	return d
}

// keyed is the rate at which a ramp is to be keyed in.
func (r *ramp) keyed() float64 { return math.Max(r.rate, r.least) }

// stepped reports whether ramps slower than a controller takes are one step each of a
// ramp and a hold.
func (p *draft) stepped(c *kiln.Controller) bool {
	return p.ramps[len(p.ramps)-1].least > 0 && !c.Minutes
}

// compose makes one proposal of several requirements: at each temperature the slowest
// rate, at each hold the longest.
func compose(requirements []requirement, soak unit.Temp, tempBy int) draft {
	p := draft{soak: soak, tempBy: tempBy}
	var stops []unit.Temp
	for i, a := range requirements {
		p.pieces = append(p.pieces, a.piece.What)
		if a.hold > p.hold {
			p.hold, p.holdBy = a.hold, i
		}
		for _, s := range a.stages {
			if s.To.Less(soak) {
				stops = append(stops, s.To)
			}
		}
	}
	sort.Slice(stops, func(i, j int) bool { return stops[j].Less(stops[i]) })
	stops = slices.CompactFunc(stops, func(a, b unit.Temp) bool { return math.Abs(float64(a.Sub(b))) < 1 })
	at := soak
	for _, to := range stops {
		r := ramp{to: to, rate: math.Inf(1)}
		middle := at.Add(to.Sub(at) / 2)
		for i, a := range requirements {
			if v := a.rateAt(middle); v < r.rate {
				r.rate, r.decider = v, i
			}
			for _, s := range a.stages {
				if math.Abs(float64(s.To.Sub(to))) < 1 {
					r.hold = max(r.hold, s.Hold)
				}
			}
		}
		if math.IsInf(r.rate, 1) {
			continue
		}
		p.ramps = append(p.ramps, r)
		at = to
	}
	p.merge(math.MaxInt)
	return p
}

// alike is the share by which the rates of two ramps differ that are keyed in as one,
// which costs no more than that share of the faster one.
const alike = 0.03

// merge joins neighboring ramps whose rates are alike, then the pairs that cost
// least time until at most most are left. Joined ramps take the slower rate.
func (p *draft) merge(most int) {
	cost := func(i int) float64 { // of joining i and i+1
		if p.ramps[i].hold > 0 {
			return math.Inf(1)
		}
		a, b := p.ramps[i], p.ramps[i+1]
		top := p.soak
		if i > 0 {
			top = p.ramps[i-1].to
		}
		slow := math.Min(a.rate, b.rate)
		da, db := float64(top.Sub(a.to)), float64(a.to.Sub(b.to))
		return (da+db)/slow - da/a.rate - db/b.rate
	}
	for len(p.ramps) > 1 {
		best := -1
		for i := range len(p.ramps) - 1 {
			ratio := p.ramps[i].rate / p.ramps[i+1].rate
			near := ratio > 1-alike && ratio < 1+alike && p.ramps[i].hold == 0
			if math.IsInf(cost(i), 1) {
				continue // a hold stands between them
			}
			if (near || len(p.ramps) > most) && (best < 0 || cost(i) < cost(best)) {
				best = i
			}
		}
		if best < 0 {
			return
		}
		a, b := p.ramps[best], p.ramps[best+1]
		if a.rate < b.rate {
			b.rate, b.decider = a.rate, a.decider
		}
		p.ramps[best] = b
		p.ramps = slices.Delete(p.ramps, best+1, best+2)
	}
}

// round makes the proposal a program that the controller can take: rates toward
// slow, holds toward long, temperatures to whole degrees.
func (p *draft) round(st kiln.Studio) (program.Schedule, error) {
	c := st.Controller
	soak := program.Segment{Purpose: program.PurposeSoak, To: c.Temp(p.soak), Hold: c.Hold(p.hold)}
	if !p.ceiling.IsZero() && p.ceiling.Less(soak.To) {
		soak.To = c.Below(p.ceiling)
	}
	s := program.Schedule{From: c.Temp(p.from)}
	if p.from == p.soak {
		s.From = soak.To
	}
	at := s.From
	put := func(seg program.Segment, rate float64) error {
		steps, err := c.Ramp(at, seg.To, unit.Rate(rate))
		if err != nil {
			return err
		}
		hold := seg.Hold
		for i, step := range steps {
			part := seg
			part.To, part.Rate, part.Hold = step.To, step.Rate, 0
			if i == len(steps)-1 {
				part.Hold = min(hold, c.Longest)
				hold -= part.Hold
			}
			s.Segments = append(s.Segments, part)
		}
		for hold > 0 || len(steps) == 0 { // a hold longer than one segment takes
			part := seg
			part.Rate, part.Hold = 0, min(hold, c.Longest)
			hold -= part.Hold
			s.Segments = append(s.Segments, part)
			if hold <= 0 {
				break
			}
		}
		at = seg.To
		return nil
	}
	for _, r := range p.rises {
		seg := program.Segment{Purpose: program.PurposeHeat, To: c.Temp(r.to), Hold: c.Hold(r.hold)}
		if err := put(seg, p.heatRate); err != nil {
			return s, p.blame(p.heatBy, err)
		}
	}
	if err := put(soak, p.heatRate); err != nil {
		return s, p.blame(p.heatBy, err)
	}
	stairs, err := p.stairs(c)
	if err != nil {
		return s, err
	}
	for i, r := range p.ramps {
		seg := program.Segment{Purpose: program.CoolingPurpose(i, len(p.ramps)), To: c.Temp(r.to), Hold: c.Hold(r.hold)}
		if i == len(p.ramps)-1 && seg.To.Sub(r.to) > 0 {
			seg.To = seg.To.Add(-c.SetStep()) // never open warmer than asked
		}
		if !seg.To.Less(at) && seg.Hold == 0 {
			continue
		}
		if stairs[i] > 0 {
			s.Segments = append(s.Segments, r.stair(c, seg.Purpose, at, seg.To, stairs[i])...)
			at = seg.To
			continue
		}
		if err := put(seg, r.keyed()); err != nil {
			return s, p.blame(r.decider, err)
		}
	}
	if len(s.Segments) > c.Segments {
		return s, NewSegmentsError(s.Segments, c)
	}
	return s, nil
}

// blame names the piece that decided a number that the controller cannot take.
func (p *draft) blame(by int, err error) error {
	if by < 0 || by >= len(p.pieces) {
		return err
	}
	return &PieceError{p.pieces[by], err}
}

// PieceError is an error with the piece that it is about.
type PieceError struct {
	What string
	Err  error
}

func (e *PieceError) Error() string { return e.What + ": " + e.Err.Error() }

// Unwrap returns what is wrong with the piece.
func (e *PieceError) Unwrap() error { return e.Err }

// relaxTime returns the hold at a temperature that relaxes the wanted share of
// a starting stress on the stiffer curve and evens out the core.
func relaxTime(p piece.Piece, at unit.Temp, share float64) (time.Duration, error) {
	need, err := relaxNeed(p, at, share)
	return max(rule.ShortestSoak, need), err
}

// relaxNeed is relaxTime without the shortest soak of the rule.
func relaxNeed(p piece.Piece, at unit.Temp, share float64) (time.Duration, error) {
	tau, mode, err := soakTimes(p, at)
	if err != nil {
		return 0, err
	}
	if p.Glass.Relaxation == "maxwell" {
		return formula.MaxwellSoak(share, tau) + rule.EvenOut*mode, nil
	}
	return formula.SixTermSoak(share, tau) + rule.EvenOut*mode, nil
}

// soakTimes returns the Maxwell time of a piece at a temperature, on the
// stiffer curve, and the time in which its core evens out to 1/e.
func soakTimes(p piece.Piece, at unit.Temp) (tau, mode time.Duration, err error) {
	if tau, err = rule.SlowestMaxwell(p.Glass, at); err != nil {
		return 0, 0, err
	}
	k, err := rule.Kappa(p.Glass, at, at)
	if err != nil {
		return 0, 0, err
	}
	b := rule.SteadyOf(p.Body(), p.Glass)
	return tau, b.Mode(b.Size, k), nil
}

// soakBand is where all pieces can be soaked, and who limits it.
type soakBand struct {
	low, high     unit.Temp
	lowBy, highBy int // index of the piece
	margin        float64
}

// band intersects the soak ranges of the pieces, less what the kiln's own
// error takes from both ends.
func band(pieces []piece.Piece, st kiln.Studio) (soakBand, error) {
	b := soakBand{margin: float64(st.Kiln.Spread)/2 + float64(st.Kiln.ProbeError)}
	for i, p := range pieces {
		low, high, err := piece.SoakRange(p.Glass)
		if err != nil {
			return b, fmt.Errorf("%s: %w", p.Glass.Name, err)
		}
		if !p.HottestSoak.IsZero() && p.HottestSoak.Less(high) {
			high = p.HottestSoak
		}
		if i == 0 || b.low.Less(low) {
			b.low, b.lowBy = low, i
		}
		if i == 0 || high.Less(b.high) {
			b.high, b.highBy = high, i
		}
	}
	return b, nil
}

// width is what is left of the band for the controller's set point [K].
func (b soakBand) width() float64 { return float64(b.high.Sub(b.low)) - 2*b.margin }

// narrowest is the narrowest band worth calling common: the fixed points of a
// glass are not known better than this.
const narrowest = 8.0 // [K]

// HoldingOf returns where finished pieces of a glass wait when nobody says.
func HoldingOf(g *glass.Glass) unit.Temp {
	if !g.Garage.High.IsZero() {
		return g.Garage.High
	}
	return g.Strain.Temp()
}

// bearsSoak refuses a soak longer than a piece bears. The shortest soak of the
// rule is a habit, not a need: where a piece bears less, the need decides.
func (pl *planner) bearsSoak() error {
	p := &pl.draft
	for i, a := range pl.requirements {
		most := a.piece.LongestSoak
		if most == 0 || pl.st.Controller.Hold(p.hold) <= most {
			continue
		}
		if p.hold <= rule.ShortestSoak {
			need := time.Duration(0)
			for j, b := range pl.requirements {
				n, err := relaxNeed(b.piece, p.soak, pl.limits.Relaxed)
				if err != nil {
					return err
				}
				need = max(need, n, pl.evensOut(j))
			}
			if pl.st.Controller.Hold(need) <= most {
				p.hold = need
				continue
			}
		}
		f := finding.OfPiece(finding.SoakTooLong, p.holdBy).At(p.soak).Lasting(unit.WholeMinutes(p.hold), most)
		alone := pl.requirements[p.holdBy].piece.ThermalKey() == a.piece.ThermalKey()
		if !alone {
			f.Other = i
		}
		return &ConflictError{Load: pl.load, Reasons: finding.List{f}, Alone: alone}
	}
	return nil
}
