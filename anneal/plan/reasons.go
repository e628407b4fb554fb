package plan

import (
	"fmt"
	"math"

	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/rule"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// reasons says, for each segment of a planned program, why its numbers are what
// they are, in the display system of the studio.
func (pl *planner) reasons(rep *verify.Report) []string {
	var out []string
	p := pl.draft
	soak, last := -1, len(rep.Schedule.Segments)-1
	if rep.Schedule.Segments[last].Off {
		last--
	}
	for i, seg := range rep.Schedule.Segments {
		switch {
		case seg.Purpose == program.PurposeSoak && soak >= 0:
			out = append(out, "the same soak goes on: one segment takes no longer hold")
		case seg.Purpose == program.PurposeSoak:
			soak = i
			out = append(out, pl.soakReason(rep, i))
		default:
			k := -1
			for j, r := range p.ramps {
				if pl.st.Controller.Temp(r.to) == seg.To || j == len(p.ramps)-1 && i >= last {
					k = j
					break
				}
			}
			out = append(out, pl.rampReason(rep, i, k))
		}
	}
	return out
}

// soakReason explains temperature, hold and the way there.
func (pl *planner) soakReason(rep *verify.Report, first int) string {
	p := pl.draft
	seg := rep.Schedule.Segments[first]
	for _, more := range rep.Schedule.Segments[first+1:] {
		if more.Purpose != program.PurposeSoak {
			break
		}
		seg.Hold += more.Hold
	}
	by := pl.requirements[p.tempBy].piece
	at := seg.To.Text(pl.st.Units)
	var text string
	switch own := pl.requirements[p.tempBy].rule.Stages[0].To; {
	case math.Abs(float64(own.Sub(p.soak))) < 1 && pl.requirements[p.tempBy].rule.Rule == rule.Stress:
		text = fmt.Sprintf("%s is the annealing point of %s, where stress relaxes in minutes", at, by.Glass.Name)
	case math.Abs(float64(own.Sub(p.soak))) < 1:
		text = fmt.Sprintf("%s is the soak of the rule %s", at, pl.requirements[p.tempBy].rule.Rule)
	case !by.HottestSoak.IsZero():
		text = fmt.Sprintf("%s is the hottest soak that %s bears", at, by.What)
	default:
		text = fmt.Sprintf("%s is as hot as %s can be held for hours without marks (10^%.1f Pa·s), less the kiln's error", at, by.Glass.Name, piece.SoakHotLog10)
	}
	hold := pl.requirements[p.holdBy]
	least, even := 1.0, unit.Delta(0)
	for _, r := range rep.Pieces {
		least = math.Min(least, r.Relaxed)
		even = max(even, unit.Delta(math.Abs(float64(r.SoakLag))))
	}
	text += fmt.Sprintf("; %s is what %s needs; simulated, it relaxes %.2f %% of a starting stress and leaves the core within %s of the surface",
		unit.FormatDuration(seg.Hold), hold.piece.What, math.Floor(least*1e4)/100, max(even, 0.01).Text(pl.st.Units))
	if seg.Full && seg.Rate > 0 {
		text += "; heated as fast as the kiln can, which the glass bears"
	} else if seg.Rate > 0 {
		text += fmt.Sprintf("; heated at %s, which keeps the tension inside within the limit and is no faster than the kiln", seg.Rate.Text(pl.st.Units))
	}
	return text
}

// rampReason explains one cooling ramp.
func (pl *planner) rampReason(rep *verify.Report, segment, ramp int) string {
	seg := rep.Schedule.Segments[segment]
	if seg.Rate == 0 {
		return fmt.Sprintf("a hold of the rule %s", rep.Rule)
	}
	if ramp < 0 {
		return "a step of the same ramp"
	}
	if seg.Full {
		what := "the kiln falls by itself no faster than the glass bears"
		if seg.Off {
			what = "the program ends here, with the power off: from here on " + what
		}
		most := 0.0
		for _, p := range rep.Pieces {
			most = math.Max(most, p.SpanPeak[segment])
		}
		return fmt.Sprintf("%s, one tenth faster than measured too; simulated, the greatest tension is %s of %s", what, unit.Stress(most).Text(pl.st.Units), rep.Limits.Tension.Text(pl.st.Units))
	}
	r := pl.draft.ramps[ramp]
	a := pl.requirements[r.decider]
	who := ""
	if len(pl.requirements) > 1 {
		who = " in " + a.piece.What
	}
	if a.rule.Rule != rule.Stress && seg.Purpose != program.PurposeHeat {
		return fmt.Sprintf("the rule %s asks for it%s", a.rule.Rule, who)
	}
	report := rep.Pieces[r.decider]
	if c := float64(pl.st.Controller.Fastest); r.rate > c {
		return "as fast as the controller can be set; the glass would bear more"
	}
	n := len(pl.draft.ramps)
	switch {
	case ramp == 0 || a.piece.Glass.Strain.Temp().Add(-rule.BelowStrain-1).Less(seg.To):
		return fmt.Sprintf("slow while the glass sets, to %s below the strain point: keeps the tension left%s at %s of %s",
			unit.Delta(a.piece.Glass.Strain.Temp().Sub(seg.To)).Text(pl.st.Units), who, report.Residual.Text(pl.st.Units), rep.Limits.Residual.Text(pl.st.Units))
	case ramp < n-1:
		return fmt.Sprintf("about twice as fast, while some of the glass still sets%s", who)
	}
	switch r.slowed {
	case slowedForLeft:
		return fmt.Sprintf("slowed with the ramps before it, to keep the tension left%s at %s of %s; simulated, its own greatest tension is %s of %s",
			who, report.Residual.Text(pl.st.Units), rep.Limits.Residual.Text(pl.st.Units), unit.Stress(report.SpanPeak[segment]).Text(pl.st.Units), rep.Limits.Tension.Text(pl.st.Units))
	case slowedForTension:
		return fmt.Sprintf("the glass is rigid: slowed until the simulated tension%s is within its limit, %s of %s",
			who, unit.Stress(report.SpanPeak[segment]).Text(pl.st.Units), rep.Limits.Tension.Text(pl.st.Units))
	}
	return fmt.Sprintf("the glass is rigid: the rate at which the closed form puts the tension%s at its limit; simulated, the greatest is %s of %s",
		who, unit.Stress(report.SpanPeak[segment]).Text(pl.st.Units), rep.Limits.Tension.Text(pl.st.Units))
}
