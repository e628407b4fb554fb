package bench

import (
	"fmt"
	"strconv"

	"lehr/anneal/notebook"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/glass/gather"
	"lehr/glass/unit"
)

// thickRod is the diameter from which rod is usually sold without annealing.
//
// Source: a maker's data sheet, rod over 18 mm [verified].
const thickRod = 18 * unit.Millimeter

// longRod is a length of rod for one piece at which its diameter looks wrong.
const longRod = 5 * unit.Meter

// showGather prints the answer: grams first, length second.
func showGather(a *desk.App, g *gathered) error {
	r, sys := g.recipe, g.studio.Units
	switch {
	case g.weighed > 0:
		return showWeighed(a, g)
	case len(g.sizes) > 0:
		return showSizes(a, g)
	}
	count := ""
	if r.Count > 1 {
		count = strconv.Itoa(r.Count) + " × "
	}
	a.Prose(0, count+r.Piece.Words(sys)+"; "+g.title)
	each := massText(r.Mass(), sys) + ", " + volumeText(r.Piece.Volume, sys)
	if r.Count > 1 {
		a.Strong(massText(r.Mass()*unit.Mass(r.Count), sys) + " for " + strconv.Itoa(r.Count) + "; each " + each)
	} else {
		a.Strong(each)
	}
	if g.factor != 1 {
		a.Prose(0, fmt.Sprintf("Taken from %s: %s times the size, %s times the glass, in the same proportions.", g.from.Words(sys), term.Short(g.factor), term.Short(g.factor*g.factor*g.factor)))
	}
	if len(g.portions) > 0 {
		a.Print("\n")
		if err := a.Table(partColumns(r, sys), partRows(g, sys)); err != nil {
			return err
		}
	}
	if len(r.Rods) > 0 {
		a.Print("\n")
		a.Print(term.Wrap(lossText(g)+":", a.Width(), 0, 0))
		if err := a.Table(buyColumns(r, sys), buyRows(g, sys)); err != nil {
			return err
		}
	}
	a.Print("\n")
	for _, line := range gatherNotes(g) {
		a.Item("- ", line)
	}
	return nil
}

// massText writes grams, in US units with ounces beside them: the scales on a
// bench read grams.
func massText(m unit.Mass, sys unit.System) string {
	if sys == unit.US {
		return m.Text(unit.Metric) + " (" + m.Text(unit.US) + ")"
	}
	return m.Text(sys)
}

func volumeText(v float64, sys unit.System) string {
	if sys == unit.US {
		inch := unit.Inch.Meters()
		return term.Short3(v/(inch*inch*inch)) + " in³"
	}
	return term.Short3(v*1e6) + " cm³"
}

// cellLength and desk.CellMass write a number for a table whose heading has the unit.
func cellLength(l unit.Length, sys unit.System) string {
	x, _ := l.In(sys)
	if sys == unit.US {
		return strconv.FormatFloat(x, 'f', 2, 64)
	}
	if x >= 100 {
		return term.Whole(x)
	}
	return strconv.FormatFloat(x, 'f', 1, 64)
}

func lengthUnit(sys unit.System) string {
	_, u := unit.Inch.In(sys)
	return u
}

// massColumns are grams, and ounces beside them in US units.
func massColumns(sys unit.System) []term.Column {
	if sys == unit.US {
		return []term.Column{term.NumberColumn("g"), term.NumberColumn("oz")}
	}
	return []term.Column{term.NumberColumn("g")}
}

func massCells(m unit.Mass, sys unit.System) []string {
	if sys == unit.US {
		return []string{desk.CellMass(m, unit.Metric), desk.CellMass(m, sys)}
	}
	return []string{desk.CellMass(m, sys)}
}

// rodName is how a rod is called in a heading.
func rodName(r gather.Rod, sys unit.System) string {
	if r.Diameter > 0 {
		x, u := r.Diameter.In(sys)
		return term.Short3(x) + " " + u + " rod"
	}
	return r.Text + " rod"
}

func partColumns(r gather.Recipe, sys unit.System) []term.Column {
	cols := append([]term.Column{term.TextColumn("part")}, massColumns(sys)...)
	cols = append(cols, term.NumberColumn("share %"), term.NumberColumn("height "+lengthUnit(sys)))
	for _, rod := range r.Rods {
		cols = append(cols, term.NumberColumn(rodName(rod, sys)+" "+lengthUnit(sys)))
	}
	return cols
}

