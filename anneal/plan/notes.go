package plan

import (
	"math"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// finish adds what the report says about where the numbers come from.
func (pl *planner) finish(rep *verify.Report) error {
	p := pl.draft
	rule := pl.requirements[0].rule
	rep.Rule = rule.Rule
	markDeciders(rep, pl.requirements, p)
	rep.Reasons = pl.reasons(rep)
	for i, a := range pl.requirements {
		rep.Sources.Add(finding.Source{Cite: a.rule.Source, Status: a.rule.Status})
		for _, assumed := range a.rule.Assumed {
			rep.Assumptions.Add(assumed)
		}
		rep.Assumptions.Add(a.rule.CountsAs.In(i))
	}
	if !pl.o.quiet {
		if err := pl.noteRounding(rep); err != nil {
			return err
		}
	}
	pl.noteSoak(rep)
	pl.noteSoakRoom(rep)
	if !pl.wanted.IsZero() {
		rep.Notes.Add(finding.Of(finding.KilnHighest).At(pl.st.Kiln.Highest).Against(pl.wanted))
	}
	if !pl.o.quiet {
		if err := pl.noteController(rep); err != nil {
			return err
		}
	}
	if pl.load.Into == piece.HotKiln && pl.st.Kiln.Holding.IsZero() {
		rep.Notes.First(finding.Of(finding.WaitsAt))
	}
	return nil
}

// noteSoak says where the simulation found the soak that was asked for too short.
func (pl *planner) noteSoak(rep *verify.Report) {
	if hold := pl.st.Controller.Hold(pl.draft.hold); pl.longer > 0 && hold > pl.asked {
		rep.Notes.Add(finding.Of(finding.SoakLengthened).Lasting(hold, unit.WholeMinutes(pl.asked)).Counting(pl.limits.Relaxed))
	}
}

// What rounding costs is much where it is both so many seconds and such a share of
// the cooling: less is not worth keying in minutes.
const (
	muchLost  = 3600.0
	muchOfAll = 0.1
)

// noteRounding says what whole degrees per hour cost, where they cost much: the
// hours by which the same load is done sooner with its ramps keyed in as minutes.
func (pl *planner) noteRounding(rep *verify.Report) error {
	if pl.st.Controller.Minutes || !rep.Within {
		return nil
	}
	exact, rounded := 0.0, 0.0
	for i, seg := range rep.Schedule.Segments {
		if d := float64(rep.Nominal.Spans[i].From.Sub(seg.To)); d > 0 && !seg.Full && seg.Purpose != program.PurposeSoak {
			exact += d / pl.draft.ramps[pl.draft.rampTo(seg.To)].rate
			rounded += d / math.Abs(float64(seg.Rate))
		}
	}
	if lost := rounded - exact; lost < muchLost || lost < muchOfAll*exact {
		return nil
	}
	st := pl.st
	st.Controller = st.Controller.InMinutes()
	st.Controller.Segments = max(st.Controller.Segments, pl.has)
	sooner, err := Plan(pl.ctx, pl.load, st, pl.quietly())
	if err != nil {
		return pl.ctx.Err() // no plan that way is nothing to say
	}
	if saved := rep.Actual.Total() - sooner.Actual.Total(); saved >= time.Hour && sooner.Within {
		rep.Notes.Add(finding.Of(finding.RoundingCosts).Lasting(saved.Truncate(30*time.Minute), 0))
	}
	return nil
}

// markDeciders notes for each piece which numbers of the program it decided.
func markDeciders(rep *verify.Report, requirements []requirement, p draft) {
	decide := func(i int, what program.Purpose) { rep.Pieces[i].Decides.Add(what) }
	for _, a := range requirements {
		if len(requirements) == 1 || math.Abs(float64(a.rule.Stages[0].To.Sub(p.soak))) > 0.5 { // not all ask for the same
			decide(p.tempBy, program.SoakTemperature)
			break
		}
	}
	decide(p.holdBy, program.PurposeSoak)
	for i, r := range p.ramps {
		decide(r.decider, program.CoolingPurpose(i, len(p.ramps)))
	}
}
