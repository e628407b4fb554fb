package main

import (
	"github.com/spf13/cobra"

	"lehr/cmd/lehr/bench"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/notes"
	"lehr/cmd/lehr/outfile"
)

func newCostCommand(a *app) *cobra.Command {
	n := &bench.CostFlags{}
	c := &cobra.Command{
		Use:   "cost [<load.toml>] [--meter <readings> | --power-log <file> | ...] [flags]",
		Short: "What a firing costs, and one piece of it",
		Long: `Adds up what a firing costs. Electricity is measured: by two readings of a meter, its pulses, or a log of the power, in the price of each hour; or computed from power and duty. With a program and a load and nothing measured it is estimated, and stays an estimate. Rod goes by grams, with what was lost; everything else is a line of its own.

With a load the sum is shared among its pieces by the shelf that they cover: all lie for the same hours, and the heat in the glass is a few per cent.

A price keeps its currency as typed: --price "0.30 EUR", or by the hour, "0.40 EUR from 6:00, 0.22 EUR from 22:00 as of 2026-10-01". A power log is CSV with a heading: time,power_W (or kW, or duty_% with --power); times with their offset, or elapsed as time_min or time_h.`,
		Example: `lehr cost --meter "12345.6 to 12363.9" --price "0.30 EUR" --hours 13h
lehr cost mixed.toml --pulses 18342 --per-kwh 1000 --price "0.30 EUR"
lehr cost --power-log day.csv --price "0.4 EUR from 6:00, 0.2 EUR from 22:00"
lehr cost mixed.toml --meter "12345.6 to 12363.9" --line "oxygen: 12 USD"
lehr cost --duty 30% --power 1.8kW --hours 10h --price "0.30 EUR"
lehr cost mixed.toml --program tonight.toml --price "0.30 EUR"`,
		Args:        atMost(1),
		Annotations: withJSON(),
	}
	n.Load = &flags.Load{Changed: c.Flags().Changed}
	c.RunE = func(c *cobra.Command, args []string) error {
		ctx, stop := desk.Interruptible(c.Context())
		defer stop()
		return bench.Cost(ctx, a.App, n, args)
	}
	f := c.Flags()
	n.Changed = f.Changed
	f.StringVar(&n.Meter, "meter", "", "two `readings` of the kiln's meter in kWh: \"12345.6 to 12363.9\"")
	f.IntVar(&n.Pulses, "pulses", 0, "pulses that the meter counted")
	f.IntVar(&n.PerKWh, "per-kwh", 1000, "pulses for one kWh, as the meter says (default: 1000)")
	f.StringVar(&n.Log, "power-log", "", "power against time, `night.csv`")
	f.StringVar(&n.Duty, "duty", "", "`share` of the hours in which the elements are on, such as 30%")
	f.Var(&n.Power, "power", "power of the elements (default: the studio file's)")
	f.StringVar(&n.Hours, "hours", "", "how `long` it took, such as 13h (default: the log's)")
	f.StringVar(&n.Start, "start", "", "clock `time` at which it began, for a price by the hour (default: the log's)")
	f.StringVar(&n.Program, "program", "", "estimate the electricity of this `schedule.toml` with the load")
	f.StringVar(&n.Price, "price", "", "`price` of one kWh, or several by the hour (default: the studio file's)")
	f.StringArrayVar(&n.Rods, "rod", nil, "`rod` by grams, with what was lost, repeatable: \"2100g at 45 EUR/kg\"")
	f.StringArrayVar(&n.Lines, "line", nil, "anything else, repeatable: \"oxygen: 12 EUR\"")
	f.StringVar(&n.Load.Glass, "glass", "", "`name` of the glass of the load, if it names none")
	f.StringVar(&n.Load.GlassFile, "glass-file", "", "find glasses in `my-glass.toml` too")
	return c
}

