package shortest

import (
	"fmt"
	"math"

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
			rep.AddSource(s)
		}
		if rule.Within {
			rep.Shortest.Rule = rule.Actual.Total()
		}
	}
	rep.Assume("the shortest program was searched for, not proved: its numbers use up the limits, so the kiln, the sizes and the glass must be as told")
	if rep == res.Rule {
		return
	}
	if sv.load.Into == piece.HotKiln && sv.st.Kiln.Holding.IsZero() {
		rep.NoteHolding(sv.frame.From)
	}
	rep.Reasons = nil
	at, soaked := rep.Schedule.From, false
	for i, seg := range rep.Schedule.Segments {
		text := ""
		switch {
		case seg.Purpose == program.PurposeSoak && soaked:
			text = "the same soak goes on: one segment takes no longer hold"
		case seg.Purpose == program.PurposeSoak:
			text, soaked = sv.soakReason(rep, i), true
		case !soaked:
			text = sv.tensionReason(rep, i, "heated so that the tension inside stays within its limit")
		default:
			text = sv.coolReason(rep, i, at)
		}
		rep.Reasons = append(rep.Reasons, text)
		at = seg.To
	}
}

// soakReason says what the soak does, and notes who decides it.
func (sv *solver) soakReason(rep *verify.Report, segment int) string {
	seg := rep.Schedule.Segments[segment]
	least, even, by := math.Inf(1), unit.Delta(0), 0
	for i, p := range rep.Pieces {
		if p.Relaxed < least-1e-6 {
			least, by = p.Relaxed, i
		}
		even = max(even, unit.Delta(math.Abs(float64(p.SoakLag))))
	}
	rep.Decide(by, "soak")
	text := fmt.Sprintf("with the cooling that follows, the quickest way to relax %.4g %% of a starting stress and to leave the core within %s of the surface; simulated, it relaxes %.2f %% and leaves %s",
		100*rep.Limits.Relaxed, rep.Limits.Even.Text(rep.Studio.Units), math.Floor(least*1e4)/100, max(even, 0.01).Text(rep.Studio.Units))
	if seg.Full {
		text += "; heated as fast as the kiln can"
	}
	return text
}

// coolReason says what limits one cooling ramp, and notes who decides it.
func (sv *solver) coolReason(rep *verify.Report, segment int, from unit.Temp) string {
	seg := rep.Schedule.Segments[segment]
	rate := math.Abs(float64(seg.Rate))
	switch {
	case seg.Off:
		return "the program ends here, with the power off: from here on the kiln falls by itself no faster than the glass bears"
	case seg.Full || rate >= 0.98*sv.natural(from):
		return "as fast as the kiln falls by itself here, or faster: more would gain nothing"
	case rate >= 0.98*sv.fastest:
		return "as fast as the controller can be set"
	case from.Kelvin() > sv.wakes()+30:
		by, most := 0, 0.0
		for i, p := range rep.Pieces {
			if l := float64(p.Residual); l > most {
				by, most = i, l
			}
		}
		rep.Decide(by, seg.Purpose)
		p := rep.Pieces[by]
		return fmt.Sprintf("the glass sets: with the other ramps it brings the tension left in %s to %s of %s", p.Piece.What, p.Residual.Text(rep.Studio.Units), rep.Limits.Residual.Text(rep.Studio.Units))
	}
	return sv.tensionReason(rep, segment, "the glass is rigid")
}

// tensionReason says how near to its limit the tension comes in a segment.
func (sv *solver) tensionReason(rep *verify.Report, segment int, lead string) string {
	by, most := 0, unit.Stress(-1)
	for i, p := range rep.Pieces {
		if s := p.SegmentPeak(segment); s > most {
			by, most = i, s
		}
	}
	rep.Decide(by, rep.Schedule.Segments[segment].Purpose)
	return fmt.Sprintf("%s: the tension in %s reaches %s of %s", lead, rep.Pieces[by].Piece.What, most.Text(rep.Studio.Units), rep.Limits.Tension.Text(rep.Studio.Units))
}
