package main

import (
	"lehr/glass/gather"
	"lehr/glass/unit"
)

type rodJSON struct {
	Rod      string `json:"rod"`
	Diameter *num   `json:"diameter_mm"`
	PerMeter *num   `json:"mass_g_per_m,omitempty"`
	Length   num    `json:"length_mm"`
	Buy      num    `json:"buy_mm"`
}

type partJSON struct {
	Name   string    `json:"name"`
	Mass   num       `json:"mass_g"`
	Volume num       `json:"volume_cm3"`
	Share  num       `json:"share"`
	Height *num      `json:"height_mm"`
	Rods   []rodJSON `json:"rods"`
}

type gatherAnswer struct {
	Piece     string     `json:"piece"`
	Size      num        `json:"size_mm"`
	Count     int        `json:"count"`
	Density   num        `json:"density_g_per_cm3"`
	Volume    num        `json:"volume_cm3"`
	Mass      num        `json:"mass_g"`
	Total     num        `json:"total_mass_g"`
	Weigh     num        `json:"take_up_g"`
	Loss      num        `json:"loss"`
	LossFrom  string     `json:"loss_from,omitempty"`
	Tolerance num        `json:"mass_tolerance_g"`
	Within    num        `json:"size_tolerance_mm"`
	Rods      []rodJSON  `json:"rods"`
	Parts     []partJSON `json:"parts"`
}

// gatherJSON prints the same as showGather: volume_cm3, mass_g and the parts
// are those of one piece, total_mass_g, take_up_g and the rods those of all.
func (a *app) gatherJSON(g *gathered) error {
	if g.weighed > 0 {
		b := g.recipe.SizeOf(g.weighed)
		return a.printJSON(struct {
			Mass   num    `json:"mass_g"`
			Kind   string `json:"form"`
			Size   num    `json:"size_mm"`
			Inches num    `json:"size_in"`
		}{num(g.weighed.Grams()), string(b.Kind), num(b.Size().Millimeters()), num(b.Size().Inches())})
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
		return a.printJSON(struct {
			Sizes []gatherAnswer `json:"sizes"`
		}{all})
	}
	return a.printJSON(g.answer())
}

func (g *gathered) answer() gatherAnswer {
	r := g.recipe
	all := r.Mass() * unit.Mass(r.Count)
	out := gatherAnswer{Piece: r.Piece.Words(unit.Metric), Size: num(r.Piece.Size().Millimeters()), Count: r.Count,
		Density: num(r.Density / 1000), Volume: num(r.Piece.Volume * 1e6), Mass: num(r.Mass().Grams()), Total: num(all.Grams()),
		Weigh: num(r.Weigh(all).Grams()), Loss: num(r.Loss), LossFrom: g.lossFrom,
		Tolerance: num(gather.MassTolerance(r.Mass(), r.Piece.Size(), g.within).Grams()), Within: num(g.within.Millimeters()),
		Rods: rodsJSON(r, all), Parts: []partJSON{}}
	for _, p := range g.portions {
		j := partJSON{Name: p.Name, Mass: num(p.Mass.Grams()), Volume: num(p.Volume * 1e6), Share: num(p.Share), Rods: rodsJSON(r, p.Mass)}
		if p.Height > 0 {
			j.Height = maybe(num(p.Height.Millimeters()))
		}
		out.Parts = append(out.Parts, j)
	}
	return out
}

func rodsJSON(r gather.Recipe, m unit.Mass) []rodJSON {
	out := []rodJSON{}
	for _, rod := range r.Rods {
		take := r.Take(rod, m)
		j := rodJSON{Rod: rod.Text, Length: num(take.Net.Millimeters()), Buy: num(take.Buy.Millimeters())}
		if rod.Diameter > 0 {
			j.Diameter = maybe(num(rod.Diameter.Millimeters()))
		}
		if rod.PerMeter > 0 {
			j.PerMeter = maybe(num(rod.PerMeter.Grams()))
		}
		out = append(out, j)
	}
	return out
}
