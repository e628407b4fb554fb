package main

import (
	"bytes"
	"context"

	"github.com/spf13/cobra"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/shortest"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/checks"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/nights"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/sharing"
	"lehr/cmd/lehr/topics"
	"lehr/glass/unit"
)

// planFlags are the flags of lehr plan.
type planFlags struct {
	load            *flags.Load
	views           *flags.Views
	out             *desk.OutFlag
	failed          *nights.OutageFlags
	readyBy         string
	shortest, watch bool
}

// newPlanCommand makes lehr plan; most of it is the text of its help.
func newPlanCommand(a *app) *cobra.Command {
	var f planFlags
	c := &cobra.Command{
		Use:   "plan [<load.toml>] [--glass <name> --piece <piece>...]",
		Short: "Plan tonight's kiln program for a load, and prove it",
		Long: `Plans the kiln program for a load: the soak, the cooling and the hour it ends, rounded to what the controller takes. Exactly the rounded program is then simulated in every piece, in average glass and in the worst case over what nobody measured, and each is compared with its limit; what exceeds one is slowed until it does not.

A load is a file, or a glass and pieces named by flags. The report gives the verdict first, then the program to key in, each piece's numbers beside their limits, what was assumed, and what to look at before you walk away.

With --ready-by it works backward from the hour at which you want to open the kiln: it gives the latest start, or, for a load that says when it starts, whether that hour is met, and if not, what meets it, the cheapest first and no more of it than needed: a shorter program, less margin, a kiln opened warmer, a limit that gives. That is in the likeliest kiln; of one that nobody measured it also says between which hours it can be ready, and which start is enough for the slowest. An hour that is not met counts as a limit exceeded.

A load that cannot share one program is answered as lehr share does: the fewest firings, and the best single program for who has everything hot already. No file is written then.

With --shortest it searches for the shortest program that keeps the limits, instead of following the rule: soak, break temperatures and rates are chosen for this load, this kiln and this controller, and what no program can beat by the closed forms is printed beside it. It uses the limits up, but for the margin. An interrupt (Ctrl-C) prints the best program judged by then, marked as such.

` + nights.OutageHelp + `

With --watch it plans again whenever the load, the studio file or the file of --glass-file has changed, until an interrupt ends it: write the load in one window and read its program in another.

The curve of --chart, --svg, --png, --pdf and --sheet shows the three kinds of piece nearest to a limit, or those that --draw names, six at most; with --over it shows another program in the same load, too, in long dashes, for two kinds at most.

The file written by -o is read by lehr verify.`,
		Example: `lehr plan mixed.toml
lehr plan mixed.toml --now '00:15 490 °C' --was '23:45 530 °C'
lehr plan mixed.toml --shortest
lehr plan --glass borosilicate-33 --piece "6 x sphere 2.5in" --start 22:15
lehr plan mixed.toml --units f -o tonight.toml
lehr plan --glass soda-104 --piece "pendant 45mm x 12mm" --into "cold kiln"
lehr plan --glass borosilicate-33 --piece "sphere 3in; inside opal 8mm"
lehr plan mixed.toml --ready-by 8:00
lehr plan mixed.toml --watch
lehr plan mixed.toml --chart
lehr plan mixed.toml --svg both.svg --over mine.toml --draw 1 --draw 1.25in
lehr plan mixed.toml --sheet tonight.html --svg curve.svg
lehr plan mixed.toml --json`,
		Args:        atMost(1),
		Annotations: withJSON(),
		RunE:        func(c *cobra.Command, args []string) error { return a.runPlan(c, &f, args) },
	}
	f.load = flags.AddLoad(a.App, c)
	f.load.SayFacts(c)
	flags.AddRule(a.App, c, f.load)
	flags.AddLimits(a.App, c, f.load)
	flags.AddShortest(c, &f.shortest)
	c.Flags().StringVar(&f.readyBy, "ready-by", "", "clock `time` at which the kiln must be ready to open, such as 8:00")
	c.Flags().BoolVar(&f.watch, "watch", false, "plan again whenever the load or the studio file has changed")
	f.failed = nights.AddOutageFlags(c)
	f.out = a.OutFlag(c, "output", "o", outfile.TOML, "program", "write the program to `schedule.toml`, \"-\" for standard output")
	f.views = flags.AddViews(a.App, c)
	a.ForceFlag(c)
	return c
}

