package plan

import (
	"math"

	"lehr/anneal/finding"
	"lehr/anneal/program"
	"lehr/anneal/rule"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// reasons says, for each segment of a planned program, why its numbers are what
// they are.
func (pl *planner) reasons(rep *verify.Report) []finding.List {
	var out []finding.List
	p := pl.draft
	soak, last := -1, len(rep.Schedule.Segments)-1
	if rep.Schedule.Segments[last].Off {
		last--
	}
	for i, seg := range rep.Schedule.Segments {
		switch {
		case seg.Purpose == program.PurposeSoak && soak >= 0:
			out = append(out, finding.List{finding.Of(finding.SameSoak)})
		case seg.Purpose == program.PurposeSoak:
			soak = i
			out = append(out, pl.soakReason(rep, i))
		default:
			k := p.rampTo(seg.To)
			if i >= last {
				k = len(p.ramps) - 1
			}
			out = append(out, finding.List{pl.rampReason(rep, i, k)})
		}
	}
	return out
}

// soakReason explains temperature, hold and the way there.
func (pl *planner) soakReason(rep *verify.Report, first int) (out finding.List) {
	p := pl.draft
	seg := rep.Schedule.Segments[first]
	for _, more := range rep.Schedule.Segments[first+1:] {
		if more.Purpose != program.PurposeSoak {
			break
		}
		seg.Hold += more.Hold
	}
	by := pl.requirements[p.tempBy]
	switch own := by.rule.Stages[0].To; {
	case !pl.wanted.IsZero():
		out.Add(finding.Of(finding.KilnHighest).At(pl.st.Kiln.Highest).Against(pl.wanted))
	case math.Abs(float64(own.Sub(p.soak))) < 1 && by.rule.Rule == rule.Stress:
		out.Add(finding.OfGlass(finding.SoakAtAnneal, by.piece.Glass.Name).At(seg.To))
	case math.Abs(float64(own.Sub(p.soak))) < 1:
		out.Add(finding.OfGlass(finding.SoakOfRule, by.rule.Rule).At(seg.To))
	case !by.piece.HottestSoak.IsZero():
		out.Add(finding.OfPiece(finding.SoakHottest, p.tempBy).At(seg.To))
	default:
		out.Add(finding.OfGlass(finding.SoakMarks, by.piece.Glass.Name).At(seg.To))
	}
	least, even := 1.0, unit.Delta(0)
	for _, r := range rep.Pieces {
		least = math.Min(least, r.Relaxed)
		even = max(even, unit.Delta(math.Abs(float64(r.SoakLag))))
	}
	out.Add(finding.OfPiece(finding.SoakNeeded, p.holdBy).Lasting(seg.Hold, 0))
	out.Add(finding.Of(finding.SoakRelaxes).Counting(least).Apart(even))
	if seg.Full && seg.Rate > 0 {
		out.Add(finding.Of(finding.HeatedFull))
	} else if seg.Rate > 0 {
		out.Add(finding.Of(finding.HeatedWithin).Falling(seg.Rate))
	}
	return out
}

// rampReason explains one cooling ramp.
func (pl *planner) rampReason(rep *verify.Report, segment, ramp int) finding.Finding {
	seg := rep.Schedule.Segments[segment]
	if seg.Rate == 0 {
		return finding.OfGlass(finding.RuleHolds, rep.Rule)
	}
	if ramp < 0 {
		return finding.Of(finding.SameRamp)
	}
	if seg.Full {
		by := 0
		for i, p := range rep.Pieces {
			if p.SpanUse[segment] > rep.Pieces[by].SpanUse[segment] {
				by = i
			}
		}
		p := rep.Pieces[by]
		return finding.Of(finding.LeftToKiln).Which(seg.Off).Pulled(unit.Stress(p.SpanPeak[segment]), p.SpanLimit(segment))
	}
	r := pl.draft.ramps[ramp]
	a := pl.requirements[r.decider]
	who := finding.None // not named where there is one kind alone
	if len(pl.requirements) > 1 {
		who = r.decider
	}
	if a.rule.Rule != rule.Stress && seg.Purpose != program.PurposeHeat {
		return finding.OfPiece(finding.RuleRequires, who).Named(a.rule.Rule)
	}
	if r.rate > float64(pl.st.Controller.Fastest) {
		return finding.Of(finding.ControllerFastest)
	}
	report := rep.Pieces[r.decider]
	strain := a.piece.Glass.Strain.Temp()
	own, most := unit.Stress(report.SpanPeak[segment]), report.SpanLimit(segment)
	switch n := len(pl.draft.ramps); {
	case ramp == 0 || strain.Add(-rule.BelowStrain-1).Less(seg.To):
		return finding.OfPiece(finding.SetsSlowly, who).Apart(strain.Sub(seg.To)).Pulled(report.Residual, report.ResidualTension.Limit())
	case ramp < n-1:
		return finding.OfPiece(finding.SetsFaster, who)
	}
	switch r.slowed {
	case slowedForResidual:
		f := finding.OfPiece(finding.SlowedForResidual, who).Pulled(report.Residual, report.ResidualTension.Limit())
		return f.Also(own, most)
	case slowedForTension:
		return finding.OfPiece(finding.SlowedForTension, who).Pulled(own, most)
	}
	return finding.OfPiece(finding.ClosedFormRate, who).Pulled(own, most)
}