func partRows(g *gathered, sys unit.System) [][]string {
	r := g.recipe
	row := func(name string, m unit.Mass, share float64, high string) []string {
		cells := append([]string{name}, massCells(m, sys)...)
		cells = append(cells, strconv.FormatFloat(100*share, 'f', 1, 64), high)
		for _, rod := range r.Rods {
			cells = append(cells, cellLength(r.Take(rod, m).Net, sys))
		}
		return cells
	}
	var rows [][]string
	var all unit.Length
	for _, p := range g.portions {
		high := "-"
		if p.Height > 0 {
			high = cellLength(p.Height, sys)
			all += p.Height
		} else if p.Inside {
			high = "inside"
		}
		rows = append(rows, row(p.Name, p.Mass, p.Share, high))
	}
	high := "-"
	if all > 0 {
		high = cellLength(all, sys)
	}
	return append(rows, row("one piece", r.Mass(), 1, high))
}

// lossText says how much is to be taken up.
func lossText(g *gathered) string {
	text := "To take up"
	if n := g.recipe.Count; n > 1 {
		text += fmt.Sprintf(" for %d", n)
	}
	return text + ", " + lossOf(g)
}

// lossOf says what is counted beside the glass itself.
func lossOf(g *gathered) string {
	r, text := g.recipe, "no loss counted"
	if r.Loss > 0 {
		text = "with " + term.Short(100*r.Loss) + " % loss"
	}
	if g.lossFrom != "" {
		text += " (" + g.lossFrom + ")"
	}
	if r.Stub > 0 && r.Stubs > 0 {
		word := "stubs"
		if r.Stubs == 1 {
			word = "stub"
		}
		text += fmt.Sprintf(" and %d %s of %s", r.Stubs, word, desk.LengthText(r.Stub, g.studio.Units))
	}
	return text
}

func buyColumns(r gather.Recipe, sys unit.System) []term.Column {
	u := lengthUnit(sys)
	cols := append([]term.Column{term.TextColumn("rod")}, massColumns(sys)...)
	return append(cols, term.NumberColumn("net "+u), term.NumberColumn("buy "+u))
}

func buyRows(g *gathered, sys unit.System) [][]string {
	r := g.recipe
	var rows [][]string
	all := r.Mass() * unit.Mass(r.Count)
	for _, rod := range r.Rods {
		take := r.Take(rod, all)
		row := append([]string{rodName(rod, sys)}, massCells(r.Weigh(all), sys)...)
		rows = append(rows, append(row, cellLength(take.Net, sys), cellLength(take.Buy, sys)))
	}
	return rows
}

// gatherNotes are the lines below the tables.
func gatherNotes(g *gathered) []string {
	r, sys := g.recipe, g.studio.Units
	off := gather.MassTolerance(r.Mass(), r.Piece.Size(), g.within)
	notes := []string{fmt.Sprintf("To hold the size within ± %s, weigh each piece to ± %s: a scale that shows grams does better than any length.", desk.LengthText(g.within, sys), massText(off, sys))}
	switch n := g.weighedPieces.Pieces; {
	case g.own != nil && !g.weighedPieces.Enough() && n > 0:
		notes = append(notes, fmt.Sprintf("%s of this size weighed in the notebook; from %d on their median loss is counted.", term.Counted(n, "piece"), notebook.FewestWeighed))
	case r.Loss == 0 && g.lossFrom == "":
		notes = append(notes, "Your own loss: weigh the rods before and after. What is gone less what the piece weighs is the loss; give it by --loss, or keep it with lehr note.")
	}
	if !g.hot.IsZero() && g.expansion > 0 {
		size := r.Piece.Size()
		larger := gather.HotSize(size, g.expansion, g.hot.Sub(unit.Celsius(20))) - size
		notes = append(notes, fmt.Sprintf("At %s the piece gauges %s larger than cold, at working heat more.", g.hot.Text(sys), sigLength(larger, sys)))
	}
	for _, rod := range r.Rods {
		if rod.Diameter > thickRod {
			notes = append(notes, fmt.Sprintf("Rod over %s is usually sold without annealing: warm it slowly before the torch, as its maker says.", desk.LengthText(thickRod, sys)))
			break
		}
	}
	for _, rod := range r.Rods {
		if l := r.Take(rod, r.Mass()).Net; l > longRod {
			notes = append(notes, fmt.Sprintf("%s of %s for one piece: is the diameter right?", longText(l, sys), rodName(rod, sys)))
		}
	}
	return notes
}

