package reference

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"lehr/anneal/formula"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/term"
	"lehr/glass"
	"lehr/glass/unit"
)

// glassView is one glass as it is shown: with the table its sources are in,
// in one display system.
type glassView struct {
	*glass.Glass
	table  *glass.Table
	system unit.System
}

// property is how one key of a glass is shown: its number in units of scale,
// and the name of that unit. A fixed point has scale 0.
type property struct {
	key, name string
	scale     float64
	unit      string
	jsonUnit  string
	us        *property // what US units show instead
}

// properties lists what is shown of a glass, in this order.
func properties() []property {
	const perKelvin = 1e-7
	return []property{
		{key: "strain_point", name: "strain point"},
		{key: "annealing_point", name: "annealing point"},
		{key: "softening_point", name: "softening point"},
		{key: "working_point", name: "working point"},
		{key: "expansion", name: "expansion", scale: perKelvin, unit: "×10⁻⁷/K", jsonUnit: "1e7_per_K"},
		{key: "expansion_liquid", name: "liquid expansion", scale: perKelvin, unit: "×10⁻⁷/K", jsonUnit: "1e7_per_K"},
		{key: "density", name: "density", scale: 1000, unit: "g/cm³", jsonUnit: "g_per_cm3"},
		{key: "young_modulus", name: "Young's modulus", scale: 1e9, unit: "GPa", jsonUnit: "GPa",
			us: &property{scale: 1e6 * float64(unit.PSI), unit: "million psi", jsonUnit: "million_psi"}},
		{key: "poisson", name: "Poisson's ratio", scale: 1, jsonUnit: ""},
		{key: "conductivity", name: "conductivity", scale: 1, unit: "W/m/K", jsonUnit: "W_per_m_K"},
		{key: "conductivity_phonon", name: "without radiation", scale: 1, unit: "W/m/K", jsonUnit: "W_per_m_K"},
		{key: "specific_heat", name: "specific heat", scale: 1, unit: "J/kg/K", jsonUnit: "J_per_kg_K"},
		{key: "stress_optic", name: "stress-optic", scale: 1e-12, unit: "Brewster", jsonUnit: "Brewster"},
		{key: "refractive_index", name: "refractive index", scale: 1, jsonUnit: ""},
		{key: "infrared_index", name: "infrared index", scale: 1, jsonUnit: ""},
		{key: "emissivity", name: "emissivity", scale: 1, jsonUnit: ""},
		{key: "viscosity_limit", name: "viscosity limit", scale: 1, unit: "log10 Pa·s", jsonUnit: "log10_Pa_s"},
		{key: "garage", name: "holding range"},
		{key: "phase_separation", name: "phase separation", scale: 1, unit: "log10 Pa·s", jsonUnit: "log10_Pa_s"},
		{key: "structural_modulus", name: "structural modulus", scale: 1e9, unit: "GPa", jsonUnit: "GPa"},
		{key: "nonlinearity", name: "nonlinearity x", scale: 1, jsonUnit: ""},
	}
}

// in returns p as the display system shows it.
func (p property) in(system unit.System) property {
	if system == unit.US && p.us != nil {
		p.scale, p.unit, p.jsonUnit = p.us.scale, p.us.unit, p.us.jsonUnit
	}
	return p
}

// showGlass prints one glass.
func showGlass(a *desk.App, g glassView) error {
	if a.JSON {
		return glassJSON(a, g)
	}
	a.Lead(term.Bold, g.Name, "", ": "+term.Clean(g.Title))
	if len(g.Words) > 0 {
		a.Prose(0, "Also called "+strings.Join(g.Words, ", ")+".")
	}
	if g.Note != "" {
		a.Prose(0, sentence(g.Note))
	}
	a.Print("\n")
	cites := &citations{table: g.table}
	rows, notes := g.propertyRows(cites)
	if err := a.Table([]term.Column{term.TextColumn("property"), term.NumberColumn("value"), term.LongColumn("for"), term.LongColumn("status"), term.NumberColumn("from")}, rows); err != nil {
		return err
	}
	for _, list := range []struct {
		title string
		items []string
	}{{"Notes", notes}, {"Also stated", g.alsoStated(cites)}} {
		if len(list.items) > 0 {
			a.Section(list.title)
		}
		for _, text := range list.items {
			a.Item("- ", text)
		}
	}
	if err := showHeat(a, g); err != nil {
		return err
	}
	if err := showAbsorption(a, g, cites); err != nil {
		return err
	}
	if err := showViscosity(a, g); err != nil {
		return err
	}
	showStructure(a, g)
	showCitations(a, cites)
	return nil
}

