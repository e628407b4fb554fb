package bench

import (
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/report"
	"lehr/glass/gather"
	"lehr/glass/unit"
)

type rodJSON struct {
	Rod      string      `json:"rod"`
	Diameter *report.Num `json:"diameter_mm"`
	PerMeter *report.Num `json:"mass_g_per_m,omitempty"`
	Length   report.Num  `json:"length_mm"`
	Buy      report.Num  `json:"buy_mm"`
}

type partJSON struct {
	Name   string      `json:"name"`
	Mass   report.Num  `json:"mass_g"`
	Volume report.Num  `json:"volume_cm3"`
	Share  report.Num  `json:"share"`
	Height *report.Num `json:"height_mm"`
	Rods   []rodJSON   `json:"rods"`
}

type gatherAnswer struct {
	Piece     string     `json:"piece"`
	Size      report.Num `json:"size_mm"`
	Count     int        `json:"count"`
	Density   report.Num `json:"density_g_per_cm3"`
	Volume    report.Num `json:"volume_cm3"`
	Mass      report.Num `json:"mass_g"`
	Total     report.Num `json:"total_mass_g"`
	Weigh     report.Num `json:"take_up_g"`
	Loss      report.Num `json:"loss"`
	LossFrom  string     `json:"loss_from,omitempty"`
	Tolerance report.Num `json:"mass_tolerance_g"`
	Within    report.Num `json:"size_tolerance_mm"`
	Rods      []rodJSON  `json:"rods"`
	Parts     []partJSON `json:"parts"`
}

// gatherJSON prints the same as showGather: volume_cm3, mass_g and the parts
// are those of one piece, total_mass_g, take_up_g and the rods those of all.
func gatherJSON(a *desk.App, g *gathered) error {
	if g.weighed > 0 {
		b := g.recipe.SizeOf(g.weighed)
		return a.PrintJSON(struct {
			Mass   report.Num `json:"mass_g"`
			Kind   string     `json:"form"`
			Size   report.Num `json:"size_mm"`
			Inches report.Num `json:"size_in"`
		}{report.Num(g.weighed.Grams()), string(b.Kind), report.Num(b.Size().Millimeters()), report.Num(b.Size().Inches())})
	}
	if len(g.sizes) > 0 {
		var all []gatherAnswer
		for _, size := range g.sizes {
			one := *g
			var err error
			if one.recipe, one.portions, err = g.at(size); err != nil {
				return err
			}
			all = append(all, one.answer())
		}
		return a.PrintJSON(struct {
			Sizes []gatherAnswer `json:"sizes"`
		}{all})
	}
	return a.PrintJSON(g.answer())
}

func (g *gathered) answer() gatherAnswer {
	r := g.recipe
	all := r.Mass() * unit.Mass(r.Count)
	out := gatherAnswer{Piece: r.Piece.Words(unit.Metric), Size: report.Num(r.Piece.Size().Millimeters()), Count: r.Count,
		Density: report.Num(r.Density / 1000), Volume: report.Num(r.Piece.Volume * 1e6), Mass: report.Num(r.Mass().Grams()), Total: report.Num(all.Grams()),
		Weigh: report.Num(r.Weigh(all).Grams()), Loss: report.Num(r.Loss), LossFrom: g.lossFrom,
		Tolerance: report.Num(gather.MassTolerance(r.Mass(), r.Piece.Size(), g.within).Grams()), Within: report.Num(g.within.Millimeters()),
		Rods: rodsJSON(r, all), Parts: []partJSON{}}
	for _, p := range g.portions {
		j := partJSON{Name: p.Name, Mass: report.Num(p.Mass.Grams()), Volume: report.Num(p.Volume * 1e6), Share: report.Num(p.Share), Rods: rodsJSON(r, p.Mass)}
		if p.Height > 0 {
			j.Height = new(report.Num(p.Height.Millimeters()))
		}
		out.Parts = append(out.Parts, j)
	}
	return out
}

func rodsJSON(r gather.Recipe, m unit.Mass) []rodJSON {
	out := []rodJSON{}
	for _, rod := range r.Rods {
		take := r.Take(rod, m)
		j := rodJSON{Rod: rod.Text, Length: report.Num(take.Net.Millimeters()), Buy: report.Num(take.Buy.Millimeters())}
		if rod.Diameter > 0 {
			j.Diameter = new(report.Num(rod.Diameter.Millimeters()))
		}
		if rod.PerMeter > 0 {
			j.PerMeter = new(report.Num(rod.PerMeter.Grams()))
		}
		out = append(out, j)
	}
	return out
}