func newGatherCommand(a *app) *cobra.Command {
	g := &bench.GatherFlags{}
	c := &cobra.Command{
		Use:   "gather --piece <piece> [--part <part>...] [--rod <rod>...] [flags]",
		Short: "How much glass a size takes: grams first, rod second",
		Long: `Computes how much glass a piece takes: its mass and volume, that of each part it is built of, the length of rod for them, and what to buy with the loss and the stubs. Weigh, rather than measure a length: the cube root forgives, and rod is sold with a tolerance.

A piece is written as everywhere, "6 x sphere 2.5in", and here also as a cone, frustum, cap or shell: "cone 30mm x 40mm" (base, height), "frustum 40mm x 20mm x 25mm" (base, top, height), "cap 63.5mm x 18mm" (sphere, height), "shell 63.5mm wall 3mm". A tube and a slab take all their sizes.

Parts follow each other from the front. Each has a name and an amount: a share of the volume ("lens 50%"), a height for the first or the last ("backing 18mm"), a body inside ("flower cone 30mm x 40mm"), a mass ("frit 12g"), or what is left ("core rest").

A rod is its diameter, or its mass per length: --rod 19mm, --rod "632 g/m".`,
		Example: `lehr gather --piece "6 x sphere 2.5in" --glass boro --rod 19mm --loss 8%
lehr gather --piece "ball 3in" --glass boro --part "lens 50%" --part "b rest"
lehr gather --piece "sphere 2.5in" --glass boro --to 3in --paper card.html
lehr gather --sizes "1.25in, 2in, 3in" --glass boro --rod 19mm --units f
lehr gather --weighed 310g --glass boro
lehr gather --in-air 299g --in-water 165.17g`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE:        func(c *cobra.Command, _ []string) error { return bench.Gather(a.App, c, g) },
	}
	f := c.Flags()
	g.Changed = f.Changed
	f.StringVar(&g.Piece, "piece", "", "the `piece`, such as \"6 x sphere 2.5in\" (with --sizes or --weighed alone: a sphere)")
	f.StringArrayVar(&g.Parts, "part", nil, "a `part`, repeatable: \"lens 50%\", \"backing 18mm\", \"flower cone 30mm x 40mm\", \"frit 12g\", \"core rest\"")
	f.StringArrayVar(&g.Rods, "rod", nil, "a `rod` it could be taken from, repeatable: 19mm, \"632 g/m\"")
	f.StringVar(&g.Loss, "loss", "", "`share` of the glass taken up that is lost at the torch, such as 8% (default: the median of your own in the notebook, else none)")
	g.Notebook = notes.AddFlag(c)
	f.Var(&g.Stub, "stub", "length of each rod that cannot be worked, such as 40mm (default: none)")
	f.IntVar(&g.Stubs, "stubs", 1, "how many rods leave a stub")
	g.Glass = flags.AddGlass(c)
	f.StringVar(&g.Density, "density", "", "`density` of a color, such as \"2.31 g/cm3\" (default: that of the glass)")
	f.Var(&g.InAir, "in-air", "mass of a piece of the rod, with --in-water: its density is computed and used")
	f.Var(&g.InWater, "in-water", "mass of the same piece hanging in water")
	f.Var(&g.Within, "within", "how far the size may be off (default: 0.25 mm, or 0.01 in)")
	f.Var(&g.Weighed, "weighed", "the size that this mass gives, in the proportions of the piece")
	f.StringVar(&g.Sizes, "sizes", "", "a table of these `sizes`, with commas: \"1.25in, 2in, 3in\"")
	f.StringVar(&g.To, "to", "", "the same recipe at another `size`, such as 3in")
	g.Paper = a.OutFlag(c, "paper", "", outfile.HTML, "card", "write a card to print to `file.html`, \"-\" for standard output")
	a.ForceFlag(c)
	return c
}

