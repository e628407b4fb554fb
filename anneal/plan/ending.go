package plan

import (
	"context"
	"slices"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
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
// Only a kiln whose own cooling was measured is left to itself, at a fall one
// tenth faster than measured. Without a word of the controller, or without a
// heating that the owner gave, heating is keyed in as a rate.
func LeaveToKiln(ctx context.Context, rep *verify.Report) (*verify.Report, error) {
	if !rep.Within || rep.Load.Into == piece.WarmOnly {
		return rep, nil
	}
	st := rep.Studio
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

// soaked judges a program like that of a report. Where heating is quicker, and the
// soak for that too short, it is lengthened by a minute, and by twice as many, as long
// as that still ends sooner.
func soaked(ctx context.Context, s program.Schedule, rep *verify.Report) (*verify.Report, error) {
	kiln, soak := &rep.Studio.Kiln, soakSegment(rep)
	next, err := verify.Again(ctx, s, rep.Limits, rep)
	for more := time.Minute; err == nil && overOnly(next, finding.OverRelaxed, finding.OverEven); more *= 2 {
		if len(s.Segments) != len(rep.Schedule.Segments) || rep.Schedule.Segments[soak].Hold == 0 {
			break // no soak to find there
		}
		s.Segments = slices.Clone(s.Segments)
		s.Segments[soak].Hold = rep.Studio.Controller.Hold(s.Segments[soak].Hold + more)
		if s.Segments[soak].Hold > rep.Studio.Controller.Longest || s.As(kiln).Total() >= rep.Actual.Total() {
			break
		}
		next, err = verify.Again(ctx, s, rep.Limits, rep)
	}
	return next, err
}

// mostEased is how long a program may take whose ramps are slowed to what the kiln
// can do: so much of the night is not given for a controller that keeps quiet.
func mostEased(rep *verify.Report) time.Duration {
	return rep.Actual.Total() + rep.Actual.Total()/4
}