// propertyRows returns the table of properties and the notes on them.
func (g glassView) propertyRows(cites *citations) (rows [][]string, notes []string) {
	for _, p := range properties() {
		p = p.in(g.system)
		v, ok := g.Value(p.key)
		if !ok {
			if !slices.Contains([]string{"viscosity_limit", "garage", "infrared_index", "phase_separation", "structural_modulus", "nonlinearity"}, p.key) {
				rows = append(rows, []string{p.name, "not known", "", "", ""})
			}
			continue
		}
		rows = append(rows, []string{p.name, g.valueText(p, v), g.over(v), string(v.Status), cites.number(v.Source)})
		if v.Note != "" {
			notes = append(notes, p.name+": "+v.Note+".")
		}
	}
	return rows, notes
}

// valueText is a value in the display system, with its spread and unit.
func (g glassView) valueText(p property, v glass.Value) string {
	if p.key == "garage" {
		low, _ := g.Garage.Low.In(g.system)
		high, degree := g.Garage.High.In(g.system)
		return fmt.Sprintf("%s to %s %s", term.Short(low), term.Short(high), degree)
	}
	var number, spread float64
	name := p.unit
	if p.scale == 0 {
		number, name = v.Temp().In(g.system)
		spread, _ = unit.Delta(v.Spread).In(g.system)
	} else {
		number, spread = v.Number/p.scale, v.Spread/p.scale
	}
	text := term.Short(number)
	if spread != 0 {
		text += " ± " + spreadText(spread)
	}
	return strings.TrimSpace(text + " " + name)
}

// spreadText writes a range in two digits, whole from 100 on, without a power
// of ten.
func spreadText(x float64) string {
	if x >= 99.5 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	return strconv.FormatFloat(term.Rounded(x, 2), 'f', -1, 64)
}

// showHeat prints conductivity, specific heat and what follows from them at a
// few temperatures.
func showHeat(a *desk.App, g glassView) error {
	if g.Need("conductivity", "specific_heat", "density") != nil {
		return nil
	}
	_, degree := unit.Celsius(0).In(g.system)
	var rows [][]string
	outside := false
	temps := []unit.Temp{unit.Celsius(25), unit.Celsius(200), unit.Celsius(400)}
	if g.system == unit.US {
		temps = []unit.Temp{unit.Fahrenheit(75), unit.Fahrenheit(400), unit.Fahrenheit(750)}
	}
	if g.Anneal.Known() {
		temps = append(temps, g.Anneal.Temp())
	}
	for _, t := range temps {
		number := func(p glass.Property) string {
			text := term.Short(p.At(t.Kelvin()))
			if p.Check(t) != nil {
				text, outside = text+" *", true
			}
			return text
		}
		at, _ := t.In(g.system)
		rows = append(rows, []string{term.Short(at), number(g.Conductivity), number(g.SpecificHeat), term.Short(g.Diffusivity(t) * 1e6)})
	}
	a.Section("Heat")
	if err := a.Table([]term.Column{term.NumberColumn("at " + degree), term.NumberColumn("conductivity W/m/K"), term.NumberColumn("specific heat J/kg/K"), term.NumberColumn("diffusivity mm²/s")}, rows); err != nil {
		return err
	}
	if outside {
		a.Prose(0, "* outside the range of the source; the value at the nearer end of the range stands in.")
	}
	return nil
}

// showAbsorption prints how far clear glass lets its own heat through.
func showAbsorption(a *desk.App, g glassView, cites *citations) error {
	if len(g.Absorption) == 0 {
		return nil
	}
	var rows [][]string
	var notes []string
	for _, b := range g.Absorption {
		rng := ""
		if b.Low < b.High {
			rng = fmt.Sprintf("%s to %s", term.Short(b.Low), term.Short(b.High))
		}
		rows = append(rows, []string{b.Over, term.Short(b.Number), rng, string(b.Status), cites.number(b.Source)})
		if b.Note != "" {
			notes = append(notes, b.Over+": "+b.Note+".")
		}
	}
	a.Section("Heat that radiates inside clear glass")
	if err := a.Table([]term.Column{term.TextColumn("wavelengths"), term.NumberColumn("absorption 1/m"), term.NumberColumn("range 1/m"), term.LongColumn("status"), term.NumberColumn("from")}, rows); err != nil {
		return err
	}
	for _, text := range notes {
		a.Item("- ", text)
	}
	return nil
}

// viscosityRow is one line of the viscosity table.
type viscosityRow struct {
	log10   float64
	meaning string
}

// viscosityRows are the viscosities shown, from stiff to soft.
func viscosityRows() []viscosityRow {
	return []viscosityRow{
		{glass.LogStrain, "strain point: a soak here takes hours"},
		{13, ""},
		{glass.MarkFree, "above it, shelf and fiber mark a piece held for hours"},
		{glass.LogAnneal, "annealing point: stress relaxes in minutes"},
		{glass.Compact, "above it, compact pieces sag visibly in hours"},
		{glass.NeverHours, "nothing should be held for hours above it"},
	}
}

