package main

import (
	"github.com/spf13/cobra"

	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/unit"
)

func newGlassCommand(a *app) *cobra.Command {
	var file string
	c := &cobra.Command{
		Use:   "glass [<name>]",
		Short: "List the glasses, or show one with every value's source",
		Long: `Lists the glasses lehr knows, or shows one: each property with its range, its source and how well that source was read; where the viscosity curves put the temperatures at which stress relaxes; and above which temperature a piece takes marks or sags.

A glass of your own stands in a file of the same form as the built-in table. --file reads it, checks it, and shows it; the commands that plan read it with --glass-file my-glass.toml --glass my-boro. Eight lines will do:

` + glassExample + `

A value may also be written with where it is from: { value = "560 °C", source = "sheet", status = "verified", note = "..." }, with [source.sheet] and cite = "..." below. lehr glass NAME shows which properties there are.

Every parameter of the model can stand in the file, for whoever has measured it or found it in a thesis:

` + spectraExample + `

Times are of one temperature and of any unit, the same in all three: what counts is how they lie to one another. Weights of a series sum to 1. Without structural_modulus, the mean times of stress and structure say how far the one follows the other. A range (± 1 GPa) enters the worst case. What is not given is that of soda-lime glass; lehr glass NAME says where that is used beyond its own family, and what is published.

Every key that such a file takes; leave out what you do not know, or what your glass has in common with the one it is like:

` + glassKeys + `

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
		RunE: func(_ *cobra.Command, args []string) error { return a.runGlass(file, args) },
	}
	c.Flags().StringVar(&file, "file", "", "read the glasses of `my-glass.toml`, \"-\" for standard input, instead of the built-in ones")
	return c
}

// runGlass is lehr glass: the glass that is named, of the table or of a file, or
// all of them.
func (a *app) runGlass(file string, args []string) error {
	table, err := flags.GlassTable(a.App, file)
	if err != nil {
		return err
	}
	studio, err := a.ReadStudio()
	if err != nil {
		return err
	}
	system := a.System(studio.Units)
	switch {
	case len(args) == 1:
		g, err := table.Find(args[0])
		if err != nil {
			return desk.AsUsage("glass", err)
		}
		return a.showGlass(glassView{g, table, system})
	case a.JSON:
		return a.glassListJSON(table, system)
	case len(table.Glasses) == 1 && file != "":
		return a.showGlass(glassView{table.Glasses[0], table, system})
	}
	return a.listGlasses(table, system)
}

// listGlasses prints one line per glass.
func (a *app) listGlasses(table *glass.Table, system unit.System) error {
	_, degree := unit.Kelvin(800).In(system)
	cols := []term.Column{
		term.TextColumn("glass"), term.NumberColumn("strain\n" + degree), term.NumberColumn("anneal\n" + degree),
		term.NumberColumn("soften\n" + degree), term.NumberColumn("expands\n×10⁻⁷/K"), term.LongColumn("what it is"),
	}
	var rows [][]string
	for _, g := range table.Glasses {
		row := []string{g.Name}
		for _, v := range []glass.Value{g.Strain, g.Anneal, g.Soften} {
			row = append(row, temperatureCell(v, system))
		}
		rows = append(rows, append(row, numberCell(g.Expansion, 1e-7), g.Title))
	}
	if err := a.Table(cols, rows); err != nil {
		return err
	}
	a.Print("\n")
	a.Prose(0, "lehr glass NAME shows every value with its range, source and status. A dash is a value that is not known.")
	return nil
}

// temperatureCell is the number of a fixed point in the display system.
func temperatureCell(v glass.Value, system unit.System) string {
	if !v.Known() {
		return "–"
	}
	n, _ := v.Temp().In(system)
	return term.Short(n)
}

// numberCell is the number of a value in multiples of scale.
func numberCell(v glass.Value, scale float64) string {
	if !v.Known() {
		return "–"
	}
	return term.Short(v.Number / scale)
}
