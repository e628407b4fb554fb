package reference

import (
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/glass"
	"lehr/glass/unit"
)

// valueJSON is one number of a glass; the key it stands under names the unit.
type valueJSON struct {
	Value  report.Num  `json:"value"`
	High   *report.Num `json:"high,omitempty"` // of a range that starts at value
	Spread report.Num  `json:"spread,omitempty"`
	Over   string      `json:"over,omitempty"`
	Status string      `json:"status"`
	Source string      `json:"source,omitempty"`
	Note   string      `json:"note,omitempty"`
	Also   []valueJSON `json:"also_stated,omitempty"`
}

// bandJSON is the absorption of clear glass in a range of wavelengths.
type bandJSON struct {
	To     report.Num `json:"to_um"`
	Value  report.Num `json:"value_per_m"`
	Low    report.Num `json:"low_per_m"`
	High   report.Num `json:"high_per_m"`
	Status string     `json:"status"`
	Source string     `json:"source,omitempty"`
	Note   string     `json:"note,omitempty"`
}

type curveJSON struct {
	Name string     `json:"name"`
	A    report.Num `json:"A"`
	B    report.Num `json:"B_K"`
	T0   report.Num `json:"T0_K"`
	Low  report.Num `json:"low_K"`
	High report.Num `json:"high_K"`
	Line report.Num `json:"straight_in_1_over_T_below_K,omitempty"`
}

type isokomJSON struct {
	Log10      report.Num            `json:"log10_viscosity_Pa_s"`
	AtC        map[string]report.Num `json:"at_C,omitempty"`
	AtF        map[string]report.Num `json:"at_F,omitempty"`
	Relaxation report.Num            `json:"relaxation_time_s,omitempty"`
	Meaning    string                `json:"meaning,omitempty"`
}

type glassShownJSON struct {
	Name       string               `json:"name"`
	Title      string               `json:"title"`
	AlsoCalled []string             `json:"also_called,omitempty"`
	Note       string               `json:"note,omitempty"`
	Properties map[string]valueJSON `json:"properties"`
	Absorption []bandJSON           `json:"absorption,omitempty"`
	Unknown    []string             `json:"not_known,omitempty"`
	Curves     []curveJSON          `json:"curves"`
	Isokoms    []isokomJSON         `json:"viscosity"`
}

// degreeKey is the letter that a key for temperatures ends with.
func degreeKey(system unit.System) string {
	if system == unit.US {
		return "F"
	}
	return "C"
}

// glassJSON prints one glass with the same content as the tables.
func glassJSON(a *desk.App, g glassView) error {
	out := glassShownJSON{Name: g.Name, Title: g.Title, AlsoCalled: g.Words, Note: g.Note,
		Properties: map[string]valueJSON{}, Curves: []curveJSON{}, Isokoms: []isokomJSON{}}
	for _, p := range properties() {
		p = p.in(g.system)
		v, ok := g.Value(p.key)
		if !ok {
			out.Unknown = append(out.Unknown, p.key)
			continue
		}
		shown := g.valueJSON(p, v)
		for _, other := range g.Alternatives[p.key] {
			shown.Also = append(shown.Also, g.valueJSON(p, other))
		}
		key := p.key
		switch {
		case p.scale == 0:
			key += "_" + degreeKey(g.system)
		case p.jsonUnit != "":
			key += "_" + p.jsonUnit
		}
		out.Properties[key] = shown
	}
	for _, b := range g.Absorption {
		row := bandJSON{To: report.Num(b.To * 1e6), Value: report.Num(b.Number), Low: report.Num(b.Low), High: report.Num(b.High), Status: string(b.Status), Note: b.Note}
		if b.Source != "" {
			row.Source = sourceOf(g.table, b.Source).Cite
		}
		out.Absorption = append(out.Absorption, row)
	}
	curves, err := g.Curves()
	if err == nil {
		for _, c := range curves {
			out.Curves = append(out.Curves, curveJSON{c.Name, report.Num(c.A), report.Num(c.B), report.Num(c.T0), report.Num(c.Low.Kelvin()), report.Num(c.High.Kelvin()), report.Num(c.Straight.Kelvin())})
		}
		for _, r := range viscosityRows() {
			row := isokomJSON{Log10: report.Num(r.log10), Relaxation: report.Num(g.relaxation(r.log10).Seconds()), Meaning: r.meaning}
			at := map[string]report.Num{}
			for _, c := range curves {
				if t, err := c.At(r.log10); err == nil {
					n, _ := t.In(g.system)
					at[c.Name] = report.Num(n)
				}
			}
			if g.system == unit.US {
				row.AtF = at
			} else {
				row.AtC = at
			}
			out.Isokoms = append(out.Isokoms, row)
		}
	}
	return a.PrintJSON(out)
}

// valueJSON returns one value in the unit of p.
func (g glassView) valueJSON(p property, v glass.Value) valueJSON {
	out := valueJSON{Over: g.over(v), Status: string(v.Status), Note: v.Note}
	if v.Source != "" {
		out.Source = sourceOf(g.table, v.Source).Cite
	}
	switch {
	case p.key == "garage":
		low, _ := g.Garage.Low.In(g.system)
		high, _ := g.Garage.High.In(g.system)
		top := report.Num(high)
		out.Value, out.High = report.Num(low), &top
	case p.scale == 0:
		n, _ := v.Temp().In(g.system)
		spread, _ := unit.Delta(v.Spread).In(g.system)
		out.Value, out.Spread = report.Num(n), report.Num(spread)
	default:
		out.Value, out.Spread = report.Num(v.Number/p.scale), report.Num(v.Spread/p.scale)
	}
	return out
}

// glassListJSON prints all glasses with what the list shows.
func glassListJSON(a *desk.App, table *glass.Table, system unit.System) error {
	list := []map[string]any{}
	for _, g := range table.Glasses {
		row := map[string]any{"name": g.Name, "title": g.Title}
		for key, v := range map[string]glass.Value{"strain_point": g.Strain, "annealing_point": g.Anneal, "softening_point": g.Soften} {
			if v.Known() {
				n, _ := v.Temp().In(system)
				row[key+"_"+degreeKey(system)] = report.Num(n)
			}
		}
		if g.Expansion.Known() {
			row["expansion_1e7_per_K"] = report.Num(g.Expansion.Number / 1e-7)
		}
		list = append(list, row)
	}
	return a.PrintJSON(list)
}
