package verify

import (
	"context"
	"math"
	"slices"

	"lehr/anneal/internal/parallel"
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
	return judge(ctx, s, l, st, limits, settings, like, taken{worst: like != nil})
}

// Near is [Judge] for a program like that of the report, at most twice as fast: pieces
// that are far below their limits are not simulated.
func (rep *Report) Near(ctx context.Context, s program.Schedule, limits kiln.Limits) (*Report, error) {
	return judge(ctx, s, rep.Load, rep.Studio, limits, sim.Settings{}, rep, taken{worst: true, far: true})
}

// Again is [Judge] with nothing taken over, for a program like that of the report:
// bodies that were far below their bounds are computed only by [AsBodies].
func (rep *Report) Again(ctx context.Context, s program.Schedule, limits kiln.Limits) (*Report, error) {
	return judge(ctx, s, rep.Load, rep.Studio, limits, sim.Settings{}, rep, taken{})
}

// Alike is [Report.Again] with all bodies taken over: for a planner on its way, which
// asks [Report.Borrows] at its end.
func (rep *Report) Alike(ctx context.Context, s program.Schedule, limits kiln.Limits) (*Report, error) {
	return judge(ctx, s, rep.Load, rep.Studio, limits, sim.Settings{}, rep, taken{bodies: true})
}

// ByBounds is [Judge] of a first program with bodies of revolution by their bounds:
// as [Report.Alike] for a planner on its way.
func ByBounds(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits) (*Report, error) {
	return judge(ctx, s, l, st, limits, sim.Settings{}, nil, taken{bodies: true})
}

// taken says what is taken over from the report of a like program: the worst case, all
// of pieces that are far below their limits, and bodies as they are, which are their
// bounds where there is no report. Bodies that are far below their bounds always are.
type taken struct{ worst, far, bodies bool }

// judge does all of these.
func judge(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits, settings sim.Settings, like *Report, over taken) (*Report, error) {
	s, err := s.Fulfilled(st)
	if err != nil {
		return nil, err
	}
	f := newFiring(s, st, l, limits)
	f.bodies, f.far = over.bodies, over.far
	pieces, err := f.simulateAll(ctx, l.Pieces, settings, like, !over.worst)
	if err != nil {
		return nil, f.placed(err)
	}
	if _, opens := f.opensAt(st); opens && !over.worst {
		if err := f.open(ctx, pieces, nil, settings); err != nil {
			return nil, err
		}
	}
	return f.report(l, st, pieces, !over.worst)
}

// report holds what was simulated against the limits; opened says that opening the
// kiln was, where it is opened hot.
func (f firing) report(l *piece.Load, st kiln.Studio, pieces []PieceReport, opened bool) (*Report, error) {
	rep := &Report{Load: l, Studio: st, Limits: f.limits, Schedule: f.schedule, Pieces: pieces, Within: true,
		Actual: actualTimeline(f.schedule, st.Kiln), Nominal: f.timeline}
	for i := range rep.Pieces {
		r := &rep.Pieces[i]
		r.judge(f.limits)
		rep.Within = rep.Within && r.Within
		if err := r.secondOpinion(f, f.limits); err != nil {
			return nil, err
		}
	}
	rep.explain(f)
	if at, opens := f.opensAt(st); opens && opened {
		rep.noteOpened(at)
	}
	return rep, nil
}

// WithBodies is a report of [Report.Alike] or [ByBounds] in which no body
// [Report.Borrows]: those that did are computed for this program. Where none of them
// exceeds its bound, nothing else is. What was added to the report since is gone.
//
// Errors: those of [Judge].
func (rep *Report) WithBodies(ctx context.Context) (*Report, error) {
	pieces := rep.copied().Pieces
	err := parallel.Each(ctx, len(pieces), func(i int) error {
		if r := &pieces[i]; r.borrows() {
			_ = r.revolve()
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	for i := range pieces {
		r := &pieces[i]
		if !r.borrows() {
			continue
		}
		before, own := r.ratios, r.revolve()
		if before.raises() || own.raises() {
			return rep.Again(ctx, rep.Schedule, rep.Limits)
		}
		r.ratios, r.revolve = own, nil
	}
	return rep.firing().report(rep.Load, rep.Studio, pieces, true)
}

// far is the share of its limits below which a piece is not simulated for each program
// on a planner's way: none is more than twice as fast as the one before.
const far = 0.5

// farBelow reports whether a piece uses up no more than a small share of each limit.
// What opening the kiln does is not of the ramps, and not found on the way.
func (r *PieceReport) farBelow(l kiln.Limits) bool {
	return r.Piece.Contents.Empty() && max(r.Tension.Use, r.ResidualTension.Use) < far &&
		math.Abs(float64(r.SoakLag)) < far*float64(l.Even) &&
		!(r.SoakJudged && r.ResidualJudged && 1-r.Relaxed > far*(1-l.Relaxed))
}

// carried is a piece as it was in a like program, with its greatest tension in each
// segment.
func (r *PieceReport) carried(f firing) PieceReport {
	out := *r
	n := len(f.schedule.Segments)
	out.revolve, out.Opened, out.Opening, out.Over, out.Decides = nil, 0, Tension{}, nil, nil
	out.PeakSegment = min(r.PeakSegment, n-1)
	out.SpanUse, out.SpanPeak = slices.Repeat([]float64{r.Tension.Use}, n), slices.Repeat([]float64{float64(r.Peak)}, n)
	return out
}
