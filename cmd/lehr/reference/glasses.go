// Package reference shows what lehr knows before anything is asked of it: the
// glasses with the source of every value, the published rules side by side, and how
// far the answers lie from what is published.
package reference

import (
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/flags"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/unit"
)

// Glass is lehr glass: the glass that is named, of the table or of a file, or
// all of them.
func Glass(a *desk.App, file string, args []string) error {
	table, err := flags.GlassTable(a, file)
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
		return showGlass(a, glassView{g, table, system})
	case a.JSON:
		return glassListJSON(a, table, system)
	case len(table.Glasses) == 1 && file != "":
		return showGlass(a, glassView{table.Glasses[0], table, system})
	}
	return listGlasses(a, table, system)
}

// listGlasses prints one line per glass.
func listGlasses(a *desk.App, table *glass.Table, system unit.System) error {
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