// showViscosity prints where the curves put the viscosities that matter.
func showViscosity(a *desk.App, g glassView) error {
	a.Section("Viscosity")
	curves, err := g.Curves()
	var missing *glass.MissingError
	if errors.As(err, &missing) {
		a.Prose(0, "Not known: "+err.Error()+".")
		return nil
	}
	if err != nil {
		return err
	}
	_, degree := unit.Celsius(0).In(g.system)
	cols := []term.Column{term.NumberColumn("log10\nPa·s")}
	for _, c := range curves {
		cols = append(cols, term.NumberColumn(degree+" by\n"+strings.Replace(c.Name, "-soften", "-\nsoften", 1)))
	}
	cols = append(cols, term.NumberColumn("stress falls\nto 1/e in"), term.LongColumn("what it means"))
	var rows [][]string
	for _, r := range viscosityRows() {
		row := []string{term.Short(r.log10)}
		for _, c := range curves {
			row = append(row, isokomCell(c, r.log10, g.system))
		}
		row = append(row, g.relaxationText(r.log10), r.meaning)
		rows = append(rows, row)
	}
	if err := a.Table(cols, rows); err != nil {
		return err
	}
	for _, c := range curves {
		minus, t0 := "−", c.T0
		if t0 < 0 {
			minus, t0 = "+", -t0
		}
		straight := ""
		if !c.Straight.IsZero() {
			straight = fmt.Sprintf("; below %s log10 η goes on as a straight line in 1/T", c.Straight.Text(g.system))
		}
		a.Prose(0, fmt.Sprintf("Curve %s: log10 η = %s + %s / (T %s %s), η in Pa·s and T in kelvin, from %s to %s%s.",
			c.Name, term.Short(c.A), term.Short(c.B), minus, term.Short(t0), c.Low.Text(g.system), c.High.Text(g.system), straight))
	}
	if len(curves) > 1 {
		a.Prose(0, "No one curve passes through all published points, so both are used and the worse result counts.")
	}
	return nil
}

// isokomCell is the temperature at which a curve has that viscosity.
func isokomCell(c glass.Curve, log10 float64, system unit.System) string {
	t, err := c.At(log10)
	if err != nil {
		return "–"
	}
	n, _ := t.In(system)
	return strconv.FormatFloat(n, 'f', 0, 64)
}

// relaxation returns the Maxwell time η/G, or 0 when the stiffness is unknown.
func (g glassView) relaxation(log10 float64) time.Duration {
	if g.Need("young_modulus", "poisson") != nil {
		return 0
	}
	shear := unit.Stress(g.Young.Number / (2 * (1 + g.Poisson.Number)))
	return formula.MaxwellTime(math.Pow(10, log10), shear)
}

func (g glassView) relaxationText(log10 float64) string {
	switch d := g.relaxation(log10); {
	case d == 0:
		return "–"
	case d < time.Minute:
		return unit.FormatDuration(d.Round(time.Second))
	case d < time.Hour:
		return unit.FormatDuration(d.Round(time.Minute))
	default:
		return unit.FormatDuration(d.Round(10 * time.Minute))
	}
}

// over is what a value holds for: a range of temperature in the display system,
// or the condition as the table has it.
func (g glassView) over(v glass.Value) string {
	low, high, ok := v.Range()
	switch {
	case !ok:
		return v.Over
	case low == high:
		return low.Text(g.system)
	}
	from, degree := low.In(g.system)
	to, _ := high.In(g.system)
	return term.Whole(from) + " to " + term.Whole(to) + " " + degree
}

// citations numbers sources in the order they are first named.
type citations struct {
	table *glass.Table
	keys  []string
}

// number returns the number of a source, "" for no source.
func (c *citations) number(key string) string {
	if key == "" {
		return ""
	}
	at := slices.Index(c.keys, key)
	if at < 0 {
		c.keys = append(c.keys, key)
		at = len(c.keys) - 1
	}
	return strconv.Itoa(at + 1)
}

// sourceOf finds a source in a table, or in the built-in one, from which a
// glass of a person's own may have taken values.
func sourceOf(table *glass.Table, key string) glass.Source {
	if s, ok := table.Sources[key]; ok {
		return s
	}
	return glass.Sources()[key]
}

// showCitations prints the sources that were named.
func showCitations(a *desk.App, c *citations) {
	if len(c.keys) == 0 {
		return
	}
	a.Section("Sources")
	for i, key := range c.keys {
		s := sourceOf(c.table, key)
		text := s.Cite
		if s.Read != "" {
			text += " (read " + s.Read + ")"
		}
		a.Item(fmt.Sprintf("%3d. ", i+1), text)
	}
}
