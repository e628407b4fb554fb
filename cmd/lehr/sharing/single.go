package sharing

import (
	"context"
	"slices"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
)

// single finds the best one program for a load that cannot share, nil if there is
// nothing to choose: where every piece keeps its limits in it, they share it.
func single(ctx context.Context, a *desk.App, load *piece.Load, st kiln.Studio, o plan.Options, s *plan.Sharing, search bool) (*plan.Single, error) {
	if s.Shareable || load.Into == piece.WarmOnly || len(load.Pieces) < 2 {
		return nil, nil
	}
	planner, end := flags.Planner(a, search)
	defer end()
	return s.AllInOne(ctx, load, st, o, planner)
}

// showSingle prints the best one program, what it does to whom, and what to anneal
// again.
func showSingle(a *desk.App, load *piece.Load, one *plan.Single) error {
	a.Print("\n" + a.Style(term.Bold, report.SingleTitle) + "\n")
	a.Prose(0, report.SingleText(load, one))
	for _, s := range report.SingleCautions(one) {
		a.Prose(0, s)
	}
	a.Print("\n")
	if err := ShowHarm(a, one); err != nil {
		return err
	}
	if one.Firing < 0 {
		a.Print("\n")
		if err := a.View().ShowProgram(one.Report); err != nil {
			return err
		}
	}
	for _, f := range one.Again {
		a.Print("\n")
		a.Prose(0, report.AgainText(f))
		if v := f.Report.Verdict(); v != verify.WithinLimits {
			a.View().Verdict(f.Report)
		}
		if err := a.View().ShowProgram(f.Report); err != nil {
			return err
		}
	}
	if len(one.Again) > 0 {
		a.Print("\n")
		a.Prose(0, report.UntilAgain)
	}
	return nil
}

// singleJSON is the best one program of a load that cannot share.
type singleJSON struct {
	Firing   int                 `json:"firing"` // whose program it is, counted from 1; 0 for none of them
	TotalH   report.Num          `json:"total_h"`
	Schedule report.ScheduleJSON `json:"schedule"`
	Pieces   []HarmJSON          `json:"pieces"`
	Again    []againJSON         `json:"anneal_again"`
	Cautions []string            `json:"cautions"`
}

type againJSON struct {
	Pieces   []int               `json:"pieces"`
	Verdict  string              `json:"verdict"`
	TotalH   report.Num          `json:"total_h"`
	Schedule report.ScheduleJSON `json:"schedule"`
}

func newSingleJSON(one *plan.Single) *singleJSON {
	if one == nil {
		return nil
	}
	j := &singleJSON{Firing: one.Firing + 1, TotalH: report.Num(one.Report.Actual.Total().Hours()), Schedule: report.NewScheduleJSON(one.Report), Again: []againJSON{}}
	j.Pieces, j.Cautions = NewHarmsJSON(one), report.SingleCautions(one)
	for _, f := range one.Again {
		j.Again = append(j.Again, againJSON{f.Pieces, words.Verdict(f.Report.Verdict()), report.Num(f.Report.Actual.Total().Hours()), report.NewScheduleJSON(f.Report)})
	}
	return j
}

// Instead answers for plan of a load that cannot share one program, or is over a limit in
// the one that was planned, nil if there is none: with another program that keeps every
// limit, or as share does. Both are nil and false where neither is any better.
func Instead(ctx context.Context, a *desk.App, load *piece.Load, st kiln.Studio, o plan.Options, planned *verify.Report, search bool) (rep *verify.Report, handled bool, err error) {
	s, err := flags.Shared(ctx, a, load, st, o, search)
	if err != nil || s.Shareable {
		return nil, false, nil
	}
	one, err := single(ctx, a, load, st, o, s, search)
	switch {
	case err != nil:
		return nil, false, nil
	case s.Shareable:
		return s.Firings[0].Report, false, nil
	case a.JSON, planned != nil && slices.ContainsFunc(s.Firings, plan.Firing.Over):
		return nil, false, nil
	}
	return nil, true, showAnswer(a, load, st, s, one)
}
