package plan

import (
	"fmt"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/anneal/verify"
	"lehr/glass"
	"lehr/glass/unit"
)

// warmest returns where a piece can stay for hours: the usual holding of its
// glass, or less where it would take marks from shelf or fiber (10^12.5 Pa·s on
// the softer curve, less the kiln's error) or bears less by itself. marks is the
// temperature for marks, zero if the glass has none.
func (pl *planner) warmest(p piece.Piece) (to, marks unit.Temp) {
	k := pl.st.Kiln
	to = HoldingOf(p.Glass)
	if t, err := p.Glass.Isokom(glass.MarkFree); err == nil {
		marks = t.Add(-(k.Spread/2 + k.ProbeError))
		if marks.Less(to) {
			to = marks
		}
	}
	if !p.HottestSoak.IsZero() && p.HottestSoak.Less(to) {
		to = p.HottestSoak
	}
	return to, marks
}

// warm plans to bring inclusions and tube up to a holding temperature and stay.
func (pl *planner) warm() (*verify.Report, error) {
	p := &pl.draft
	given := !pl.st.Kiln.Holding.IsZero()
	*p = draft{from: pl.st.Kiln.Fall.Room, soak: pl.st.Kiln.Holding}
	for i, piece := range pl.load.Pieces {
		p.pieces = append(p.pieces, piece.What)
		if to, _ := pl.warmest(piece); !given && (p.soak.IsZero() || to.Less(p.soak)) {
			p.soak, p.ceiling, p.tempBy = to, to, i
		}
		need, err := relaxTime(piece, piece.Glass.Anneal.Temp(), 0)
		if err != nil {
			return nil, err
		}
		if need > p.hold {
			p.hold, p.holdBy = need, i
		}
	}
	if most := pl.st.HighestSet(); !most.IsZero() && most.Less(p.soak) {
		p.soak, p.ceiling, pl.wanted = most, most, p.soak
	}
	p.heatRate = pl.heatingLimit(p.from, p.soak)
	p.heatBy = pl.slowestHeater()
	dries, err := pl.dry()
	if err != nil {
		return nil, err
	}
	limited := p.heatRate // by the closed forms
	for range tries {
		s, err := p.round(pl.st)
		if err != nil {
			return nil, err
		}
		for i := range s.Segments {
			s.Segments[i].Purpose = program.PurposeHeat
			if s.Segments[i].Rate == 0 {
				s.Segments[i].Purpose = program.PurposeHold
			}
		}
		rep, err := verify.Judge(pl.ctx, s, pl.load, pl.st, pl.limits, sim.Settings{}, nil)
		if err != nil {
			return nil, err
		}
		peak := 0.0
		for i, q := range rep.Pieces {
			if q.Tension.Use > peak {
				peak, p.heatBy = q.Tension.Use, i
			}
		}
		next := pl.slower(p.heatRate, slowedTo/peak)
		if rep.Within || peak <= 1 || next < float64(pl.st.Controller.Slowest) {
			if rep, err = verify.AsBodies(pl.ctx, rep); err != nil {
				return nil, err
			}
			rep = pl.warmed(rep, given, p.heatRate < limited)
			pl.toTheFlame(rep, dries)
			return rep, nil
		}
		p.heatRate = next
	}
	return nil, fmt.Errorf("%s: no heating rate keeps the tension within %s", p.pieces[p.heatBy], unit.AsTyped(pl.limits.Tension))
}

// slowestHeater returns the index of the piece that bears the slowest heating
// by the closed forms.
func (pl *planner) slowestHeater() int {
	by := 0
	for i, a := range pl.requirements {
		if h := pl.requirements[by].rule.HeatRate; a.rule.HeatRate > 0 && (h <= 0 || a.rule.HeatRate < h) {
			by = i
		}
	}
	return by
}

// warmed adds what the report of a warm program says about its numbers.
func (pl *planner) warmed(rep *verify.Report, given, slowed bool) *verify.Report {
	p := pl.draft
	segments := rep.Schedule.Segments
	at := rep.Schedule.Last()
	rep.Rule = pl.requirements[0].rule.Rule
	rep.Assumptions.Add(finding.Of(finding.StaysUntilUsed).At(at))
	for _, q := range pl.load.Pieces {
		if _, marks := pl.warmest(q); !marks.IsZero() && float64(at.Sub(marks)) > 1 {
			rep.Notes.Add(finding.OfGlass(finding.StaysAboveMarks, q.Glass.Name).At(at).Against(marks).Counting(glass.MarkFree))
			break
		}
	}

	stays := finding.Of(finding.StaysAsStudio)
	if q := pl.load.Pieces[p.tempBy]; !pl.wanted.IsZero() {
		stays = finding.Of(finding.KilnHighest).Against(pl.wanted)
	} else if !given {
		stays = finding.OfGlass(finding.StaysUsual, q.Glass.Name)
		switch _, marks := pl.warmest(q); {
		case q.HottestSoak == p.soak:
			stays = finding.OfPiece(finding.StaysHottest, p.tempBy)
		case marks == p.soak:
			stays = finding.OfGlass(finding.StaysMarkFree, q.Glass.Name).Counting(glass.MarkFree)
		}
	}
	held := time.Duration(0)
	for _, seg := range segments {
		held += seg.Hold
	}
	for i, seg := range segments {
		var why finding.List
		switch {
		case seg.Rate == 0:
			why.Add(finding.Of(finding.SameHold))
		case slowed:
			why.Add(finding.OfPiece(finding.HeatedSlowed, p.heatBy).Falling(seg.Rate))
		default:
			why.Add(finding.OfPiece(finding.HeatedInLimit, p.heatBy).Falling(seg.Rate))
		}
		if seg.Hold > 0 && (i == 0 || segments[i-1].Hold == 0) {
			why.Add(stays.At(at))
			why.Add(finding.OfPiece(finding.EvensOut, p.holdBy).Lasting(held, 0))
		}
		rep.Reasons = append(rep.Reasons, why)
	}
	return rep
}
