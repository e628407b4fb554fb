package sharing

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// singleTitle is the heading of the answer for who has everything hot already.
const singleTitle = "All of it in one firing"

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
	a.Print("\n" + a.Style(term.Bold, singleTitle) + "\n")
	whose := fmt.Sprintf("that of firing %d", one.Firing+1)
	if one.Firing < 0 {
		whose = "the one below"
	}
	why := "of the programs compared it does least harm"
	if len(one.Harmed)+len(one.Hopeless) == 0 {
		why = "what it does is mended by annealing again, if nothing breaks before"
	}
	when := "If everything is hot already"
	if load.Into == piece.ColdKiln {
		when = "If it must be one firing"
	}
	if len(one.Cracked) > 0 {
		why += ", and may still crack what is marked below"
	}
	a.Prose(0, fmt.Sprintf("%s, take %s, %s: %s.", when, whose, unit.FormatDuration(unit.WholeMinutes(one.Report.Actual.Total())), why))
	for _, s := range cautions(one) {
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
		a.Prose(0, fmt.Sprintf("Anneal again later, from a cold kiln, %s: %s.", unit.FormatDuration(unit.WholeMinutes(f.Report.Actual.Total())), strings.Join(namesOf(load, f.Pieces), ", ")))
		if v := f.Report.Verdict(); v != verify.WithinLimits {
			a.View().Verdict(f.Report)
		}
		if err := a.View().ShowProgram(f.Report); err != nil {
			return err
		}
	}
	if len(one.Again) > 0 {
		a.Print("\n")
		a.Prose(0, "Until then these pieces carry more tension than the limits allow and can break without warning: keep them covered and apart, handle them little, with eyes and hands protected. They bring that tension into the kiln, so they are heated with half of what is allowed otherwise.")
	}
	return nil
}

// cautions are what a person must know who takes the one program for all.
func cautions(one *plan.Single) []string {
	out := []string{}
	closed, hot := report.ClosedText(one.Report)
	switch {
	case len(one.Cracked) > 0: // until the room is reached
		out = append(out, words.MayBurst)
	case hot:
		out = append(out, "Keep the kiln closed "+closed+", whatever the clock says: it would be opened too hot.")
	}
	if len(one.Hopeless) > 0 {
		out = append(out, "A piece for which no program was found carries more tension than the limits allow and can break without warning, at the opening or days later: keep it covered and apart, handle it little, with eyes and hands protected.")
	}
	return out
}

// singleText says what a program does to a piece.
func singleText(one *plan.Single, i int) string {
	p := one.Report.Pieces[i]
	if v := p.Verdict(); v == verify.WithinLimits || v == verify.NotJudged {
		return report.VerdictWord(p)
	}
	text := report.OverText(one.Report, p)
	if p.Tension.Use > 1 {
		text += fmt.Sprintf(" (tension %s %% of its limit)", report.Used(p.Tension))
	}
	return text
}

const (
	annealAgain = "anneal again"
	mayCrack    = "may crack"
)

// singleThen says what is to be done with a piece.
func singleThen(one *plan.Single, i int) string {
	switch {
	case one.Report.Pieces[i].Within:
		return "-"
	case slices.Contains(one.Cracked, i):
		return mayCrack
	case slices.Contains(one.Harmed, i):
		return "not mended"
	case slices.Contains(one.Cooler, i):
		if closed, ok := report.ClosedText(one.Report); ok {
			return "closed " + closed
		}
		return "open colder"
	case slices.Contains(one.Hopeless, i):
		return "no program found"
	}
	return annealAgain
}

// namesOf names pieces of a load.
func namesOf(load *piece.Load, which []int) (out []string) {
	for _, i := range which {
		out = append(out, report.CountName(load.Pieces[i]))
	}
	return out
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
	j.Pieces, j.Cautions = NewHarmsJSON(one), cautions(one)
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
