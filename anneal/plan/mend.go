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
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// Halvings of the search for the smallest change, and how far it goes: to a
// sixteenth of a rate, and sixteen times a hold.
const (
	mendHalvings = 8
	mendFarthest = 16.0
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
// temperature, or, where no single one does, all cooling slower. Of several the
// one that ends first is given, in numbers that the controller takes. ok is false
// where none was found.
//
// The studio is the one the program was judged with; rep is what
// [verify.Program] said.
//
// Errors: those of a canceled context.
func Mend(ctx context.Context, rep *verify.Report, st kiln.Studio) (best finding.Finding, ok bool, err error) {
	if rep.Verdict() == verify.WithinLimits || rep.Replayed || rep.EndsHot() {
		return best, false, nil
	}
	if rep = withoutDoor(rep); !slices.ContainsFunc(rep.Pieces, func(p verify.PieceReport) bool { return len(p.Over) > 0 }) {
		return best, false, nil
	}
	least := time.Duration(math.MaxInt64)
	st.Limits, st.Door = rep.Limits, kiln.Door{}
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
			break
		}
	}
	return best, ok, nil
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
	passes := func(x float64) bool {
		next, err := verify.Judge(ctx, with(x), rep.Load, rep.Studio, rep.Limits, verify.DefaultSettings, rep)
		return err == nil && next.Verdict() == verify.WithinLimits
	}
	slow, quick := 1/mendFarthest, 1.0
	if !passes(slow) {
		return f, 0, false, ctx.Err()
	}
	for range mendHalvings {
		if mid := math.Sqrt(slow * quick); passes(mid) {
			slow = mid
		} else {
			quick = mid
		}
	}
	for range refreshes { // of the worst case
		s := with(slow)
		next, err := verify.Program(ctx, s, rep.Load, st, kiln.Limits{})
		if err != nil {
			return f, 0, false, ctx.Err()
		}
		if next.Verdict() == verify.WithinLimits {
			f = finding.OfSegment(m.kind, m.segment).Counting(slow)
			if m.segment >= 0 {
				seg := s.Segments[m.segment]
				f = f.Falling(seg.Rate).At(seg.To).Lasting(0, seg.Hold)
			}
			return f, next.Actual.Total(), true, nil
		}
		slow *= mendMore
	}
	return f, 0, false, nil
}
