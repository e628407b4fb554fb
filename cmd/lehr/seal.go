package main

import (
	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/misfit"
)

// newSealCommand makes lehr seal; most of it is the text of its help.
func newSealCommand(a *app) *cobra.Command {
	var f misfit.Flags
	c := &cobra.Command{
		Use:   "seal [--glass <name>] --piece <piece> [--inside <stone>...] [--layers <glasses>] [--skin <glass>] [--stripe <glass>...] | --with <glass>",
		Short: "Compute the stress where a glass meets another, a stone or a skin of color",
		Long: `Computes, before the glass is melted, the stress that stays where one glass meets another, a stone, a metal or a skin of color, because they shrink apart once the glass has set. No annealing removes it.

It answers how hard the glass presses, what each place carries, the greatest stone for this piece, the least glass over it, the least distance of two, which direction of mismatch is kinder, and what a polariscope shows before and after a second anneal. The outer surface is judged against its limit. At a buried interface there is a number and what it would take to crack; it is judged only where it exceeds all that any tested glass bore.

What is in the piece is named so:

  --inside "opal 10mm"                            a stone in the middle
  --inside "sphere 8mm of opal, 12mm deep"        depth of its middle
  --inside "3 x sphere 5mm of cz, 9mm deep, 20mm apart"
  --inside "cabochon 10mm x 4mm of opal, edge 1mm"
  --inside "foil 0.05mm of platinum"
  --layers "core clear 40mm / cobalt 2mm / clear"
  --skin "white 1.5mm"                            "white 2mm, one face"
  --stripe "white 3mm x 1mm"                      width and thickness

Layers stand from inside out; the core's size is its diameter, and one layer may go without a size and take what is left. In a flat piece they lie on both sides of the core. The word clear is the glass of --glass. A material is a glass, a color of its family, a stone or a metal; --materials lists them. One of your own states its expansion: "my-red 2mm, expansion 33.5e-7 /K". A color that nobody stated counts with two units (2e-7 /K) either way.

Two glasses alone are compared with --with: as a skin, and as sandwiches.`,
		Example: `lehr seal --glass boro --inside "opal 10mm" --piece "sphere 2.5in"
lehr seal --glass boro --piece "sphere 2.5in" --skin "white 1.75mm" --units f
lehr seal --glass boro --piece "sphere 2in" --layers "core white 9mm / clear"
lehr seal --glass fusible-96 --with fusible-90 --thickness 2mm
lehr seal --glass boro --inside "opal 10mm" --piece "sphere 6cm" --warm
lehr seal --glass boro --inside "opal 8mm, 9mm deep" --piece "dome 5cm" --json
lehr seal --materials`,
		Args:        noArgs,
		Annotations: withJSON(),
		RunE:        func(c *cobra.Command, _ []string) error { return misfit.Seal(a.App, &f, c.Flags().Changed) },
	}
	s := c.Flags()
	s.StringVar(&f.Glass, "glass", "", "`name` of the clear glass (default: that of the studio file)")
	s.StringVar(&f.GlassFile, "glass-file", "", "find glasses in `my-glass.toml` too")
	s.StringVar(&f.Piece, "piece", "", "`piece`: \"sphere 2.5in\", \"rod 10mm\", \"disc 75mm x 25mm\", \"pendant 45mm x 12mm\"")
	s.StringArrayVar(&f.Inside, "inside", nil, "a `stone` or foil inside, repeatable")
	s.StringVar(&f.Layers, "layers", "", "`layers` from inside out, with \" / \" between them")
	s.StringVar(&f.Skin, "skin", "", "a `skin` over the outside")
	s.StringArrayVar(&f.Stripes, "stripe", nil, "a `stripe` on the surface, repeatable")
	s.StringVar(&f.With, "with", "", "compare with this `glass` or color, without a piece")
	s.Var(&f.Thickness, "thickness", "of the other glass of --with, a `length`; it decides how deep its edge reaches (default 2 mm)")
	s.Var(&f.Rate, "rate", "the piece cools at this `rate` through the range in which glass sets (default 60 °C/h)")
	s.StringVar(&f.Program, "program", "", "follow the program of `schedule.toml` instead of one rate")
	s.Var(&f.ClosedAt, "closed-at", "`temperature` at which the glass closes over what is inside (default: where it has 10^4 Pa·s)")
	s.Var(&f.Already, "already", "`stress` that the program leaves at the surface, added there (default 0)")
	s.BoolVar(&f.Warm, "warm", false, "show the program that dries and warms what goes inside, too")
	s.Var(&f.Start, "start", "clock `time` at which the warming starts, such as 8:00 (default: not said)")
	s.BoolVar(&f.Materials, "materials", false, "list the stones, metals and colors that have a name here")
	desk.Must(c.RegisterFlagCompletionFunc("glass", flags.CompleteGlass))
	return c
}
