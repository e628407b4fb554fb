// Package sharing answers whether a load can go through one program, and what to do
// with one that cannot: the fewest firings, and one program for who has everything
// hot already. The answers themselves are of package plan.
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
	"lehr/cmd/lehr/checks"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
)

// Share is lehr share.
func Share(ctx context.Context, a *desk.App, l *flags.Load, args []string, shortest bool) error {
	if stop, err := checks.Danger(a, "share", l.Facts); stop {
		return err
	}
	load, st, err := flags.ReadLoad(a, "share", l, args)
	if err != nil {
		return err
	}
	o, err := l.Options("share")
	if err != nil {
		return err
	}
	ctx, stop := desk.Interruptible(ctx)
	defer stop()
	s, err := flags.Shared(ctx, a, load, st, o, shortest)
	if err != nil {
		return flags.Explained(err, st.Units)
	}
	one, err := single(ctx, a, load, st, o, s, shortest)
	if err != nil {
		return err
	}
	return showAnswer(a, load, st, s, one)
}

// showAnswer prints whether a load can share, and returns the error that sets
// the exit status.
func showAnswer(a *desk.App, load *piece.Load, st kiln.Studio, s *plan.Sharing, one *plan.Single) (err error) {
	if a.JSON {
		err = printJSON(a, load, st, s, one)
	} else {
		err = showShare(a, load, st, s, one)
	}
	if err != nil {
		return err
	}
	return desk.OverIf(!s.Shareable || slices.ContainsFunc(s.Firings, plan.Firing.Over))
}

func showShare(a *desk.App, load *piece.Load, st kiln.Studio, s *plan.Sharing, one *plan.Single) error {
	switch {
	case s.Shareable && s.Firings[0].Report.Verdict() == verify.OverLimit:
		a.Lead(term.Bad, "Yes", "", ": sharing costs no limit, but "+overAlone(s.Firings[0].Report)+".")
	case s.Shareable && len(load.Pieces) == 1:
		a.Print(a.Style(term.Good, "Yes") + ": there is one kind of piece.\n")
	case s.Shareable:
		a.Print(a.Style(term.Good, "Yes") + ": the load can share one program.\n")
	default:
		a.Print(a.Style(term.Bad, "No") + ": the load cannot share one program.\n")
		for _, r := range report.ShareReasons(load, st, s) {
			a.Item("  ", r+".")
		}
		a.Prose(0, report.SplitText(s))
		if one != nil {
			a.Prose(0, "With everything hot already: see \""+report.SingleTitle+"\", at the end.")
		}
	}
	for i, f := range s.Firings {
		a.Print("\n")
		if len(s.Firings) > 1 {
			a.Print(a.Style(term.Bold, fmt.Sprintf("Firing %d", i+1)) + "\n")
		}
		a.View().Verdict(f.Report)
		a.Print("\n")
		if err := a.View().ShowProgram(f.Report); err != nil {
			return err
		}
		a.Print("\n")
		if err := showCost(a, s, i); err != nil {
			return err
		}
		a.List("What to know first", words.About(f.Report).List(f.Report.Notes))
	}
	if one != nil {
		if err := showSingle(a, load, one); err != nil {
			return err
		}
	}
	if len(s.Firings) > 1 {
		a.Print("\n")
		if load.Start != nil {
			a.Prose(0, "Each firing is shown as if it began at "+load.Start.Text(st.Units)+".")
		}
		a.Prose(0, "Plan the firing you begin with by itself: lehr plan says what to look at before leaving the kiln alone.")
		return nil
	}
	a.Print("\n")
	pages := "lehr plan prints what to look at before leaving the kiln alone; with --why, before opening it, too."
	if load.Into == piece.WarmOnly {
		pages = "lehr plan prints what to look at before leaving the kiln alone and before reaching into it."
	}
	a.Prose(0, pages)
	return nil
}