// runPlan is lehr plan.
func (a *app) runPlan(c *cobra.Command, f *planFlags, args []string) error {
	if f.watch {
		return a.watch(c, args, f.load)
	}
	if stop, err := checks.Danger(a.App, "plan", f.load.Facts); stop {
		return err
	}
	q, err := a.asked(c, f.load, f.views, args)
	if err != nil {
		return err
	}
	load, st, o := q.load, q.st, q.o
	ctx, stop := desk.Interruptible(c.Context())
	defer stop()
	if f.failed.Given() {
		return nights.Outage(ctx, a.App, c, f.failed, load, st, o, f.out, f.views)
	}
	planner, end := flags.Planner(a.App, f.shortest)
	defer end()
	rep, err := a.planned(ctx, c.Name(), load, st, o, f.readyBy, planner, f.shortest)
	if plan.Divisible(rep, err) && (err != nil || f.readyBy == "") {
		other, handled, failed := sharing.Instead(ctx, a.App, load, st, o, rep, f.shortest)
		if (other != nil || handled) && f.readyBy != "" {
			a.Say("ready by " + f.readyBy + " is not answered for what follows: compare its hours; ask about each firing by itself")
		}
		if handled {
			if f.out.Given() || f.views.Given() {
				a.Say("this load cannot share one program; no file is written")
			}
			return failed
		}
		if other != nil {
			rep, err = other, nil
		}
	}
	if err != nil {
		return flags.Explained(err, st.Units)
	}
	if a.Why && !f.shortest && rep.Within {
		if rep.Questions, err = plan.Questions(ctx, rep, o); err != nil {
			return flags.Explained(err, st.Units)
		}
	}
	if err := flags.LayOver(ctx, a.App, f.views, q.drawn, rep, o.Limits); err != nil {
		return err
	}
	if err := flags.SaveProgram(a.App, f.out, rep); err != nil {
		return err
	}
	if err := flags.SaveViews(a.App, f.views, rep); err != nil {
		return err
	}
	return a.answer(rep)
}

// answer prints a report and returns the error that sets the exit status.
func (a *app) answer(rep *verify.Report) error {
	print := a.View().ShowReport
	if a.JSON {
		print = a.ReportJSON
	}
	if err := print(rep); err != nil {
		return err
	}
	return planError(rep)
}

// question is what a plan is asked for, read from files and flags.
type question struct {
	load  *piece.Load
	st    kiln.Studio
	o     plan.Options
	drawn report.Drawn
}

// asked reads what a plan is asked for, and claims the files that are to be written.
func (a *app) asked(c *cobra.Command, l *flags.Load, v *flags.Views, args []string) (q question, err error) {
	if q.load, q.st, err = flags.ReadLoad(a.App, c.Name(), l, args); err != nil {
		return q, err
	}
	if a.Chart && a.JSON {
		return q, desk.Usagef("leave one of them out", "%s: both --chart and --json", c.Name())
	}
	if q.o, err = l.Options(c.Name()); err != nil {
		return q, err
	}
	if q.drawn, err = flags.ReadDrawn(a.App, c.Name(), v, q.load); err != nil {
		return q, err
	}
	return q, a.Claim(c)
}

// planError is the error of a plan that exceeds a limit, that is not ready by its
// hour, or beside which a line for leaving or opening the kiln is broken by what is
// known.
func planError(rep *verify.Report) error {
	if rep.Verdict() != verify.WithinLimits || rep.Ready != nil && !rep.Ready.Met {
		return desk.ErrOverLimit
	}
	broken, err := report.NotKept(rep)
	if err != nil {
		return err
	}
	return desk.OverIf(len(broken) > 0)
}

// newVerifyCommand makes lehr verify; most of it is the text of its help.
func newVerifyCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "verify <schedule.toml|night.csv> [<load.toml>] [--glass <name> --piece <piece>...]",
		Short: "Simulate a program you already use in every piece of a load",
		Long: `Simulates a kiln program in every piece of a load and compares the tension while cooling, the tension left, and what the soak relaxes with the limits. The program is taken exactly as written.

The schedule file holds what is keyed in, in °C or °F. Every key it takes:

` + topics.ScheduleExample + `

A segment that only waits has a hold alone. What lehr plan -o writes has the same form.

` + nights.LogHelp,
		Example: `lehr verify tonight.toml mixed.toml
lehr verify tonight.toml --glass borosilicate-33 --piece "sphere 3in"
lehr verify tonight.toml mixed.toml --json
lehr verify tonight.toml mixed.toml --csv history.csv
lehr verify tonight.toml mixed.toml --sheet tonight.html --svg curve.svg
lehr verify night.csv mixed.toml --program tonight.toml --svg told.svg
lehr verify night.csv --dry-run`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return desk.Usagef("it is called as: "+c.UseLine(), "verify: needs <schedule.toml> or <night.csv>")
			}
			return atMost(2)(c, args)
		},
		Annotations: withJSON(),
	}
	l := flags.AddLoad(a.App, c)
	l.SayFacts(c)
	flags.AddLimits(a.App, c, l)
	v := flags.AddViews(a.App, c)
	csv := a.OutFlag(c, "csv", "", outfile.CSV, "history", "write the course of each kind of piece to `file`, \"-\" for standard output: time as told, and by the clock as long as the kiln is as told, kiln, surface and center of average glass, stresses of the worst case; the last row of each has what is left in it, and zeros at the end of the very last tell that nobody has changed it")
	night := nights.AddFlags(c)
	a.ForceFlag(c)
	c.RunE = func(c *cobra.Command, args []string) error { return a.runVerify(c, l, night, csv, v, args) }
	return c
}

