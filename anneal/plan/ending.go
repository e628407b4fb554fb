package plan

import (
	"context"
	"slices"

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
// Only a kiln whose own cooling was measured is left to itself, at a fall one
// tenth faster than measured. Without a word of the controller, or without a
// heating that the owner gave, heating is keyed in as a rate.
func LeaveToKiln(ctx context.Context, rep *verify.Report) (*verify.Report, error) {
	if !rep.Within || rep.Load.Into == piece.WarmOnly {
		return rep, nil
	}
	ended := rep.Schedule.Ended(rep.Studio)
	for _, s := range []program.Schedule{ended.HeatedFull(rep.Studio), ended} {
		if slices.Equal(s.Segments, rep.Schedule.Segments) {
			continue
		}
		next, err := verify.Judge(ctx, s, rep.Load, rep.Studio, rep.Limits, verify.DefaultSettings, nil)
		if err == nil && next.Within {
			return next, nil
		}
	}
	return rep, ctx.Err()
}
