package shortest

import (
	"math"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"

	"lehr/glass/unit"
)

// explain adds to the report what is known of the search: what each number is
// limited by, which piece decided it, and how the program compares.
func (sv *solver) explain(res *Result) {
	rep := res.Report
	rep.Shortest = &verify.Shortest{Floor: res.Floor.Total, Kiln: res.Floor.Kiln, Interrupted: res.Interrupted}
	if rule := res.Rule; rule != nil {
		for _, s := range rule.Sources {
			rep.Sources.Add(s)
		}
		if rule.Within {
			rep.Shortest.Rule = rule.Actual.Total()
		}
	}
	rep.Assumptions.Add(finding.Of(finding.SearchedShortest))
	if rep == res.Rule {
		return
	}
	if sv.load.Into == piece.HotKiln && sv.st.Kiln.Holding.IsZero() {
		rep.Notes.First(finding.Of(finding.WaitsAt).At(sv.frame.From))
	}
	rep.Reasons = nil
	at, soaked := rep.Schedule.From, false
	for i, seg := range rep.Schedule.Segments {
		var why finding.List
		switch {
		case seg.Purpose == program.PurposeSoak && soaked:
			why.Add(finding.Of(finding.SameSoak))
		case seg.Purpose == program.PurposeSoak:
			why, soaked = sv.soakReason(rep, i), true
		case !soaked:
			why.Add(sv.tensionReason(rep, i).Which(true))
		default:
			why.Add(sv.coolReason(rep, i, at))
		}
		rep.Reasons = append(rep.Reasons, why)
		at = seg.To
	}
}

// soakReason says what the soak does, and notes who decides it.
func (sv *solver) soakReason(rep *verify.Report, segment int) (why finding.List) {
	least, even, by := math.Inf(1), unit.Delta(0), 0
	for i, p := range rep.Pieces {
		if p.Relaxed < least-1e-6 {
			least, by = p.Relaxed, i
		}
		even = max(even, unit.Delta(math.Abs(float64(p.SoakLag))))
	}
	rep.Pieces[by].Decides.Add(program.PurposeSoak)
	why.Add(finding.Of(finding.SoakQuickest).Counting(rep.Limits.Relaxed).Apart(rep.Limits.Even))
	why.Add(finding.Of(finding.SoakRelaxes).Counting(least).Apart(even))
	if rep.Schedule.Segments[segment].Full {
		why.Add(finding.Of(finding.HeatedFull))
	}
	return why
}

// A ramp counts as the kiln's own, or the controller's fastest, from fullRate of
// that rate on: rounding to whole degrees takes up to 2 %. Below the temperature at
// which the last glass of the load sets, and a little above it, what is left is no
// reason.
const (
	fullRate = 0.98
	setsOver = 30.0 // [K]
)

// coolReason says what limits one cooling ramp, and notes who decides it.
func (sv *solver) coolReason(rep *verify.Report, segment int, from unit.Temp) finding.Finding {
	seg := rep.Schedule.Segments[segment]
	rate := math.Abs(float64(seg.Rate))
	switch {
	case seg.Off:
		return finding.Of(finding.LeftToKiln).Which(true)
	case seg.Full || rate >= fullRate*sv.natural(from):
		return finding.Of(finding.KilnFallsSo)
	case rate >= fullRate*sv.fastest:
		return finding.Of(finding.ControllerFastest)
	case from.Kelvin() > sv.frozenBelow()+setsOver:
		by := 0
		for i, p := range rep.Pieces {
			if p.ResidualTension.Use > rep.Pieces[by].ResidualTension.Use {
				by = i
			}
		}
		rep.Pieces[by].Decides.Add(seg.Purpose)
		return finding.OfPiece(finding.SetsTogether, by).Pulled(rep.Pieces[by].Residual, rep.Pieces[by].ResidualTension.Limit())
	}
	return sv.tensionReason(rep, segment)
}

// tensionReason says how near to its limit the tension comes in a segment.
func (sv *solver) tensionReason(rep *verify.Report, segment int) finding.Finding {
	by := 0
	for i, p := range rep.Pieces {
		if p.SpanUse[segment] > rep.Pieces[by].SpanUse[segment] {
			by = i
		}
	}
	most := rep.Pieces[by].SegmentPeak(segment)
	rep.Pieces[by].Decides.Add(rep.Schedule.Segments[segment].Purpose)
	return finding.OfPiece(finding.TensionReaches, by).Pulled(most, rep.Pieces[by].SpanLimit(segment))
}
