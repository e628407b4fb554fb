package verify

import (
	"context"
	"math"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
)

// InKiln is what a program comes to in a kiln that falls with a time constant.
type InKiln struct {
	TimeConstant time.Duration
	Verdict      Verdict
	Use          float64 // the greatest share of a limit
	Total        time.Duration
}

// OverKilns judges the program of a report in the kilns that one which nobody
// measured may be, and returns it with what is worse than as programmed taken over,
// piece by piece. A measured kiln, and a program that only warms, are as they are.
func OverKilns(ctx context.Context, of *Report) (*Report, error) {
	if of.Studio.Kiln.Measured || of.Load.Into == piece.WarmOnly || of.Replayed {
		return of, nil
	}
	rep := of.copied()
	reports, kilns, err := inKilns(ctx, rep.Schedule, rep.Load, rep.Studio, rep.Limits, rep)
	if err != nil {
		return nil, err
	}
	rep.Kilns, rep.others = append(rep.Kilns, kilns...), reports
	nominal := rep.Verdict()
	changed := make([]bool, len(rep.Pieces))
	for i, other := range reports {
		for j := range rep.Pieces {
			if rep.Pieces[j].orWorse(other, j, rep.Nominal, kilns[i].TimeConstant) {
				changed[j] = true
			}
		}
	}
	for i := range rep.Pieces {
		if r := &rep.Pieces[i]; changed[i] {
			r.judge(rep.Limits)
			rep.Within = rep.Within && r.Within
		}
	}
	rep.noteClosedForms()
	if rep.Verdict() != nominal {
		rep.noteKilns()
	}
	return rep, nil
}

// inKilns judges a program in each of the kilns, and says what it comes to there.
// With the report of the nominal program a body is computed as it is only where
// that decides whether a kiln is worse, and the uses are upper bounds, for
// refineKilns to lower.
func inKilns(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits, nominal *Report) ([]*Report, []InKiln, error) {
	times := kiln.Falls()
	out, kilns := make([]*Report, len(times)), make([]InKiln, len(times))
	err := parallel.Each(ctx, len(times), func(i int) error {
		as := st
		as.Kiln.Measured, as.Kiln.Fall.TimeConstant = true, times[i]
		rep, err := judge(ctx, s, l, as, limits, sim.Settings{}, nominal, taken{bodies: nominal != nil})
		if err != nil {
			return err
		}
		all := nominal == nil
		if !all {
			if all, err = rep.asWorse(ctx, nominal); err == nil && all {
				rep, err = Judge(ctx, s, l, as, limits, sim.Settings{}, nil)
			}
		}
		if all && err == nil {
			rep, err = AsBodies(ctx, rep)
		}
		if err != nil {
			return err
		}
		out[i], kilns[i] = rep, InKiln{times[i], rep.Verdict(), rep.Use(), rep.Actual.Total()}
		return nil
	})
	return out, kilns, err
}

// same is a ratio of two uses that is no difference: a fall that changes nothing
// for a piece still moves the steps of its simulation.
const same = 1 + 1e-5

// harder reports whether a use is more than another one, for more than the steps.
func harder(use, was float64) bool { return use > was*same || use > 1 && was <= 1 }

// asWorse computes as they are the bodies of which that may decide whether they
// are worse off than in the report of the nominal program. It answers whether one
// of them exceeds what its bound was raised by, so that all must be judged anew.
func (rep *Report) asWorse(ctx context.Context, nominal *Report) (exceeds bool, err error) {
	rep.Within = true
	for i := range rep.Pieces {
		if err := ctx.Err(); err != nil {
			return false, err
		}
		r := &rep.Pieces[i]
		worse := r.mayBeWorse(nominal.Pieces[i])
		r.noWorse = !worse && r.revolve != nil && nominal.Pieces[i].bounds.spans != nil
		if worse && r.revolve != nil {
			was := r.ratios
			k := r.revolve()
			r.ratios, r.revolve = k, nil
			if k.surface > max(1, was.surface) || k.inside > max(1, was.inside) || k.residual > max(1, was.residual) {
				return true, nil
			}
			r.asBody(rep.Limits)
		}
		rep.Within = rep.Within && r.Within
	}
	return false, nil
}

// doubt is what a body near its bound may exceed it by, and by what its share of a
// bound differs between kilns.
const doubt = 1.02

// mayBeWorse reports whether the body of a piece may be worse off than in the report
// of the nominal program, by its bounds here: over a limit, near one, or under more
// tension. Where the body was computed there, it has the same share of its bound here,
// part by part, and for a part or a segment whose bound is no higher it bears no more.
func (r *PieceReport) mayBeWorse(as PieceReport) bool {
	if slices.ContainsFunc(r.Over, ofTension) {
		return true
	}
	tension, residual := as.Tension.Use, as.ResidualTension.Use
	if as.bounds.spans == nil { // bounds are compared with bounds
		return harder(r.Tension.Use, tension) || harder(r.ResidualTension.Use, residual) || r.nearLimit(tension, residual)
	}
	k := as.ratios
	for i, share := range [3]float64{k.surface, k.inside, k.residual} {
		if harder(r.uses[i], as.uses[i]) && r.uses[i]*math.Min(1, share)*doubt > tension {
			return true
		}
	}
	if harder(r.ResidualTension.Use, as.bounds.residual) && r.ResidualTension.Use*math.Min(1, k.residual)*doubt > residual {
		return true
	}
	for seg, use := range as.bounds.spans { // of one segment a bound may say more than the body has in all of them
		if harder(r.SpanUse[seg], use) && harder(r.SpanUse[seg], tension) {
			return true
		}
	}
	return r.nearLimit(as.bounds.tension, as.bounds.residual)
}

