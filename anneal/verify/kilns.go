package verify

import (
	"context"
	"math"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
)

// QuickestFall and SlowestFall are the time constants between which a kiln that
// nobody measured is taken to fall with the power off: a small one of fiber, shut
// with one brick open, and a large one of dense brick [common practice].
const (
	QuickestFall = 90 * time.Minute
	SlowestFall  = 8 * time.Hour
)

// Falls returns the time constants for which a program is computed, evenly spread in
// their logarithm.
func Falls() []time.Duration {
	const n = 4
	out := make([]time.Duration, n)
	for i := range out {
		at := QuickestFall.Hours() * math.Pow(SlowestFall.Hours()/QuickestFall.Hours(), float64(i)/(n-1))
		out[i] = time.Duration(math.Round(at*60)) * time.Minute
	}
	return out
}

// InKiln is what a program comes to in a kiln that falls with a time constant.
type InKiln struct {
	TimeConstant time.Duration
	Verdict      Verdict
	Use          float64 // the greatest share of a limit
	Total        time.Duration
}

// OverKilns judges the program of a report in the kilns that one which nobody
// measured may be, and takes over what is worse than as told, piece by piece. A
// measured kiln, and a program that only warms, are as they are.
func OverKilns(ctx context.Context, rep *Report) error {
	if rep.Studio.Kiln.Measured || rep.Load.Into == piece.WarmOnly || rep.Replayed {
		return nil
	}
	reports, kilns, err := inKilns(ctx, rep.Schedule, rep.Load, rep.Studio, rep.Limits)
	if err != nil {
		return err
	}
	rep.Kilns = append(rep.Kilns, kilns...)
	told := rep.Verdict()
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
	if rep.Verdict() != told {
		rep.noteKilns()
	}
	return nil
}

// inKilns judges a program in each of the kilns, and says what it comes to there.
func inKilns(ctx context.Context, s program.Schedule, l *piece.Load, st kiln.Studio, limits kiln.Limits) ([]*Report, []InKiln, error) {
	falls := Falls()
	out, kilns := make([]*Report, len(falls)), make([]InKiln, len(falls))
	err := parallel.Each(ctx, len(falls), func(i int) error {
		as := st
		as.Kiln.Measured, as.Kiln.Fall.TimeConstant = true, falls[i]
		rep, err := Judge(ctx, s, l, as, limits, sim.Settings{}, nil)
		if err != nil {
			return err
		}
		rep.Refine()
		out[i], kilns[i] = rep, InKiln{falls[i], rep.Verdict(), rep.Use(), rep.Actual.Total()}
		return nil
	})
	return out, kilns, err
}

// Use is the greatest share of a limit, of tension or of what is left, that the
// report uses up.
func (rep *Report) Use() (most float64) {
	for _, r := range rep.Pieces {
		most = math.Max(most, math.Max(r.Tension.Use, r.Left.Use))
	}
	return most
}

// orWorse takes over what another report finds worse in a piece, and answers
// whether there was anything. Its moment is the same share of the same segment in
// the program as told.
func (r *PieceReport) orWorse(other *Report, i int, told program.Timeline, fall time.Duration) (changed bool) {
	o := other.Pieces[i]
	if o.Tension.Use > r.Tension.Use {
		changed = true
		r.Tension, r.Peak, r.PeakSegment, r.PeakPlace, r.PeakByDepth, r.Fall = o.Tension, o.Peak, o.PeakSegment, o.PeakPlace, o.PeakByDepth, fall
		from, to := other.Nominal.Spans[o.PeakSegment], told.Spans[o.PeakSegment]
		share := 1.0
		if d := from.End - from.Start; d > 0 {
			share = math.Min(1, math.Max(0, (o.PeakTime-from.Start)/d))
		}
		r.PeakTime = to.Start + share*(to.End-to.Start)
	}
	if o.Left.Use > r.Left.Use {
		changed = true
		r.Left, r.Residual, r.ResidualSurface, r.ResidualCenter = o.Left, o.Residual, o.ResidualSurface, o.ResidualCenter
		r.Retardation, r.ResidualByDepth = o.Retardation, o.ResidualByDepth
	}
	for seg, use := range o.SpanUse {
		if use > r.SpanUse[seg] {
			r.SpanUse[seg], r.SpanPeak[seg] = use, o.SpanPeak[seg]
		}
	}
	if o.Opening.Use > r.Opening.Use {
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
	reports, kilns, err := inKilns(ctx, s, l, st, limits)
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
			rep.Assumptions[i] = finding.Of(finding.FallRange).Lasting(QuickestFall, SlowestFall)
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
