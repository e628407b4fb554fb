package nights

import (
	"context"
	"errors"
	"slices"

	"lehr/anneal/kiln"
	"lehr/anneal/outage"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/sharing"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
)

// apart is why a load cannot share one program that was fired together all the same,
// and what else it could be told from here.
type apart struct {
	reasons  []string           // why it cannot share
	programs []program.Schedule // of the firings of its split
}

// underPlan is the program that lehr plans for a load; for one that cannot share any, the
// best one program for all of it, and why.
//
// Errors: those of [plan.Plan].
func underPlan(ctx context.Context, load *piece.Load, st kiln.Studio, o plan.Options) (program.Schedule, *apart, error) {
	rep, err := plan.Plan(ctx, load, st, o)
	if err == nil {
		return rep.Schedule, nil, nil
	}
	if !plan.Divisible(nil, err) {
		return program.Schedule{}, nil, err
	}
	s, one, cannot := single(ctx, load, st, o)
	switch {
	case ctx.Err() != nil:
		return program.Schedule{}, nil, ctx.Err()
	case cannot != nil:
		return program.Schedule{}, nil, err
	case s.Shareable:
		return s.Firings[0].Report.Schedule, nil, nil
	}
	why := &apart{reasons: report.ShareReasons(load, st, s)}
	for _, f := range s.Firings {
		why.programs = append(why.programs, f.Report.Schedule)
	}
	return one.Report.Schedule, why, nil
}

// single is the split of a load and the best one program for all of it.
func single(ctx context.Context, load *piece.Load, st kiln.Studio, o plan.Options) (*plan.Sharing, *plan.Single, error) {
	s, err := plan.Share(ctx, load, st, o, plan.ShareHow{})
	if err != nil || s.Shareable {
		return s, nil, err
	}
	one, err := s.AllInOne(ctx, load, st, o, nothingAgain)
	return s, one, err
}

// nothingAgain plans nothing of what is to be annealed again: that is for later.
func nothingAgain(context.Context, *piece.Load, kiln.Studio, plan.Options) (*verify.Report, error) {
	return nil, errors.New("not asked")
}

// find finds the ways on: for a load that cannot share, with what is left of the
// program of which the first way does least harm.
func (c *powerCase) find(ctx context.Context) (*outage.Answer, error) {
	best, err := outage.Find(ctx, c.Case)
	if err != nil || c.apart == nil {
		return best, err
	}
	for _, s := range c.apart.programs {
		if slices.Equal(s.Segments, c.Program.Segments) {
			continue
		}
		as := c.Case
		as.Program = s
		next, err := outage.Find(ctx, as)
		if err != nil {
			return nil, err
		}
		if plan.LessHarm(next.Ways[0].Report, best.Ways[0].Report) < 0 {
			best = next
		}
	}
	return best, nil
}

// harm is what the first way on does to a load that cannot share, nil for one that can.
func (c powerCase) harm(x *outage.Answer) *plan.Single {
	if c.apart == nil {
		return nil
	}
	return plan.SingleOf(x.Ways[0].Report)
}

// apartText says of a load that cannot share why, and what is taken to have run.
func (c powerCase) apartText() []string {
	if c.apart == nil {
		return nil
	}
	var out []string
	for _, r := range c.apart.reasons {
		out = append(out, term.Capital(r)+".")
	}
	return append(out, words.FiredTogether(c.Logged))
}

// apartLines are those of [powerCase.apartText] and what is done to each piece, as
// sentences.
func (c powerCase) apartLines(x *outage.Answer) (out []string) {
	one := c.harm(x)
	if one == nil {
		return nil
	}
	out = c.apartText()
	for _, s := range report.Harms(one) {
		out = append(out, s+".")
	}
	return append(out, thenText(one)...)
}

// thenText says what is to be done with pieces that may crack, and with those that are
// to be annealed again.
func thenText(one *plan.Single) (out []string) {
	if len(one.Cracked) > 0 {
		out = append(out, words.MayBurst)
	}
	for _, x := range sharing.NewHarmsJSON(one) {
		if x.Mends {
			return append(out, words.AgainByThemselves)
		}
	}
	return out
}

// showApart prints of a load that cannot share why, and what the first way does to whom.
func showApart(a *desk.App, c powerCase, x *outage.Answer) error {
	one := c.harm(x)
	if one == nil {
		return nil
	}
	for _, s := range c.apartText() {
		a.Prose(0, s)
	}
	a.Print("\n")
	if err := sharing.ShowHarm(a, one); err != nil {
		return err
	}
	for i, s := range thenText(one) {
		if i == 0 {
			a.Print("\n")
		}
		a.Prose(0, s)
	}
	return nil
}