// nearLimit reports whether a body near its bound may exceed a limit that the bound
// keeps, where the bound is lower than in the nominal program.
func (r *PieceReport) nearLimit(tension, residual float64) bool {
	near := func(use, was float64) bool { return use*doubt > 1 && use*same < was }
	return r.ratios.near() && near(r.Tension.Use, tension) || r.ratios.residual > clear && near(r.ResidualTension.Use, residual)
}

// ofTension reports whether a finding is of tension by the program, of which a body
// has less than its bound.
func ofTension(f finding.Finding) bool {
	switch f.Kind {
	case finding.OverTension, finding.UnprovenTension, finding.OverResidual, finding.UnprovenResidual:
		return true
	}
	return false
}

// refineKilns finds what [OverKilns] left open: how much of a limit is used in each
// kiln where only a bound is known.
func (rep *Report) refineKilns(ctx context.Context) error {
	err := parallel.Each(ctx, len(rep.others), func(i int) error {
		other := rep.others[i]
		for at := other.tightest(); other.Pieces[at].revolve != nil; at = other.tightest() {
			if err := ctx.Err(); err != nil {
				return err
			}
			other.Pieces[at].asBody(other.Limits)
		}
		if rep.Kilns[i].Use = other.Use(); rep.whole > 0 {
			rep.Kilns[i].Use *= rep.whole
		}
		return nil
	})
	if err != nil {
		return err
	}
	rep.others = nil
	return nil
}

// tightest is the index of the piece that uses most of a limit.
func (rep *Report) tightest() (at int) {
	use := func(r PieceReport) float64 { return math.Max(r.Tension.Use, r.ResidualTension.Use) }
	for i, r := range rep.Pieces {
		if use(r) > use(rep.Pieces[at]) {
			at = i
		}
	}
	return at
}

// Use is the greatest share of a limit, of tension or of what is left, that the
// report uses up.
func (rep *Report) Use() (most float64) {
	for _, r := range rep.Pieces {
		most = math.Max(most, math.Max(r.Tension.Use, r.ResidualTension.Use))
	}
	return most
}

// orWorse takes over what another report finds worse in a piece, and answers
// whether there was anything. Its moment is the same share of the same segment in
// the nominal program.
func (r *PieceReport) orWorse(other *Report, i int, nominal program.Timeline, fall time.Duration) (changed bool) {
	o := other.Pieces[i]
	if o.noWorse {
		o.Tension, o.ResidualTension = Tension{}, Tension{}
		o.scaleSpans(r.bounds.share)
	}
	if harder(o.Tension.Use, r.Tension.Use) {
		changed = true
		r.Tension, r.Peak, r.PeakSegment, r.PeakPlace, r.PeakByDepth, r.Fall = o.Tension, o.Peak, o.PeakSegment, o.PeakPlace, o.PeakByDepth, fall
		from, to := other.Nominal.Spans[o.PeakSegment], nominal.Spans[o.PeakSegment]
		share := 1.0
		if d := from.End - from.Start; d > 0 {
			share = math.Min(1, math.Max(0, (o.PeakTime-from.Start)/d))
		}
		r.PeakTime, r.ClosedPeak = to.Start+share*(to.End-to.Start), o.ClosedPeak
	}
	if harder(o.ResidualTension.Use, r.ResidualTension.Use) {
		changed = true
		r.ResidualTension, r.Residual, r.ResidualSurface, r.ResidualCenter = o.ResidualTension, o.Residual, o.ResidualSurface, o.ResidualCenter
		r.Retardation, r.ResidualByDepth, r.ClosedResidual = o.Retardation, o.ResidualByDepth, o.ClosedResidual
	}
	for seg, use := range o.SpanUse {
		if harder(use, r.SpanUse[seg]) {
			r.SpanUse[seg], r.SpanPeak[seg] = use, o.SpanPeak[seg]
		}
	}
	if harder(o.Opening.Use, r.Opening.Use) {
		changed = true
		r.Opening, r.Opened = o.Opening, o.Opened
	}
	return changed
}

// noteKilns says for which kilns the program keeps its limits, where that differs.
func (rep *Report) noteKilns() {
	f := finding.Of(finding.KilnDecides)
	for _, k := range rep.Kilns {
		if k.Verdict != WithinLimits {
			continue
		}
		if f.Time == 0 {
			f.Time = k.TimeConstant
		}
		f.Bears = k.TimeConstant
	}
	rep.Notes.First(f)
}

// unmeasured judges a program that leaves cooling to a kiln that nobody measured:
// in the kiln, of those that it may be, in which it uses its limits most.
func unmeasured(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits) (*Report, error) {
	reports, kilns, err := inKilns(ctx, s, l, st, limits, nil)
	if err != nil {
		return nil, err
	}
	worst := 0
	for i, k := range kilns {
		if w := kilns[worst]; k.Verdict > w.Verdict || k.Verdict == w.Verdict && k.Use > w.Use {
			worst = i
		}
	}
	rep := reports[worst]
	rep.Kilns = kilns
	rep.Actual = rep.Schedule.As(&st.Kiln) // the hours are those of the likeliest kiln
	for i, f := range rep.Assumptions {
		if f.Kind == finding.FallMeasured {
			rep.Assumptions[i] = finding.Of(finding.FallRange).Lasting(kiln.QuickestFall, kiln.SlowestFall)
		}
	}
	for _, k := range kilns {
		if k.Verdict != rep.Verdict() {
			rep.noteKilns()
			break
		}
	}
	return rep, nil
}
