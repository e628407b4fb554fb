package main

import (
	"errors"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/cmd/lehr/checks"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/nights"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/web"
	"lehr/safety/emergency"
)

func newSheetCommand(a *app) *cobra.Command {
	var l *flags.Load
	var readyBy string
	var shortest bool
	c := &cobra.Command{
		Use:   "sheet [<load.toml>] [--glass <name> --piece <piece>...] [-o <file>]",
		Short: "Make the sheet to print and pin on the kiln, or to read on a phone",
		Long: `Plans the program for a load as lehr plan does and makes one page of HTML of it: verdict, times, the program in large numerals with a box to tick for each segment as it is keyed in, each piece as bars against its limits, what the kiln should read every half hour, the curve, and the cautions for leaving and opening the kiln. On a screen it shows one segment at a time, too, and reasons, assumptions and sources.

The page holds everything it shows and loads nothing. The program prints on one side of Letter or A4 paper for an ordinary load, what to do when something is wrong on the back.

After a power failure, --now and --was, or --after with a log, give the page of the way on that lehr plan puts first: what to do, the program from here, the past and the way in one curve. The page of a night that was logged is made by lehr verify night.csv load.toml --sheet.

A load that cannot share one program gives a page of the split, one card for each firing. A danger that is reported by --fact takes the page over.`,
		Example: `lehr sheet mixed.toml -o mixed.html
lehr sheet --glass borosilicate-33 --piece "sphere 2.5in" > tonight.html
lehr sheet mixed.toml -o mixed.html --svg mixed.svg
lehr sheet mixed.toml -o mixed.html --ready-by 8:00
lehr sheet mixed.toml -o mixed.html --shortest
lehr sheet mixed.toml -o mixed.html --over mine.toml
lehr sheet mixed.toml -o mixed.html --now '00:15 490 °C' --was '23:45 530 °C'
lehr sheet mixed.toml -o large.html --large`,
		Args: atMost(1),
	}
	l = flags.AddLoad(a.App, c)
	l.SayFacts(c)
	flags.AddRule(a.App, c, l)
	flags.AddLimits(a.App, c, l)
	flags.AddShortest(c, &shortest)
	c.Flags().StringVar(&readyBy, "ready-by", "", "clock `time` at which the kiln must be ready to open, such as 8:00")
	failed := nights.AddOutageFlags(c)
	v := &flags.Views{}
	flags.AddCurve(a.App, c, v)
	c.Flags().BoolVar(&v.Large, "large", false, "make the page half as large again, on the screen and on paper")
	v.Sheet = a.OutFlag(c, "output", "o", outfile.HTML, "sheet", "write the page to `file.html`, \"-\" for standard output (default: -)")
	a.ForceFlag(c)
	c.RunE = func(c *cobra.Command, args []string) error {
		lines, err := checks.Dangers("sheet", l.Facts)
		if err != nil {
			return err
		}
		if !v.Sheet.Given() {
			v.Sheet.Name = outfile.Stdout
		}
		if len(lines) > 0 {
			return a.dangerSheet(c, v, lines, l.Facts)
		}
		q, err := a.asked(c, l, v, args)
		if err != nil {
			return err
		}
		load, st, o := q.load, q.st, q.o
		ctx, stop := desk.Interruptible(c.Context())
		defer stop()
		if failed.Given() {
			return nights.Outage(ctx, a.App, c, failed, load, st, o, nil, v)
		}
		planner, end := flags.Planner(a.App, shortest)
		defer end()
		rep, err := a.planned(ctx, c.Name(), load, st, o, readyBy, planner, shortest)
		curve := v.SVG.Given() || v.PNG.Given() || v.PDF.Given()
		if plan.Divisible(rep, err) && (err != nil || readyBy == "" && !curve) {
			other, s, failed := plan.Instead(ctx, load, st, o, rep, plan.ShareHow{Planner: planner})
			switch {
			case s != nil:
				return a.splitSheet(v, load, st, s)
			case failed == nil && other != nil:
				rep, err = other, nil
			}
		}
		if err != nil {
			return flags.Explained(err, st.Units)
		}
		if err := flags.LayOver(ctx, a.App, v, q.drawn, rep, o.Limits); err != nil {
			return err
		}
		if err := flags.SaveViews(a.App, v, rep); err != nil {
			return err
		}
		return planError(rep)
	}
	return c
}

// splitSheet makes the page of a load that cannot share one program.
func (a *app) splitSheet(v *flags.Views, load *piece.Load, st kiln.Studio, s *plan.Sharing) error {
	if v.SVG.Given() || v.PNG.Given() || v.PDF.Given() {
		return term.WithHint(errors.New("a load that cannot share one program has no curve"), "leave --svg, --png and --pdf out; the page shows the split")
	}
	err := a.Put(v.Sheet, func() ([]byte, error) { return web.Split(load, st, s, flags.Paper(a.App)) })
	if err != nil {
		return err
	}
	a.Say("this load cannot share one program; the page shows the split")
	return desk.ErrOverLimit
}

// dangerSheet makes the page of a danger that is reported: no program is on it.
func (a *app) dangerSheet(c *cobra.Command, v *flags.Views, lines []emergency.Line, typed []string) error {
	v.SVG.Name, v.PNG.Name, v.PDF.Name = "", "", "" // there is no curve
	if err := a.Claim(c); err != nil {
		return err
	}
	if v.Sheet.Name != outfile.Stdout { // the page goes to a file: say it here, too
		checks.ShowDanger(a.App, lines, typed...)
	}
	err := a.Put(v.Sheet, func() ([]byte, error) {
		return web.Danger(lines, checks.EmergencyNumber(a.App, typed...), flags.Paper(a.App))
	})
	if err != nil {
		return err
	}
	return desk.ErrOverLimit
}