// overAlone names the pieces over a limit of a load that can share, which none is
// for sharing.
func overAlone(rep *verify.Report) string {
	var out []string
	for _, p := range rep.Pieces {
		if p.Verdict() == verify.OverLimit {
			out = append(out, p.Piece.What)
		}
	}
	if len(out) == 1 {
		return out[0] + " is over a limit even alone"
	}
	return strings.Join(out, ", ") + " are over a limit even alone"
}

// showCost prints who decides what, and what sharing costs the others.
func showCost(a *desk.App, s *plan.Sharing, firing int) error {
	f := s.Firings[firing]
	cols := []term.Column{term.LongColumn("piece"), term.LongColumn("decides"), term.NumberColumn("alone h:min"), term.NumberColumn("costs h:min"), term.LongColumn("verdict")}
	var rows [][]string
	for j, i := range f.Pieces {
		p := f.Report.Pieces[j]
		decides := strings.Join(report.Purposes(p.Decides), ", ")
		if decides == "" {
			decides = "-"
		}
		rows = append(rows, []string{report.CountName(p.Piece), decides, report.HourMin(s.Alone[i]), report.HourMin(s.Cost(firing, i)), report.VerdictWord(p)})
	}
	return a.Table(cols, rows)
}

type sharePieceJSON struct {
	Index  int        `json:"index"`
	What   string     `json:"what"`
	Count  int        `json:"count"`
	AloneH report.Num `json:"alone_h"`
	CostH  report.Num `json:"cost_h"`
	Within bool       `json:"within"`
	Decide []string   `json:"decides"`
}

// unfitJSON is a piece that the controller cannot be set for.
type unfitJSON struct {
	Index int    `json:"index"`
	What  string `json:"what"`
	Why   string `json:"why"`
}

type firingJSON struct {
	Pieces   []sharePieceJSON     `json:"pieces"`
	Verdict  string               `json:"verdict"`
	Schedule report.ScheduleJSON  `json:"schedule"`
	Shortest *report.ShortestJSON `json:"shortest"`
}

type shareJSON struct {
	Shareable bool         `json:"shareable"`
	Reasons   []string     `json:"reasons"`
	Program   *report.JSON `json:"program"`
	Firings   []firingJSON `json:"firings"`
	Unfit     []unfitJSON  `json:"unfit"`
	Proved    bool         `json:"fewest_proved"`
	CostH     report.Num   `json:"cost_h"`
	Single    *singleJSON  `json:"one_firing"`
}

func printJSON(a *desk.App, load *piece.Load, st kiln.Studio, s *plan.Sharing, one *plan.Single) error {
	v := shareJSON{Shareable: s.Shareable, Reasons: report.ShareReasons(load, st, s), Proved: s.Exact, Single: newSingleJSON(one)}
	if s.Shareable {
		rep, err := report.NewJSON(s.Firings[0].Report)
		if err != nil {
			return err
		}
		v.Program = &rep
	}
	for _, u := range s.Unfit {
		v.Unfit = append(v.Unfit, unfitJSON{u.Piece, load.Pieces[u.Piece].What, report.UnfitText(u, st)})
	}
	for i, f := range s.Firings {
		j := firingJSON{Verdict: words.Verdict(f.Report.Verdict()), Schedule: report.NewScheduleJSON(f.Report), Shortest: report.NewShortestJSON(f.Report)}
		for k, index := range f.Pieces {
			p := f.Report.Pieces[k]
			cost := s.Cost(i, index).Hours()
			v.CostH = max(v.CostH, report.Num(cost))
			j.Pieces = append(j.Pieces, sharePieceJSON{Index: index, What: load.Pieces[index].What, Count: load.Pieces[index].Count,
				AloneH: report.Num(s.Alone[index].Hours()), CostH: report.Num(cost), Within: p.Verdict() == verify.WithinLimits, Decide: report.Purposes(p.Decides)})
		}
		v.Firings = append(v.Firings, j)
	}
	return a.PrintJSON(v)
}
