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

// LeaveToKiln returns the report of a program within its limits again, with
// everything left to the kiln that can be: heating that the kiln and not the
// glass limits is keyed in as the controller's word for it, and the program
// ends with the power off where the kiln's own fall is no faster than the last
// ramps. It is judged anew, and the old report comes back when the new one is
// not within its limits.
//
// Ramps that a measured kiln cannot follow are slowed to what it can do, in parts
// where the controller has segments for them (see [program.Schedule.Eased]).
//
// Ramps of a kiln that nobody measured are slowed to what the quickest can do that
// it may be.
//
// Only a kiln whose own cooling was measured is left to itself, at a fall one
// tenth faster than measured. Without a word of the controller, or without a
// heating that the owner gave, heating is keyed in as a rate.
func LeaveToKiln(ctx context.Context, rep *verify.Report) (*verify.Report, error) {
	if !rep.Within || rep.Load.Into == piece.WarmOnly {
		return rep, nil
	}
	st := rep.Studio
	if s, slower := noFaster(rep.Schedule, st); slower {
		next, err := rep.Again(ctx, s, rep.Limits)
		if err == nil && next.Within {
			rep = next
		}
	}
	ended := rep.Schedule.Ended(st)
	parts, whole := ended.Eased(st, true), ended.Eased(st, false)
	var tried [][]program.Segment
	for _, way := range []struct {
		program.Schedule
		eased bool // in parts
	}{{parts.HeatedFull(st), true}, {parts, true}, {whole.HeatedFull(st), false}, {whole, false}, {ended.HeatedFull(st), false}, {ended, false}} {
		same := func(t []program.Segment) bool { return slices.Equal(way.Segments, t) }
		if same(rep.Schedule.Segments) || slices.ContainsFunc(tried, same) || way.As(&st.Kiln).Total() > mostEased(rep) {
			continue
		}
		tried = append(tried, way.Segments)
		next, err := soaked(ctx, way.Schedule, rep)
		if err == nil && next.Within {
			if way.eased && len(parts.Segments) > len(ended.Segments) {
				next.Notes.Add(finding.Of(finding.Eased).Lasting(max(0, next.Actual.Total()-ended.As(&st.Kiln).Total()), 0).Counting(1 - kiln.Followed))
			}
			return next, nil
		}
	}
	return rep, ctx.Err()
}

// LeftToKiln returns how long a program takes with everything left to the kiln, the way
// that [LeaveToKiln] tries first. It asks no limit.
func LeftToKiln(s program.Schedule, st kiln.Studio) time.Duration {
	left := s.Ended(st).Eased(st, true).HeatedFull(st)
	return left.As(&st.Kiln).Total()
}

// noFaster slows the cooling ramps that no kiln can follow which one that nobody
// measured may be: a rate like that says nothing, and a controller that watches
// whether the kiln keeps up would alarm. It reports whether there is any.
func noFaster(s program.Schedule, st kiln.Studio) (_ program.Schedule, slower bool) {
	if st.Kiln.Measured {
		return s, false
	}
	fall, at := st.Kiln.Fall, s.From
	fall.TimeConstant = kiln.QuickestFall
	s.Segments = slices.Clone(s.Segments)
	for i := range s.Segments {
		seg := &s.Segments[i]
		if d := float64(at.Sub(seg.To)); d > 0 && !seg.Full && !seg.Off {
			if most := keyable(st.Controller, d, float64(fall.Rate(at))/kiln.Followed); most < math.Abs(float64(seg.Rate))*(1-1e-9) {
				seg.Rate, slower = unit.Rate(-most), true
			}
		}
		at = seg.To
	}
	return s, slower
}

// keyable is the next rate for a fall of d kelvin, no slower than one [K/s], that can
// be keyed in.
func keyable(c kiln.Controller, d, rate float64) float64 {
	if c.Minutes {
		return d / 60 / math.Max(1, math.Floor(d/60/rate))
	}
	one := float64(c.Degree()) / 3600
	return one * math.Ceil(rate/one-1e-9)
}

// soaked judges a program like that of a report. Where heating is quicker, and the
// soak for that too short, it is lengthened by a minute, and by twice as many, as long
// as that still ends sooner.
func soaked(ctx context.Context, s program.Schedule, rep *verify.Report) (*verify.Report, error) {
	soak := soakSegment(rep)
	next, err := rep.Again(ctx, s, rep.Limits)
	for more := time.Minute; err == nil && overOnly(next, finding.OverRelaxed, finding.OverEven); more *= 2 {
		if len(s.Segments) != len(rep.Schedule.Segments) || rep.Schedule.Segments[soak].Hold == 0 {
			break // no soak to find there
		}
		s.Segments = slices.Clone(s.Segments)
		s.Segments[soak].Hold = rep.Studio.Controller.Hold(s.Segments[soak].Hold + more)
		if s.Segments[soak].Hold > rep.Studio.Controller.Longest || s.As(&rep.Studio.Kiln).Total() >= rep.Actual.Total() {
			break
		}
		next, err = rep.Again(ctx, s, rep.Limits)
	}
	return next, err
}

// mostEased is how long a program may take whose ramps are slowed to what the kiln
// can do: so much of the night is not given for a controller that keeps quiet.
func mostEased(rep *verify.Report) time.Duration {
	return rep.Actual.Total() + rep.Actual.Total()/4
}
