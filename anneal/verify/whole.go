package verify

import (
	"context"
	"slices"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/spread"
	"lehr/glass/unit"
)

// rounding is what the rounding of floating point numbers may make of two numbers that are one,
// as a share or in the unit at hand; it is far below anything that is shown or keyed in.
const rounding = 1e-9

// Whole judges a report that was planned with a margin by the whole limits, and
// notes the margin that a person gave, or assumes that of [kiln.DefaultLimits]: the
// stresses are as they were.
func Whole(of *Report, st kiln.Studio, limits kiln.Limits) *Report {
	rep := of.copied()
	share := rep.Limits.Share() / limits.Share()
	rep.Studio, rep.Limits = st, limits
	if share == 1 {
		return rep
	}
	within := rep.Use() <= 1+rounding
	rep.Within = true
	for i := range rep.Pieces {
		r := &rep.Pieces[i]
		for _, b := range []*Tension{&r.Tension, &r.ResidualTension, &r.Opening, &r.asResidual.Tension} {
			b.toWhole(share)
		}
		for j := range r.Doors {
			r.Doors[j].Tension.toWhole(share)
		}
		for j := range r.SpanUse {
			r.SpanUse[j] *= share
		}
		for j := range r.uses {
			r.uses[j] *= share
		}
		r.judge(limits)
		rep.Within = rep.Within && r.Within
	}
	rep.whole = share
	for i := range rep.Kilns {
		k := &rep.Kilns[i]
		if k.Use *= share; rep.Within && k.Use <= 1+rounding {
			k.Verdict = rep.Verdict()
		}
	}
	if rep.Within {
		rep.Notes = slices.DeleteFunc(rep.Notes, func(f finding.Finding) bool { return f.Kind == finding.KilnDecides })
	}
	rep.wholeFindings(limits, unit.Stress(share))
	kept := finding.Of(finding.MarginKept).Counting(limits.Margin).Which(within)
	if limits.MarginGiven {
		rep.Notes.Add(kept)
	} else {
		rep.Assumptions.Add(kept)
	}
	return rep
}

// wholeFindings has what was found while a margin was left name the whole limits.
func (rep *Report) wholeFindings(limits kiln.Limits, share unit.Stress) {
	for i, f := range rep.Notes {
		switch f.Kind {
		case finding.OpenedAt, finding.DoorOpened:
			rep.Notes[i].Most /= share
			rep.Notes[i].OwnMost /= share
		}
	}
	for i, f := range rep.Assumptions {
		switch f.Kind {
		case finding.TensionLimitGiven:
			rep.Assumptions[i].Stress = limits.Tension
		case finding.ResidualLimitGiven:
			rep.Assumptions[i].Stress = limits.Residual
		}
	}
	for _, why := range rep.Reasons { // each compares a stress with its limit
		for i := range why {
			why[i].Most /= share
			why[i].OwnMost /= share
		}
	}
}

// toWhole holds a tension against the whole of its pair.
func (b *Tension) toWhole(share float64) {
	b.Pair = spread.Pair{Expected: b.Pair.Expected / unit.Stress(share), Worst: b.Pair.Worst / unit.Stress(share)}
	b.Use *= share
}

// Completed adds what comes after and before the program: until when the kiln stays
// closed if opening it exceeds a limit, how hot pieces still are when it is opened, and
// the openings before.
//
// Errors: those of the openings, and that of the context.
func Completed(ctx context.Context, of *Report) (*Report, error) {
	rep, err := After(ctx, of)
	if err != nil {
		return nil, err
	}
	return rep, rep.addDoors(ctx)
}

// Before is the part of [Completed] by which a report is judged, for a planner on its way.
func Before(ctx context.Context, of *Report) (*Report, error) {
	rep := of.copied()
	return rep, rep.addDoors(ctx)
}

// After is the other part: what is only said.
func After(ctx context.Context, of *Report) (*Report, error) {
	rep := of.copied()
	if err := rep.noteClosed(ctx); err != nil {
		return nil, err
	}
	return rep, rep.noteStillHot()
}
