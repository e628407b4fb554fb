package shortest

import (
	"context"
	"errors"
	"math"
	"slices"

	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/glass/unit"
)

// besideRule searches, and plans by the rule beside it. Where a load climbs to its soak
// the rule comes first: only a program that was brought within the limits says what the
// worst case is on the way. found is the error of the search, err that of the rule, which
// ends both.
func (sv *solver) besideRule(res *Result) (found, err error) {
	outer := sv.ctx
	ctx, cancel := context.WithCancel(outer)
	defer cancel()
	sv.ctx = ctx
	defer func() { sv.ctx = outer }()
	ruled := make(chan error, 1)
	go func() {
		err := sv.byRuleAlone(outer, res)
		if err != nil {
			cancel()
		}
		sv.ruled.Store(true)
		ruled <- err
	}()
	climbs := float64(sv.frame.Soak.Sub(sv.frame.From)) >= smallHeat
	if climbs {
		if err = <-ruled; err == nil && res.Rule != nil && res.Rule.Within {
			err = sv.begin(res.Rule.Schedule)
		}
	} else if d := sv.ruleDraft(); len(d.cools) > 0 {
		_, err = sv.calibrate(d.soakedAt(sv.heating).exact())
	}
	if err == nil || outer.Err() != nil {
		// An interrupt ends the search at its next simulation, wherever it is.
		end := sv.judgeBeside()
		found = sv.search()
		end()
	}
	if !climbs {
		if of := <-ruled; of != nil {
			err = of
		}
		sv.progress(sv.shown) // a search may have ended before
	}
	if outer.Err() != nil {
		err = nil // what came by then is the answer
	}
	return found, err
}

// byRuleAlone plans by the rule. Pieces that have no soak in common are no error: a search
// may find one.
func (sv *solver) byRuleAlone(ctx context.Context, res *Result) error {
	res.Rule, res.RuleError = plan.Plan(ctx, sv.load, sv.st, sv.o.Options)
	if ctx.Err() != nil || conflicts(res.RuleError) {
		return nil
	}
	return res.RuleError
}

// conflicts says that an error is that pieces cannot share a program.
func conflicts(err error) bool {
	var conflict *plan.ConflictError
	return errors.As(err, &conflict)
}

// ruleDraft is the program that the rule begins with.
func (sv *solver) ruleDraft() draft {
	d := draft{from: sv.frame.From.Kelvin(), soak: sv.frame.Soak.Kelvin(), hold: sv.frame.Hold.Seconds()}
	for _, r := range sv.frame.Ramps {
		d.cools = append(d.cools, ramp{r.To.Kelvin(), float64(r.Rate)})
	}
	if n := len(d.cools); n > 0 {
		d.cools[n-1].to = sv.st.Opening.Kelvin()
	}
	return d
}

// begin takes the worst case from the program by the rule, with its last ramps keyed
// in as rates even where the rule leaves them to the kiln: soaks count with it until
// drafts have their own.
func (sv *solver) begin(s program.Schedule) error {
	plain := program.Schedule{From: s.From, Segments: slices.Clone(s.Segments)}
	at := plain.From
	for i := range plain.Segments {
		seg := &plain.Segments[i]
		seg.Full, seg.Off = false, false
		if r := math.Min(math.Abs(float64(seg.Rate)), sv.fastest); seg.To.Sub(at) != 0 {
			seg.Rate = unit.Rate(math.Copysign(math.Max(r, sv.slowest), float64(seg.To.Sub(at))))
		}
		at = seg.To
	}
	plain, err := keyed(plain, sv.st.Controller)
	if err != nil {
		return nil // it stays what it is compared with
	}
	_, err = sv.calibrate(plain)
	return err
}
