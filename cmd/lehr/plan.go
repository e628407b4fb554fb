package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"strings"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass/unit"

	"github.com/spf13/cobra"

	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
)

// newPlanCommand makes lehr plan; most of it is the text of its help.
func newPlanCommand(a *app) *cobra.Command {
	var l *loadFlags
	var v *viewFlags
	var out *outFlag
	var readyBy string
	var shortest, watch bool
	var failed *outageFlags
	c := &cobra.Command{
		Use:   "plan [<load.toml>] [--glass <name> --piece <piece>...]",
		Short: "Plan tonight's kiln program for a load, and prove it",
		Long: `Plans the kiln program for a load: the soak, the cooling and the hour it ends, rounded to what the controller takes. Exactly the rounded program is then simulated in every piece, in average glass and in the worst case over what nobody measured, and each is compared with its limit; what exceeds one is slowed until it does not.

A load is a file, or a glass and pieces named by flags. The report gives the verdict first, then the program to key in, each piece's numbers beside their limits, what was assumed, and what to look at before you walk away.

With --ready-by it works backward from the hour at which you want to open the kiln: it gives the latest start, or, for a load that says when it starts, whether that hour is met, and if not, at which reading the pieces bear a kiln opened warmer, or which limit would have to give and by how much. An hour that is not met counts as a limit exceeded.

A load that cannot share one program is answered as lehr share does: the fewest firings, and the best single program for who has everything hot already. No file is written then.

With --shortest it searches for the shortest program that keeps the limits, instead of following the rule: soak, break temperatures and rates are chosen for this load, this kiln and this controller, and what no program can beat by the closed forms is printed beside it. Such a program uses the limits up. An interrupt (Ctrl-C) prints the best program found so far, marked as such.

` + outageHelp + `

With --watch it plans again whenever the load, the studio file or the file of --glass-file has changed, until an interrupt ends it: write the load in one window and read its program in another.

The curve of --chart, --svg, --png, --pdf and --sheet shows the three kinds of piece nearest to a limit, or those that --draw names, six at most; with --over it shows another program in the same load, too, in long dashes, for two kinds at most.

The file written by -o is read by lehr verify.`,
		Example: `lehr plan mixed.toml
lehr plan mixed.toml --now '04:30 310 °C' --was '02:10 500 °C'
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
		RunE: func(c *cobra.Command, args []string) error {
			if watch {
				return a.watch(c, args, l)
			}
			if stop, err := a.danger("plan", l.facts); stop {
				return err
			}
			load, st, err := a.readLoad("plan", l, args)
			if err != nil {
				return err
			}
			if a.chart && a.json {
				return usagef("leave one of them out", "plan: both --chart and --json")
			}
			o, err := l.options("plan")
			if err != nil {
				return err
			}
			d, err := a.drawn("plan", v, load)
			if err != nil {
				return err
			}
			if err := a.claim(c); err != nil {
				return err
			}
			ctx, stop := interruptible(c.Context())
			defer stop()
			if failed.given() {
				return a.runOutage(ctx, c, failed, load, st, o, out, v)
			}
			planner, end := a.planner(shortest)
			defer end()
			rep, err := a.planned(ctx, c.Name(), load, st, o, readyBy, planner)
			var conflict *plan.ConflictError
			if errors.As(err, &conflict) && !conflict.Alone && !a.json {
				if handled, err := a.sharedInstead(ctx, load, st, o, shortest); handled {
					if out.given() || v.given() {
						a.say("this load cannot share one program; no file is written")
					}
					return err
				}
			}
			if err != nil {
				return explained(err, st.Units)
			}
			if a.why && !shortest && rep.Within {
				if rep.Questions, err = plan.Questions(ctx, rep, o); err != nil {
					return explained(err, st.Units)
				}
			}
			if err := a.layOver(ctx, v, d, rep, o.Limits); err != nil {
				return err
			}
			if err := a.saveSchedule(out, rep); err != nil {
				return err
			}
			if err := a.saveViews(v, rep); err != nil {
				return err
			}
			return a.answer(rep)
		},
	}
	l = a.addLoadFlags(c)
	l.sayFacts(c)
	a.addRuleFlags(c, l)
	a.addLimitFlags(c, l)
	addShortestFlag(c, &shortest)
	c.Flags().StringVar(&readyBy, "ready-by", "", "clock `time` at which the kiln must be ready to open, such as 8:00")
	c.Flags().BoolVar(&watch, "watch", false, "plan again whenever the load or the studio file has changed")
	failed = addOutageFlags(c)
	out = a.outFlag(c, "output", "o", outfile.TOML, "program", "write the program to `schedule.toml`, \"-\" for standard output")
	v = a.addViewFlags(c)
	a.forceFlag(c)
	return c
}

// saveSchedule puts the program of a report into a file.
func (a *app) saveSchedule(out *outFlag, rep *verify.Report) error {
	return a.put(out, func() ([]byte, error) {
		var buf bytes.Buffer
		err := program.WriteFor(&buf, rep.Schedule, rep.Load.Name, rep.Studio.Controller)
		return append(verdictComment(rep), buf.Bytes()...), err
	})
}

// verdictComment says at the head of a program what it exceeds: weeks later the
// file looks like any other. One that keeps its limits has no comment.
func verdictComment(rep *verify.Report) []byte {
	if rep.Verdict() == verify.WithinLimits {
		return nil
	}
	word, numbers := report.VerdictText(rep)
	texts := []string{word + " when it was planned: " + numbers + "."}
	for _, p := range rep.Pieces {
		if len(p.Over) > 0 {
			texts = append(texts, p.Piece.What+": "+report.OverText(rep, p)+".")
		}
	}
	var out strings.Builder
	for _, text := range texts {
		for line := range strings.Lines(term.Wrap(clean(text), 77, 0, 0)) {
			out.WriteString("# " + strings.TrimRight(line, "\n") + "\n")
		}
	}
	return []byte(out.String())
}

// answer prints a report and returns the error that sets the exit status.
func (a *app) answer(rep *verify.Report) error {
	print := a.view().ShowReport
	if a.json {
		print = a.reportJSON
	}
	if err := print(rep); err != nil {
		return err
	}
	if rep.Verdict() != verify.WithinLimits || rep.Ready != nil && !rep.Ready.Met {
		return errOverLimit
	}
	return keptError(rep)
}

// keptError is the error of a plan beside which a line for leaving or opening the
// kiln is broken by what is known.
func keptError(rep *verify.Report) error {
	broken, err := report.NotKept(rep)
	if err != nil {
		return err
	}
	return overIf(len(broken) > 0)
}

// newVerifyCommand makes lehr verify; most of it is the text of its help.
func newVerifyCommand(a *app) *cobra.Command {
	var l *loadFlags
	var night *nightFlags
	c := &cobra.Command{
		Use:   "verify <schedule.toml|night.csv> [<load.toml>] [--glass <name> --piece <piece>...]",
		Short: "Simulate a program you already use in every piece of a load",
		Long: `Simulates a kiln program in every piece of a load and compares the tension while cooling, the tension left, and what the soak relaxes with the limits. The program is taken exactly as written.

The schedule file holds what is keyed in, in °C or °F. Every key it takes:

` + scheduleExample + `

A segment that only waits has a hold alone. What lehr plan -o writes has the same form.

` + nightHelp,
		Example: `lehr verify tonight.toml mixed.toml
lehr verify tonight.toml --glass borosilicate-33 --piece "sphere 3in"
lehr verify tonight.toml mixed.toml --json
lehr verify tonight.toml mixed.toml --csv history.csv
lehr verify tonight.toml mixed.toml --sheet tonight.html --svg curve.svg
lehr verify night.csv mixed.toml --program tonight.toml --svg told.svg
lehr verify night.csv --dry-run`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usagef("it is called as: "+c.UseLine(), "verify: needs <schedule.toml> or <night.csv>")
			}
			return atMost(2)(c, args)
		},
		Annotations: withJSON(),
	}
	l = a.addLoadFlags(c)
	l.sayFacts(c)
	a.addLimitFlags(c, l)
	v := a.addViewFlags(c)
	csv := a.outFlag(c, "csv", "", outfile.CSV, "history", "write time as told and by the clock, kiln, surface and center of average glass and stresses of the worst case of each kind of piece to `file`, \"-\" for standard output")
	night = addNightFlags(c)
	a.forceFlag(c)
	c.RunE = func(c *cobra.Command, args []string) error {
		if stop, err := a.danger("verify", l.facts); stop {
			return err
		}
		if a.isLog(args[0]) {
			for flag, given := range map[string]bool{"--chart": a.chart, "--over": v.drawn.over != ""} {
				if given {
					return usagef("leave it out; --svg, --png, --pdf and --sheet show a log", "verify: %s: is for a program, and %s is a log of readings", flag, shownName(args[0]))
				}
			}
			return a.runVerifyLog(c, l, night, csv, v, args)
		}
		if len(args) == 2 && a.isLog(args[1]) {
			return usagef("the log comes first: lehr verify "+shellWord(args[1])+" LOAD.toml", "verify: %s is a log of readings, not a load", args[1])
		}
		if flag := night.given(); flag != "" {
			return usagef("leave it out, or name a log of readings first: lehr verify NIGHT.csv LOAD.toml", "verify: %s: is for a log of readings, and %s is none", flag, shownName(args[0]))
		}
		s, err := a.readSchedule("verify", args)
		if err != nil {
			return err
		}
		load, st, err := a.readLoad("verify", l, args[1:])
		if err != nil {
			return err
		}
		o, err := l.options("verify")
		if err != nil {
			return err
		}
		if a.chart && a.json {
			return usagef("leave one of them out", "verify: both --chart and --json")
		}
		d, err := a.drawn("verify", v, load)
		if err != nil {
			return err
		}
		if d.Own != "" {
			d.Own = shownName(args[0])
		}
		if err := a.claim(c); err != nil {
			return err
		}
		ctx, stop := interruptible(c.Context())
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
		err = a.put(csv, func() ([]byte, error) {
			var buf bytes.Buffer
			err := verify.WriteHistory(&buf, rep)
			return buf.Bytes(), err
		})
		if err != nil {
			return err
		}
		if err := a.layOver(ctx, v, d, rep, o.Limits); err != nil {
			return err
		}
		if err := a.saveViews(v, rep); err != nil {
			return err
		}
		return a.answer(rep)
	}
	return c
}

// readSchedule reads the schedule file of a command, its first argument.
func (a *app) readSchedule(cmd string, args []string) (s program.Schedule, err error) {
	err = a.readAs(cmd, scheduleFile, args[0], func(r io.Reader) error {
		s, err = program.Read(r, shownName(args[0]))
		return err
	})
	if len(args) == 2 && hintOf(err) != "" && a.kindOfFile(args[0]) == loadFile && a.kindOfFile(args[1]) == scheduleFile {
		err = usagef("write: lehr "+cmd+" "+shellWord(args[1])+" "+shellWord(args[0]), "%s: %s is the load and %s the schedule", cmd, args[0], args[1])
	}
	return s, err
}

// planned plans a load, by a clock time if one is given.
func (a *app) planned(ctx context.Context, cmd string, load *piece.Load, st kiln.Studio, o plan.Options, readyBy string, planner plan.Planner) (*verify.Report, error) {
	if readyBy == "" {
		return planner(ctx, load, st, o)
	}
	by, err := unit.ParseClock(readyBy)
	if err != nil {
		return nil, asUsage(cmd+": --ready-by", err)
	}
	return plan.ReadyBy(ctx, load, st, o, by, planner)
}