// runVerify is lehr verify: of a log, if a log is named in the place of a program.
func (a *app) runVerify(c *cobra.Command, l *flags.Load, night *nights.Flags, csv *desk.OutFlag, v *flags.Views, args []string) error {
	if stop, err := checks.Danger(a.App, "verify", l.Facts); stop {
		return err
	}
	if flags.IsLog(a.App, args[0]) {
		for flag, given := range map[string]bool{"--chart": a.Chart, "--over": v.Drawn.Over != ""} {
			if given {
				return desk.Usagef("leave it out; --svg, --png, --pdf and --sheet show a log", "verify: %s: is for a program, and %s is a log of readings", flag, desk.ShownName(args[0]))
			}
		}
		return nights.Log(a.App, c, l, night, csv, v, args)
	}
	if len(args) == 2 && flags.IsLog(a.App, args[1]) {
		return desk.Usagef("the log comes first: lehr verify "+desk.ShellWord(args[1])+" LOAD.toml", "verify: %s is a log of readings, not a load", args[1])
	}
	if flag := night.Given(); flag != "" {
		return desk.Usagef("leave it out, or name a log of readings first: lehr verify NIGHT.csv LOAD.toml", "verify: %s: is for a log of readings, and %s is none", flag, desk.ShownName(args[0]))
	}
	s, err := flags.ReadProgram(a.App, "verify", args)
	if err != nil {
		return err
	}
	load, st, err := flags.ReadLoad(a.App, "verify", l, args[1:])
	if err != nil {
		return err
	}
	o, err := l.Options("verify")
	if err != nil {
		return err
	}
	if a.Chart && a.JSON {
		return desk.Usagef("leave one of them out", "verify: both --chart and --json")
	}
	d, err := flags.ReadDrawn(a.App, "verify", v, load)
	if err != nil {
		return err
	}
	if d.Own != "" {
		d.Own = desk.ShownName(args[0])
	}
	if err := a.Claim(c); err != nil {
		return err
	}
	ctx, stop := desk.Interruptible(c.Context())
	defer stop()
	rep, err := verify.Program(ctx, s, load, st, o.Limits)
	if err != nil {
		return err
	}
	if f, ok, err := plan.Mend(ctx, rep, st); err != nil {
		return err
	} else if ok {
		rep.Mend.Add(f)
	}
	err = a.Put(csv, func() ([]byte, error) {
		var buf bytes.Buffer
		err := rep.WriteHistory(&buf)
		return buf.Bytes(), err
	})
	if err != nil {
		return err
	}
	if err := flags.LayOver(ctx, a.App, v, d, rep, o.Limits); err != nil {
		return err
	}
	if err := flags.SaveViews(a.App, v, rep); err != nil {
		return err
	}
	return a.answer(rep)
}

// planned plans a load, by a clock time if one is given; searches says that the
// planner is the search already.
func (a *app) planned(ctx context.Context, cmd string, load *piece.Load, st kiln.Studio, o plan.Options, readyBy string, planner plan.Planner, searches bool) (*verify.Report, error) {
	if readyBy == "" {
		return planner(ctx, load, st, o)
	}
	by, err := unit.ParseClock(readyBy)
	if err != nil {
		return nil, desk.AsUsage(cmd+": --ready-by", err)
	}
	how := plan.ReadyHow{By: by, Planner: planner}
	if !searches {
		how.Search = shortest.Planner(nil)
	}
	return plan.ReadyBy(ctx, load, st, o, how)
}

func newShareCommand(a *app) *cobra.Command {
	var l *flags.Load
	var shortest bool
	c := &cobra.Command{
		Use:   "share [<load.toml>] [--glass <name> --piece <piece>...]",
		Short: "Say whether a mixed load can share one program",
		Long: `Answers whether all pieces of a load can go through one kiln program: whether their soak ranges meet, whether each bears the longest soak, which piece decides each number, and what sharing costs the others in hours. If they cannot share, it gives the fewest firings and what goes in each, and the best single program for who has everything hot already: what it does to which piece, and what to anneal again by which program. The exit status is then 3.

With --shortest every program is the shortest that the search finds instead of the rule's: the shared one, each piece's own, and those of a split.

A split into the fewest firings is proved for up to 12 different kinds of piece; beyond that it is a good one, and the answer says so.`,
		Example: `lehr share mixed.toml
lehr share mixed.toml --units f
lehr share mixed.toml --shortest
lehr share --glass boro --piece "sphere 3in" --piece "pendant 45mm x 12mm"
lehr share mixed.toml --json`,
		Args:        atMost(1),
		Annotations: withJSON(),
		RunE: func(c *cobra.Command, args []string) error {
			return sharing.Share(c.Context(), a.App, l, args, shortest)
		},
	}
	l = flags.AddLoad(a.App, c)
	l.SayFacts(c)
	flags.AddRule(a.App, c, l)
	flags.AddLimits(a.App, c, l)
	flags.AddShortest(c, &shortest)
	return c
}
