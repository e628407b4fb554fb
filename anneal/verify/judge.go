package verify

import (
	"context"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
)

// Judge is the one place where a program is judged: it simulates exactly the
// numbers given, finely or coarsely. With a report of a like program of the same
// load it simulates average glass alone and takes the worst case from there: for
// a planner on its way, never for an answer.
func Judge(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits, settings sim.Settings, like *Report) (*Report, error) {
	return judge(ctx, s, l, st, limits, settings, like, like == nil, false)
}

// Again is [Judge] with nothing taken over, for a program like that of the report:
// bodies that were far below their bounds are computed only by [AsBodies].
func (rep *Report) Again(ctx context.Context, s program.Schedule, limits kiln.Limits) (*Report, error) {
	return judge(ctx, s, rep.Load, rep.Studio, limits, sim.Settings{}, rep, true, false)
}

// Alike is [Report.Again] with all bodies taken over: for a planner on its way, which
// asks [Report.Borrows] at its end.
func (rep *Report) Alike(ctx context.Context, s program.Schedule, limits kiln.Limits) (*Report, error) {
	return judge(ctx, s, rep.Load, rep.Studio, limits, sim.Settings{}, rep, true, true)
}

// ByBounds is [Judge] of a first program with bodies of revolution by their bounds:
// as [Report.Alike] for a planner on its way.
func ByBounds(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits) (*Report, error) {
	return judge(ctx, s, l, st, limits, sim.Settings{}, nil, true, true)
}

// judge does all of these; anew says that nothing but bodies is taken over, bodies
// that all of them are, or wait.
func judge(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits, settings sim.Settings, like *Report, anew, bodies bool) (*Report, error) {
	s, err := s.Fulfilled(st)
	if err != nil {
		return nil, err
	}
	f := newFiring(s, st, l, limits)
	f.bodies = bodies
	pieces, err := f.simulateAll(ctx, l.Pieces, settings, like, anew)
	if err != nil {
		return nil, f.placed(err)
	}
	at, opens := f.opensAt(st)
	if opens = opens && anew && l.Into != piece.WarmOnly; opens {
		if err := f.open(ctx, pieces, settings); err != nil {
			return nil, err
		}
	}
	rep := &Report{Load: l, Studio: st, Limits: limits, Schedule: s, Pieces: pieces, Within: true,
		Actual: actualTimeline(s, st.Kiln), Nominal: f.timeline}
	for i := range rep.Pieces {
		r := &rep.Pieces[i]
		r.judge(limits)
		rep.Within = rep.Within && r.Within
		if err := r.secondOpinion(f, limits); err != nil {
			return nil, err
		}
	}
	rep.explain(f)
	if opens {
		rep.noteOpened(at)
	}
	return rep, nil
}
