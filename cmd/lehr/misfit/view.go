package misfit

import (
	"fmt"
	"slices"
	"strings"

	"lehr/anneal/polariscope"
	"lehr/anneal/seal"
	"lehr/anneal/seal/contents"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// showSeal prints verdict, places, answers, and what to know.
func showSeal(a *desk.App, v sealView) error {
	a.Strong(v.headline())
	about := v.glass.Name + " with " + strings.Join(v.what, "; ")
	if v.piece != "" {
		about = v.piece + ", " + about
	}
	a.Prose(0, about)
	first := v.cases[0].report
	a.Prose(0, v.settingText(first))
	a.Print("\n")
	if err := a.Table(v.placeColumns(), v.placeRows()); err != nil {
		return err
	}
	a.Prose(0, "Tension is positive: middle values, and the range of what is not known exactly.")
	if lines := v.answers(first); len(lines) > 0 {
		a.Section("What it allows")
		for _, text := range lines {
			a.Item("- ", text)
		}
	}
	a.Section("What to know")
	said := map[string]bool{}
	for i, c := range v.cases {
		for _, f := range c.report.Findings {
			if i > 0 && (f.Kind == seal.Kinder || f.Kind == seal.Stays) {
				continue // the first arrangement says it
			}
			if text := v.words(f, c.report); text != "" && !said[text] {
				said[text] = true
				a.Item("- ", text)
			}
		}
	}
	if text := v.light(); text != "" {
		a.Item("- ", text)
	}
	if v.warm != nil {
		if err := showWarmUp(a, v); err != nil {
			return err
		}
	}
	if list := v.cautions(); len(list) > 0 {
		a.Section("Before and after")
		for _, c := range list {
			a.Item("- ", c.Text)
		}
	}
	a.Section("Computed with")
	err := a.Table([]term.Column{term.TextColumn("material"), term.NumberColumn("expansion\n×10⁻⁷/K"), term.NumberColumn("range\n×10⁻⁷/K"), term.TextColumn("status"), term.LongColumn("note")}, v.used())
	a.Print("\n")
	a.Prose(0, defers)
	return err
}

// defers is to whom an answer about a misfit defers.
const defers = "The makers of glass, stones and kiln, local codes and licensed practice overrule this; lehr safety has the lines for torch and kiln."

// cautions are what to be warned of: all of it for a stone, the days after for
// glass on glass whose misfit stays.
func (v sealView) cautions() (out []contents.Caution) {
	stays := slices.ContainsFunc(v.cases, func(c sealCase) bool { return report.StaysForGood(c.report) })
	for _, c := range contents.Cautions(v.wet) {
		if v.inside || stays && c.ID == "days-after" {
			out = append(out, c)
		}
	}
	return out
}

// headline is the verdict in one sentence.
func (v sealView) headline() string {
	worst, limit := v.cases[0].report.Worst, v.cases[0].report.Limit
	for _, c := range v.cases {
		worst = max(worst, c.report.Worst)
	}
	numbers := fmt.Sprintf("tension at most %s (limit %s)", worst.Text(v.system), limit.Text(v.system))
	if worst <= 0 {
		numbers = fmt.Sprintf("no tension there (limit %s)", limit.Text(v.system))
	}
	for _, c := range v.cases {
		if f, ok := c.report.Find(seal.Cracks); ok {
			return fmt.Sprintf("Over a limit: %s carries %s for good, and the strongest tested glass broke at %s. At the outer surface: %s.", f.Of, f.Stress.Text(v.system), seal.StrengthReached.Text(v.system), numbers)
		}
	}
	switch v.verdict() {
	case seal.Within:
		return "Within limits at the outer surface: " + numbers + "."
	case seal.NotProven:
		return "Not proven for this glass: middle values keep the limit at the outer surface, the worst of their range does not: " + numbers + "."
	case seal.NotJudged:
		return "Not judged to its end: no place at the outer surface is computed."
	}
	return "Over a limit at the outer surface: " + numbers + "."
}

// settingText says where the misfit sets.
func (v sealView) settingText(r seal.Report) string {
	how := "cooling at " + v.rate.Text(v.system)
	if v.file != "" {
		how = "by the program of " + v.file + ", the piece as hot as the kiln"
	}
	low, high := r.SettingLow.Text(v.system), r.Setting.Text(v.system)
	at := high
	if low != high {
		l, _ := r.SettingLow.In(v.system)
		at = term.Whole(l) + " to " + high
	}
	text := fmt.Sprintf("The glass sets at %s (%s", at, how)
	if !r.SettingClosed.IsZero() {
		text += "; by the closed form " + r.SettingClosed.Text(v.system)
	}
	return text + "); what shrinks apart below that stays."
}

func (v sealView) placeColumns() []term.Column {
	_, stress := unit.Stress(0).In(v.system)
	cols := []term.Column{term.TextColumn("place"), term.TextColumn("in"), term.NumberColumn("along\n" + stress), term.NumberColumn("from"), term.NumberColumn("to"), term.NumberColumn("across\n" + stress)}
	if len(v.cases) > 1 {
		cols = append([]term.Column{term.LongColumn("arrangement")}, cols...)
	}
	return cols
}

// stressNumber is a stress without its unit.
func (v sealView) stressNumber(s unit.Stress) string {
	x, _ := s.In(v.system)
	if v.system == unit.US {
		return term.Whole(x)
	}
	text := fmt.Sprintf("%.2f", x)
	if x > 99.5 || x < -99.5 {
		text = fmt.Sprintf("%.0f", x)
	} else if x > 9.95 || x < -9.95 {
		text = fmt.Sprintf("%.1f", x)
	}
	if strings.Trim(text, "-0.") == "" {
		return "0"
	}
	return text
}

func (v sealView) placeRows() [][]string {
	var rows [][]string
	for _, c := range v.cases {
		for i, p := range c.report.Places {
			across := "–"
			if p.Radial != (seal.Range{}) {
				across = v.stressNumber(p.Radial.Expected)
			}
			place := string(p.Kind)
			switch p.Kind {
			case seal.InsideOf:
				place = "inner side"
			case seal.OutsideOf:
				place = "outer side"
			}
			row := []string{place, p.In, v.stressNumber(p.Hoop.Expected), v.stressNumber(p.Hoop.Low), v.stressNumber(p.Hoop.High), across}
			if len(v.cases) > 1 {
				title := ""
				if i == 0 {
					title = c.title
				}
				row = append([]string{title}, row...)
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// answers are the greatest stone, the least cover and the least distance.
func (v sealView) answers(r seal.Report) []string {
	var lines []string
	first := "stone"
	if list := v.cases[0].problem.Contents.Inside; len(list) > 1 {
		first = list[0].Material.Name
	}
	if r.Pressure != (seal.Range{}) && v.inside {
		lines = append(lines, fmt.Sprintf("Pressure on the %s: %s, from %s to %s; where it is negative, the glass pulls.", first,
			r.Pressure.Expected.Text(v.system), r.Pressure.Low.Text(v.system), r.Pressure.High.Text(v.system)))
	}
	if r.Greatest > 0 {
		lines = append(lines, fmt.Sprintf("Greatest %s that keeps the surface within its limit here: %s across.", first, words.RoundDown(r.Greatest, v.system)))
	}
	if r.LeastCover > 0 {
		lines = append(lines, fmt.Sprintf("Least glass over this %s: %s; it has %s.", first, words.RoundUp(r.LeastCover, v.system), words.RoundDown(r.Cover, v.system)))
	}
	if size := v.cases[0].problem.Body.Size; r.LeastApart >= size && size > 0 {
		lines = append(lines, fmt.Sprintf("Two such stones have no room here: their middles must lie %s apart, and the piece has %s.", words.RoundUp(r.LeastApart, v.system), size.Text(v.system)))
	} else if r.LeastApart > 0 {
		lines = append(lines, fmt.Sprintf("Least distance of two such stones, from middle to middle: %s.", words.RoundUp(r.LeastApart, v.system)))
	}
	return lines
}

// light says what a polariscope shows.
func (v sealView) light() string {
	l := v.cases[0].report.Light
	if !l.Known {
		return ""
	}
	middle := "the middle"
	if !l.Round {
		middle += " of the stone"
	}
	where := "in a liquid of the glass's index, past " + middle + " at " + l.Offset.Text(v.system)
	switch n := v.glass.Refractive; {
	case l.Path == 0 && l.Round && n.Known():
		in := polariscope.View{Shape: polariscope.Sphere, Size: v.cases[0].problem.Body.Size, Index: n.Number}
		if at, ok := in.Seen(l.Offset); ok {
			where += ", in air seen at " + at.Text(v.system)
		} else {
			where += ", in air not at all"
		}
	case l.Path > 0:
		where = "through " + l.Path.Text(v.system) + " of its edge"
	}
	if l.Now < 1e-9 {
		return "A polariscope shows nothing of the middle values; what it shows of this seal comes from a color that differs. A second anneal does not change that."
	}
	return fmt.Sprintf("A polariscope shows at most %.0f nm of it, %s. A second anneal at half the rate leaves %.0f nm: misfit stays, while what cooling too fast left goes. That tells them apart.",
		float64(l.Now)*1e9, where, float64(l.Again)*1e9)
}

// used are the materials that were computed with.
func (v sealView) used() [][]string {
	var rows [][]string
	seen := map[string]bool{}
	put := func(m contents.Material) {
		if m.Name == "" || seen[m.Name] {
			return
		}
		seen[m.Name] = true
		e := m.Expansion
		row := []string{m.Name, term.Short3(e.Number * 1e7), term.Short3(e.Low*1e7) + " to " + term.Short3(e.High*1e7), string(e.Status), e.Note}
		if m.Unstated {
			row[3] = "assumed"
		}
		rows = append(rows, row)
	}
	clear, err := contents.Finder{Clear: v.glass}.Find("clear")
	if err == nil {
		put(clear)
	}
	for _, c := range v.cases {
		for _, in := range c.problem.Contents.Inside {
			put(in.Material)
		}
		for _, b := range c.problem.Contents.Layers {
			put(b.Material)
		}
		if s := c.problem.Contents.Skin; s != nil {
			put(s.Material)
		}
		for _, s := range c.problem.Contents.Stripes {
			put(s.Material)
		}
	}
	f := contents.OverTheFall(v.glass)
	return append(rows, []string{"over the fall", "× " + f.Text, term.Short(f.Low) + " to " + term.Short(f.High), string(f.Status), "expansion from the setting temperature down, over the mean from 20 to 300 °C"}[0:5])
}

// listMaterials prints what has a name here.
func listMaterials(a *desk.App, system unit.System) error {
	var rows [][]string
	for _, m := range contents.Materials() {
		e, melts := m.Expansion, ""
		if m.Melting.Known() {
			melts = unit.Kelvin(m.Melting.Number).Text(system)
		}
		row := []string{m.Name, string(m.Kind), fmt.Sprintf("%s (%s–%s)", term.Short3(e.Number*1e7), term.Short3(e.Low*1e7), term.Short3(e.High*1e7)), melts, string(e.Status), m.Title}
		if !e.Known() {
			row[2], row[4] = "as clear ± 2", "assumed"
		}
		rows = append(rows, row)
	}
	if a.JSON {
		return materialsJSON(a)
	}
	if err := a.Table([]term.Column{term.TextColumn("material"), term.TextColumn("kind"), term.NumberColumn("expansion\n×10⁻⁷/K"), term.NumberColumn("melts"), term.TextColumn("status"), term.LongColumn("what it is")}, rows); err != nil {
		return err
	}
	a.Prose(0, "Every glass of lehr glass is one, too. Colors belong to the family of the clear glass; their words, such as white or black, are understood.")
	return nil
}
