package main

import (
	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/outfile"
	"lehr/cmd/lehr/reference"
	"lehr/cmd/lehr/topics"
)

func newGlassCommand(a *app) *cobra.Command {
	var file string
	c := &cobra.Command{
		Use:   "glass [<name>]",
		Short: "List the glasses, or show one with every value's source",
		Long: `Lists the glasses lehr knows, or shows one: each property with its range, its source and how well that source was read; where the viscosity curves put the temperatures at which stress relaxes; and above which temperature a piece takes marks or sags.

A glass of your own stands in a file of the same form as the built-in table. --file reads it, checks it, and shows it; the commands that plan read it with --glass-file my-glass.toml --glass my-boro. Eight lines will do:

` + topics.GlassExample + `

A value may also be written with where it is from: { value = "560 °C", source = "sheet", status = "verified", note = "..." }, with [source.sheet] and cite = "..." below. lehr glass NAME shows which properties there are.

Every parameter of the model can stand in the file, for whoever has measured it or found it in a thesis:

` + topics.SpectraExample + `

Times are of one temperature and of any unit, the same in all three: what counts is how they lie to one another. Weights of a series sum to 1. Without structural_modulus, the mean times of stress and structure say how far the one follows the other. A range (± 1 GPa) enters the worst case. What is not given is that of soda-lime glass; lehr glass NAME says where that is used beyond its own family, and what is published.

Every key that such a file takes; leave out what you do not know, or what your glass has in common with the one it is like:

` + topics.GlassKeys + `

The words for status stand in the README: verified, corroborated, quoted, memory, derived, common practice.`,
		Example: `lehr glass
lehr glass borosilicate-33
lehr glass soda-104 --units f
lehr glass --file my-glass.toml
lehr glass borosilicate-33 --json`,
		Args:        atMost(1),
		Annotations: withJSON(),
		ValidArgsFunction: func(c *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return flags.CompleteGlass(c, args, word)
		},
		RunE: func(_ *cobra.Command, args []string) error { return reference.Glass(a.App, file, args) },
	}
	c.Flags().StringVar(&file, "file", "", "read the glasses of `my-glass.toml`, \"-\" for standard input, instead of the built-in ones")
	return c
}

func newRulesCommand(a *app) *cobra.Command {
	var opt reference.RulesFlags
	c := &cobra.Command{
		Use:   "rules --piece <piece> [--glass <name>]",
		Short: "Show every published rule that applies to a piece, side by side",
		Long: `Shows what each published rule asks for one piece, side by side: soak, cooling rates, hours, and the stress that follows from them by the closed forms, with source and status. Rules that were published for other glasses or thicknesses refuse, and say why.

The published rules differ widely. lehr plan picks one and verifies the program; this command shows what there is to pick from.`,
		Example: `lehr rules --glass borosilicate-33 --piece "sphere 2.5in"
lehr rules --glass lead-crystal --piece "disc 75mm x 25mm" --units f
lehr rules --glass fusible-90 --piece "slab 19mm raised" --json`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE:        func(c *cobra.Command, _ []string) error { return reference.Rules(a.App, &opt, c.Flags().Changed) },
	}
	f := c.Flags()
	f.StringVar(&opt.Piece, "piece", "", "`piece`: \"sphere 64mm\", \"rod 10mm x 200mm\", \"disc 75mm x 25mm raised\", \"tube 38mm wall 4mm\"")
	f.StringVar(&opt.Glass, "glass", "", "`name` of the glass (default: that of the studio file)")
	f.StringVar(&opt.GlassFile, "glass-file", "", "find the glass in `my-glass.toml` instead of the built-in table")
	f.StringVar(&opt.Count, "count", "equal", "count a round piece as the slab of `equal|full`: equal surface stress, or full diameter")
	f.Var(&opt.Tension, "max-tension", "greatest tension while cooling, as a `stress` (default 3.5 MPa)")
	f.Var(&opt.Left, "max-left", "greatest tension left in the piece, as a `stress` (default 1.0 MPa)")
	desk.Must(c.MarkFlagRequired("piece"))
	desk.Must(c.RegisterFlagCompletionFunc("glass", flags.CompleteGlass))
	desk.Must(c.RegisterFlagCompletionFunc("count", cobra.FixedCompletions([]string{"equal", "full"}, cobra.ShellCompDirectiveNoFileComp)))
	return c
}

func newValidateCommand(a *app) *cobra.Command {
	var page *desk.OutFlag
	c := &cobra.Command{
		Use:   "validate [<quantity>] [-o <page.md>]",
		Short: "Run every published and computed case here, and say bias and spread",
		Long: `Runs the check cases that lehr carries with it, here and now and without a network, and says for each quantity how far its answers lie from what is expected: bias is the mean deviation, spread the standard deviation about it, worst the farthest. A word keeps to the quantities that hold it.

Cases come from texts (a printed number or table), from closed forms, from general-purpose codes that computed the same problem, and from computations of this project, which guard against change and prove little. A range that a text gives counts as met inside. A case that is known to deviate is told apart, with its cause and the day it was found, and counts in neither bias nor spread. -o writes the whole account as a page.

A case that is not met, or a bias or spread that has grown since this lehr was built, ends with status 3. A small bias says that the model is computed right and agrees with these sources; it does not say what your glass and your kiln will do.

A MEASUREMENT THAT WOULD SETTLE A DOUBT

How clear glass passes heat while it cools rests on bands of absorption and on no measured temperature inside a thick clear piece. Whoever has a drilled sphere and two thermocouples can settle it:

` + reference.RadiationRecipe,
		Example: `lehr validate
lehr validate viscosity
lehr validate retardation --json
lehr validate -o evidence.md`,
		Args:        atMost(1),
		Annotations: withJSON(),
	}
	page = a.OutFlag(c, "out", "o", outfile.HTML, "account of the evidence", "write the whole account to this `page.md` (- for standard output)")
	a.ForceFlag(c)
	c.RunE = func(c *cobra.Command, args []string) error {
		word := ""
		if len(args) == 1 {
			word = args[0]
		}
		if err := a.Claim(c); err != nil {
			return err
		}
		ctx, stop := desk.Interruptible(c.Context())
		defer stop()
		return reference.Validate(ctx, a.App, word, page)
	}
	return c
}
