package shortest

import (
	"context"
	"slices"

	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// gentlings is how often what was found is slowed for the kilns that one which
// nobody measured may be, each time by what its limits are exceeded and gentling. With
// fewer the rule's program may have to do, each more verifies the program once more;
// none of 12 loads needed any.
const (
	gentlings = 8
	gentling  = 0.98
)

// inAnyKiln judges what was found, and slows all its cooling where a kiln that
// falls otherwise than programmed pulls harder, so many times at most: the search
// follows the nominal program.
func (sv *solver) inAnyKiln(ctx context.Context, s program.Schedule, most int) (*verify.Report, error) {
	rep, err := verify.Program(ctx, s, sv.load, sv.st, sv.o.Limits)
	for i := 0; err == nil && !rep.Within && len(rep.Kilns) > 0 && i < most; i++ {
		use, at := max(1, rep.Use()), s.From
		s.Segments = slices.Clone(s.Segments)
		for j, seg := range s.Segments {
			if seg.To.Less(at) && !seg.Full {
				rate, err := sv.st.Controller.Rate(seg.Rate * unit.Rate(gentling/use))
				if err != nil {
					return rep, nil
				}
				s.Segments[j].Rate = rate
			}
			at = seg.To
		}
		rep, err = verify.Program(ctx, s, sv.load, sv.st, sv.o.Limits)
	}
	return rep, err
}