func longText(l unit.Length, sys unit.System) string {
	if sys == unit.US {
		return term.Short3(float64(l/unit.Foot)) + " ft"
	}
	return term.Short3(l.Meters()) + " m"
}

// showWeighed says what size a weighed amount gives.
func showWeighed(a *desk.App, g *gathered) error {
	r, sys := g.recipe, g.studio.Units
	b := r.SizeOf(g.weighed)
	a.Strong(massText(g.weighed, sys) + " gives a " + string(b.Kind) + " of " + b.Measures(sys))
	if g.meant {
		by, word := b.Size()-r.Piece.Size(), "larger"
		if by < 0 {
			by, word = -by, "smaller"
		}
		diff := g.weighed - r.Mass()
		more := "more"
		if diff < 0 {
			diff, more = -diff, "less"
		}
		a.Prose(0, fmt.Sprintf("%s %s than %s, which takes %s: %s %s.", sigLength(by, sys), word, r.Piece.Words(sys), massText(r.Mass(), sys), massText(diff, sys), more))
	}
	a.Prose(0, g.title)
	return nil
}

// showSizes prints a row for each size.
func showSizes(a *desk.App, g *gathered) error {
	r, sys := g.recipe, g.studio.Units
	u := lengthUnit(sys)
	a.Prose(0, fmt.Sprintf("%s by size; %s", r.Piece.Kind, g.title))
	cols := append([]term.Column{term.NumberColumn("size " + u)}, massColumns(sys)...)
	for _, p := range g.portions {
		cols = append(cols, term.NumberColumn(p.Name+" g"))
	}
	for _, rod := range r.Rods {
		cols = append(cols, term.NumberColumn(rodName(rod, sys)+" "+u))
	}
	cols = append(cols, term.NumberColumn("± g"))
	var rows [][]string
	for _, size := range g.sizes {
		s, ps, err := g.at(size)
		if err != nil {
			return err
		}
		wide, _ := size.In(sys)
		row := append([]string{term.Short(wide)}, massCells(s.Mass(), sys)...)
		for _, p := range ps {
			row = append(row, desk.CellMass(p.Mass, unit.Metric))
		}
		for _, rod := range r.Rods {
			row = append(row, cellLength(s.Take(rod, s.Mass()).Buy, sys))
		}
		rows = append(rows, append(row, desk.CellMass(gather.MassTolerance(s.Mass(), size, g.within), unit.Metric)))
	}
	if err := a.Table(cols, rows); err != nil {
		return err
	}
	if len(r.Rods) > 0 {
		text := lossOf(g)
		if g.own != nil {
			text = "with your own loss at each size of which three were weighed, else no loss counted"
		}
		a.Prose(0, "Rod: "+text+".")
	}
	a.Prose(0, "± g: as far as the mass may be off for the size to come out within ± "+desk.LengthText(g.within, sys)+".")
	return nil
}

// sigLength writes a small length with two significant digits.
func sigLength(l unit.Length, sys unit.System) string {
	x, u := l.In(sys)
	return term.Short(term.Rounded(x, 2)) + " " + u
}

// at is the recipe at another size.
func (g *gathered) at(size unit.Length) (gather.Recipe, []gather.Portion, error) {
	s := g.recipe.Scaled(float64(size / g.recipe.Piece.Size()))
	if g.own != nil {
		if s.Loss = 0; g.own(size).Enough() {
			s.Loss = g.own(size).Share
		}
	}
	ps, err := s.Portions()
	return s, ps, err
}

// showDensity prints what weighing in water tells.
func showDensity(a *desk.App, volume, density float64) error {
	if a.JSON {
		return a.PrintJSON(struct {
			Volume  report.Num `json:"volume_cm3"`
			Density report.Num `json:"density_g_per_cm3"`
		}{report.Num(volume * 1e6), report.Num(density / 1000)})
	}
	a.Strong(densityText(density))
	a.Prose(0, fmt.Sprintf("from %s cm³, water at room temperature taken as %s g/cm³. Give it by --density, or add --piece to this line.", term.Short(volume*1e6), term.Short(gather.WaterDensity/1000)))
	return nil
}