func newPolariscopeCommand(a *app) *cobra.Command {
	o := &bench.PolariscopeFlags{Method: "senarmont", In: "air"}
	c := &cobra.Command{
		Use:   "polariscope [--piece <piece>] [--reading <reading> | --stress <stress>] [flags]",
		Short: "What the light shows, in stress, and back",
		Long: `Turns what a polariscope shows in a piece into stress in the middle and at the surface, with the error of the reading; or a stress into what it would show. With a piece alone it says where to look and what to see.

A reading is a retardation ("60 nm", "60 ± 15 nm"); degrees of the analyzer with the light they were read in ("20 deg", --light 546nm), after one quarter-wave plate (Sénarmont) or between two (Tardy); strain discs ("2.5 discs"); or a color and its order ("sky blue", --order 2).

It reads the parabola that annealing leaves: in a sphere at the bright ring inside the rim, in a rod across its axis, in a disc, slab or pendant through the edge. It refuses what light cannot tell: a sphere through its middle, a disc through its face, gray by eye, a color without its order. Read cold pieces: a difference in temperature shows as stress. A place (--at) is where you see it, from far off; air magnifies a sphere or rod, and a sphere without stress shines near its rim by reflection, as 20 to 30 nm would.

A piece is held against the limit that a plan holds its worst case against, by its size and ordinary wear, or against your own of the studio file.

Status 3: the tension in the middle is over the limit of what may be left, or may be by the error of the reading.`,
		Example: `lehr polariscope --piece "sphere 2.5in" --glass boro
lehr polariscope --piece "sphere 2in" --glass boro --reading 60nm --error 15nm
lehr polariscope --piece "rod 12mm" --glass boro --reading 8deg --light 546nm
lehr polariscope --piece "disc 75mm x 25mm" --glass soda-104 --reading 2discs
lehr polariscope --piece "sphere 2in" --glass boro --stress 150psi --units f
lehr polariscope --colors
lehr polariscope --chart colors.html --piece "sphere 3in" --glass boro`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE:        func(c *cobra.Command, _ []string) error { return bench.Polariscope(a.App, c, o) },
	}
	f := c.Flags()
	o.Changed = f.Changed
	f.StringVar(&o.Piece, "piece", "", "the `piece`, such as \"sphere 2.5in\"")
	o.Glass = flags.AddGlass(c)
	f.StringVar(&o.Reading, "reading", "", "what was `read`: \"60 nm\", \"20 deg\", \"2.5 discs\", \"sky blue\"")
	f.StringVar(&o.Misread, "error", "", "`error` of the reading, either way, such as 15nm (default: 10 nm, 2 degrees, half a disc, or the next color)")
	f.StringVar(&o.Light, "light", "", "`wavelength` in which degrees were read, such as 546nm")
	f.IntVar(&o.Order, "order", 0, "order of the color in white light, 1 for the first")
	f.Var(flags.OneOf(&o.Method, "senarmont|tardy"), "method", "how degrees were read: behind one quarter-wave plate, or between two (default: senarmont)")
	f.StringVar(&o.Plate, "plate", "", "`retardation` of the quarter-wave plate, such as 141nm: what it adds to the error is counted")
	f.Var(flags.OneOf(&o.In, "air|liquid"), "in", "what surrounds a sphere or rod: air, or a liquid of its own index (default: air)")
	f.StringVar(&o.At, "at", "", "`place` that was read: its distance from center, axis or middle plane as seen, or the word center or face (default: the brightest)")
	f.Var(&o.Path, "path", "length of glass that the light crosses in a slab (default: its width)")
	f.Var(&o.Stress, "stress", "the other way: what this tension in the middle shows")
	f.BoolVar(&o.Colors, "colors", false, "list the colors between crossed polarizers")
	o.Chart = a.OutFlag(c, "chart", "", outfile.HTML, "chart", "write the chart of colors, for a phone or to print, to `file.html`, \"-\" for standard output")
	a.ForceFlag(c)
	return c
}

func newWeekCommand(a *app) *cobra.Command {
	var cards, glassFile string
	c := &cobra.Command{
		Use:   "week <order.toml> [--cards <folder>]",
		Short: "Spread an order over nights and kilns",
		Long: `Spreads the pieces of an order over the nights of one or more kilns, in the fewest firings it finds: what lies together must share one program, lie on the shelf, and be out by its day. Beside the plan stand the fewest firings that any plan needs, and what cannot share.

Pieces lie in rows across the shelf, square or offset, each kind in rows of its own. Up to 12 kinds every way to fill the firings so is searched, within a number of steps; where that is not done, or more sets of kinds would have to be planned than are, it says so: not proved the fewest. An interrupt (Ctrl-C) prints the best plan found so far. An order file:

` + bench.OrderExample + `

A piece takes longest_soak, hottest_soak, resting, glass and note as in a load. --cards writes each night as a load file that lehr plan takes.

Status 3: something is late, finds no place, or has a program that does not keep its limits or cannot be judged.`,
		Example: `lehr week order.toml
lehr week order.toml --cards nights
lehr week order.toml --json --units f`,
		Args:        exactly("an order file"),
		Annotations: withJSON(),
	}
	f := c.Flags()
	f.StringVar(&cards, "cards", "", "write a load file for each night into this `folder`, which is made if need be")
	f.StringVar(&glassFile, "glass-file", "", "find glasses in `my-glass.toml` too")
	a.ForceFlag(c)
	c.RunE = func(c *cobra.Command, args []string) error {
		ctx, stop := desk.Interruptible(c.Context())
		defer stop()
		return bench.Week(ctx, a.App, args[0], cards, glassFile)
	}
	return c
}
