package plan

import (
	"context"
	"math"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/sim"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// The search for the smallest change goes from the program as it is in steps, to a
// sixteenth of a rate and sixteen times a hold, and then halves the last step, which
// leaves about 1 % of a rate. Longer steps may pass over what lies between two
// faults, shorter ones take a simulation each.
const (
	mendStep     = math.Sqrt2
	mendSteps    = 8
	mendHalvings = 5
	mendMore     = 0.97 // of a rate, each time that the worst case found anew refuses it
)

// mend is one way to change a program: by x times, 1 leaving it as it is.
type mend struct {
	kind    finding.Kind
	segment int // -1 for all that cool
	change  func(s *program.Schedule, x float64)
}

// Mend finds the smallest change of a program over its limits with which it keeps
// them: one cooling slower, one hold longer, the power off at a lower
// temperature, or, where no single one does, all cooling slower; where pieces are
// hot for longer than they bear and nothing else is over, quicker and shorter; where
// only opening the kiln exceeds a limit, the kiln opened cooler after the same program. Of
// several the one that ends first is given, in numbers that the controller takes.
// Where none was found it says so, and whether [Plan] makes a program that keeps
// the limits. ok is false where there is nothing to say.
//
// The studio is the one the program was judged with; rep is what
// [verify.Program] said.
//
// Errors: those of a canceled context.
func Mend(ctx context.Context, rep *verify.Report, st kiln.Studio) (best finding.Finding, ok bool, err error) {
	if rep.Verdict() == verify.WithinLimits || rep.Replayed || rep.EndsHot() {
		return best, false, nil
	}
	whole := rep.Load
	if rep = withoutDoor(rep); !slices.ContainsFunc(rep.Pieces, func(p verify.PieceReport) bool { return len(p.Over) > 0 }) {
		return best, false, nil
	}
	least := time.Duration(math.MaxInt64)
	door := st.Door
	st.Limits, st.Door = rep.Limits, kiln.Door{}
	if best, ok, err = openedCooler(ctx, rep, st); ok || err != nil {
		return best, ok, err
	}
	single, all := mendsOf(rep.Schedule, st.Controller)
	for _, set := range [][]mend{single, all} {
		for _, m := range set {
			f, total, found, err := m.smallest(ctx, rep, st)
			if err != nil {
				return best, false, err
			}
			if found && total < least {
				f.Time = max(0, total-rep.Actual.Total())
				best, least, ok = f, total, true
			}
		}
		if ok {
			return best, true, nil
		}
	}
	st.Door = door
	kind, takes := noMend(ctx, rep, whole, st)
	best = finding.Of(kind)
	best.Time = takes
	return best, kind != 0, ctx.Err()
}

// openedCooler is the highest reading at which the kiln can be opened after the program
// as it is; ok is false where more than the opening is over a limit.
func openedCooler(ctx context.Context, rep *verify.Report, st kiln.Studio) (f finding.Finding, ok bool, err error) {
	closed, ok := rep.Notes.Find(finding.KeepClosed)
	if !ok {
		return f, false, nil
	}
	s := rep.Closed(closed.Temp)
	if st.Opening = closed.Temp; closed.Temp.IsZero() { // at the room, which is not computed
		s, st.Opening = rep.Schedule, st.Kiln.Fall.Room
	}
	next, err := verify.Program(ctx, s, rep.Load, st, kiln.Limits{})
	if err != nil || next.Verdict() != verify.WithinLimits {
		return f, false, ctx.Err()
	}
	f = finding.Of(finding.MendOpening).At(closed.Temp).Lasting(closed.Time, 0).Which(closed.Yes)
	return f, true, nil
}

// noMend says that no change was found, and whether [Plan] makes a program within the
// limits, which takes so long; 0 of what no program mends, which says so itself.
func noMend(ctx context.Context, rep *verify.Report, l *piece.Load, st kiln.Studio) (kind finding.Kind, takes time.Duration) {
	for i := range rep.Pieces {
		for j := range rep.Pieces[i].Over {
			if rep.Pieces[i].Over[j].Kind > finding.UnprovenResidual {
				return 0, 0
			}
		}
	}
	next, err := Plan(ctx, l, st, Options{quiet: true})
	if err == nil { // as it would be judged here
		next, err = verify.Program(ctx, next.Schedule, l, st, kiln.Limits{})
	}
	if err != nil || next.Verdict() != verify.WithinLimits {
		return finding.MendNone, 0
	}
	return finding.MendPlan, unit.WholeMinutes(next.Actual.Total())
}

// withoutDoor is a report without what the openings of the hot kiln before the
// program did, which no program mends.
func withoutDoor(rep *verify.Report) *verify.Report {
	out, load := *rep, *rep.Load
	load.Door = piece.Door{}
	out.Load, out.Pieces = &load, slices.Clone(rep.Pieces)
	for i := range out.Pieces {
		p := &out.Pieces[i]
		p.Over = slices.DeleteFunc(slices.Clone(p.Over), func(f finding.Finding) bool { return f.Kind == finding.OverDoor })
	}
	return &out
}

// mendsOf are the ways to change a program.
func mendsOf(s program.Schedule, c kiln.Controller) (single, all []mend) {
	slower := func(s *program.Schedule, i int, x float64) {
		if rate, err := c.Rate(s.Segments[i].Rate * unit.Rate(x)); err == nil {
			s.Segments[i].Rate = rate
		}
	}
	var cools []int
	at := s.From
	for i, seg := range s.Segments {
		down := seg.To.Less(at)
		if d := seg.To.Sub(at); d != 0 && !seg.Full {
			single = append(single, mend{finding.MendRate, i, func(s *program.Schedule, x float64) { slower(s, i, x) }})
			if down {
				cools = append(cools, i)
			}
		}
		if seg.Hold > 0 {
			single = append(single, mend{finding.MendHold, i, func(s *program.Schedule, x float64) {
				s.Segments[i].Hold = c.Hold(time.Duration(float64(s.Segments[i].Hold) / x))
			}})
		}
		if i > 0 && seg.Off && s.Segments[i-1].To.Less(from(s, i-1)) {
			single = append(single, mend{finding.MendOff, i - 1, func(s *program.Schedule, x float64) {
				low := s.Segments[i].To
				s.Segments[i-1].To = c.Temp(low.Add(s.Segments[i-1].To.Sub(low) * unit.Delta(x)))
			}})
		}
		at = seg.To
	}
	if len(cools) > 1 {
		all = append(all, mend{finding.MendRates, -1, func(s *program.Schedule, x float64) {
			for _, i := range cools {
				slower(s, i, x)
			}
		}})
	}
	return single, all
}

// from is where a segment begins.
func from(s program.Schedule, i int) unit.Temp {
	if i == 0 {
		return s.From
	}
	return s.Segments[i-1].To
}

// fault is what a changed program still has.
type fault struct {
	held bool // pieces are hot for longer than they bear
	over bool // another limit is exceeded
}

// faultOf is that of a report.
func faultOf(rep *verify.Report) (f fault) {
	for i := range rep.Pieces {
		over := rep.Pieces[i].Over
		for j := range over {
			held := over[j].Kind == finding.OverHeld
			f.held, f.over = f.held || held, f.over || !held
		}
	}
	f.over = f.over || !f.held && rep.Verdict() != verify.WithinLimits
	return f
}

// smallest finds how little of a change is enough: with the worst case of the
// report, then confirmed by its own.
func (m mend) smallest(ctx context.Context, rep *verify.Report, st kiln.Studio) (f finding.Finding, total time.Duration, ok bool, err error) {
	with := func(x float64) program.Schedule {
		s := rep.Schedule
		s.Segments = slices.Clone(s.Segments)
		m.change(&s, x)
		for i := range s.Segments {
			if s.Segments[i].Full {
				s.Segments[i].Rate = 0 // what the kiln was taken to do
			}
		}
		return s
	}
	x, found := between(faultOf(rep), func(x float64) fault {
		next, err := verify.Judge(ctx, with(x), rep.Load, rep.Studio, rep.Limits, sim.Settings{}, rep)
		if err != nil {
			return fault{over: true}
		}
		return faultOf(next)
	})
	if !found {
		return f, 0, false, ctx.Err()
	}
	for range refreshes { // of the worst case
		s := with(x)
		next, err := verify.Program(ctx, s, rep.Load, st, kiln.Limits{})
		if err != nil {
			return f, 0, false, ctx.Err()
		}
		if next.Verdict() == verify.WithinLimits {
			f = finding.OfSegment(m.kind, m.segment).Counting(x)
			if m.segment >= 0 {
				seg := s.Segments[m.segment]
				f = f.Falling(seg.Rate).At(seg.To).Lasting(0, seg.Hold)
			}
			return f, next.Actual.Total(), true, nil
		}
		if faultOf(next).held {
			x /= mendMore
		} else {
			x *= mendMore
		}
	}
	return f, 0, false, nil
}

// between looks for the smallest change x without a fault: less than 1 is slower and
// eases what is over a limit, more is quicker and eases what is hot for too long. Too
// much of either brings the other fault, so that what passes may lie between two
// that do not.
func between(asIs fault, try func(x float64) fault) (x float64, ok bool) {
	if asIs.held && asIs.over {
		return 0, false // what eases one is worse for the other
	}
	step := 1 / mendStep
	if asIs.held {
		step = mendStep
	}
	near, far := 1.0, 0.0 // not enough, and enough or too much
	at := func(x float64) bool {
		switch got := try(x); {
		case got == asIs:
			near = x
		case got.held && got.over:
			return false
		default:
			far, ok = x, !got.held && !got.over
		}
		return true
	}
	for n := 1; n <= mendSteps && far == 0; n++ {
		if !at(math.Pow(step, float64(n))) {
			return 0, false
		}
	}
	for n := 0; n < mendHalvings && far != 0; n++ {
		if !at(math.Sqrt(near * far)) {
			return 0, false
		}
	}
	return far, ok
}
