package main

import (
	"github.com/spf13/cobra"

	"lehr/anneal/plan"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/outfile"
)

func newSheetCommand(a *app) *cobra.Command {
	var l *loadFlags
	c := &cobra.Command{
		Use:   "sheet [<load.toml>] [--glass <name> --piece <piece>...] [-o <file>]",
		Short: "Make the sheet to print and pin on the kiln, or to read on a phone",
		Long: `Plans the program for a load as lehr plan does and makes one page of HTML of it: the verdict and the end, the program in large numerals with a box to tick for each segment as it is keyed in, the curve, each piece's numbers against the limits, the cautions for leaving and opening the kiln, what was assumed, and the sources.

The page holds everything it shows and loads nothing. It prints on one sheet of Letter or A4 paper for an ordinary load, with what to do when something is wrong on the back, and reads on a phone.`,
		Example: `lehr sheet mixed.toml -o mixed.html
lehr sheet --glass borosilicate-33 --piece "sphere 2.5in" > tonight.html
lehr sheet mixed.toml -o mixed.html --svg mixed.svg
lehr sheet mixed.toml -o large.html --large`,
		Args: atMost(1),
	}
	l = a.addLoadFlags(c)
	l.sayFacts(c)
	a.addRuleFlags(c, l)
	a.addLimitFlags(c, l)
	v := &viewFlags{}
	a.addCurveFlags(c, v)
	c.Flags().BoolVar(&v.large, "large", false, "make the page half as large again, on the screen and on paper")
	v.sheet = a.outFlag(c, "output", "o", outfile.HTML, "sheet", "write the page to `file.html`, \"-\" for standard output (default -)")
	a.forceFlag(c)
	c.RunE = func(c *cobra.Command, args []string) error {
		if stop, err := a.danger("sheet", l.facts); stop {
			return err
		}
		if !v.sheet.given() {
			v.sheet.Name = outfile.Stdout
		}
		load, st, err := a.readLoad("sheet", l, args)
		if err != nil {
			return err
		}
		o, err := l.options("sheet")
		if err != nil {
			return err
		}
		if err := a.claim(c); err != nil {
			return err
		}
		rep, err := plan.Plan(c.Context(), load, st, o)
		if err != nil {
			return explained(err, st.Units)
		}
		if err := a.saveViews(v, rep); err != nil {
			return err
		}
		if rep.Verdict() != verify.WithinLimits {
			return errOverLimit
		}
		return nil
	}
	return c
}
