package seal

import (
	"math"
	"testing"

	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// A simulated piece: 63.5 mm of borosilicate follows its kiln with a lag; the
// stone in its middle sets with the middle's own temperature.
func TestSimulatedPiece(t *testing.T) {
	p, _ := stoneIn(t, 63.5, "opal 20mm")
	g := p.Clear
	curves := must(g.Curves())(t)
	points := []float64{0, 1800, 1800 + 90.0/40*3600, 1800 + 90.0/40*3600 + 430.0/120*3600}
	temps := []float64{833.15, 833.15, 743.15, 313.15}
	var samples []sim.Sample
	must(sim.Run(sim.Problem{
		Body: sim.Body{Form: sim.Sphere, Outer: 0.03175},
		Material: sim.Material{Density: g.Density.Number, Conductivity: g.Conductivity.At, SpecificHeat: g.SpecificHeat.At,
			Young: g.Young.Number, Poisson: g.Poisson.Number, Expansion: g.Expansion.Number},
		Variants: []sim.Variant{{A: curves[0].A, B: curves[0].B, T0: curves[0].T0}},
		Surface:  sim.Surface{HeatTransfer: 5, Emissivity: 0.9},
		Kiln:     sim.Kiln{At: func(s float64) float64 { return between(points, temps, s) }, Kinks: points[1:]},
		Start:    func(float64) float64 { return 833.15 }, Room: Room().Kelvin(),
	}, sim.Settings{Record: func(s sim.Sample) { samples = append(samples, s) }}))(t)
	p.History = HistoryAt(samples, 0)
	middle := must(p.Judge())(t)
	p.History = HistoryAt(samples, 1)
	skin := must(p.Judge())(t)
	p.History = History{}
	p.Rate = unit.KelvinPerHour(40)
	steady := must(p.Judge())(t)
	for name, r := range map[string]Report{"middle": middle, "surface": skin} {
		if d := math.Abs(float64(r.Setting.Sub(steady.Setting))); d > 3 {
			t.Errorf("%s sets at %v, one rate at %v", name, r.Setting, steady.Setting)
		}
	}
}

// Judge, by a setting temperature and the elastic sphere, against the sphere
// that relaxes on its way down, whatever lies in it: within 1 % of the greatest.
func TestJudge_againstCoolSphere(t *testing.T) {
	f := clear33(t)
	g := f.Clear
	curves := must(g.Curves())(t)
	clear := Elastic{63.5e9, 0.2, 3.3e-6 * 1.07}
	color := Elastic{63.5e9, 0.2, 3.6e-6 * 1.07}
	mm := unit.Millimeter
	skin := must(f.ParseSkin("x 2mm, expansion 3.6e-6 /K"))(t)
	for name, c := range map[string]struct {
		contents contents.Contents
		shells   []Shell
		rigid    bool
	}{
		"stone":  {contents.Contents{Inside: []contents.Inside{must(f.ParseInside("opal 12mm"))(t)}}, []Shell{{6 * mm, opal}, {20 * mm, clear}}, true},
		"skin":   {contents.Contents{Skin: &skin}, []Shell{{18 * mm, clear}, {20 * mm, color}}, false},
		"layers": {contents.Contents{Layers: must(f.ParseLayers([]string{"core clear 20mm", "x 2mm, expansion 3.6e-6 /K", "clear"}))(t)}, []Shell{{10 * mm, clear}, {12 * mm, color}, {20 * mm, clear}}, false},
	} {
		p := Problem{Clear: g, Body: sphere(40), Contents: c.contents, History: steady(unit.Celsius(660), unit.KelvinPerHour(60))}
		r := must(p.Judge())(t)
		// The curve that sets hotter counts in Judge.
		var want []ShellStress
		for _, curve := range curves {
			relaxing := make([]relaxingShell, len(c.shells))
			for i, s := range c.shells {
				relaxing[i] = relaxingShell{Shell: s, Curve: &curve}
			}
			if c.rigid {
				relaxing[0].Curve = nil
			}
			s := must(coolSphere(relaxing, p.History))(t).Shells
			if want == nil || math.Abs(float64(s[1].InnerHoop)) > math.Abs(float64(want[1].InnerHoop)) {
				want = s
			}
		}
		size := math.Abs(float64(want[1].InnerHoop))
		k := 0
		for i, s := range want {
			list := []unit.Stress{s.InnerHoop, s.OuterHoop}
			if i == 0 {
				list = list[1:]
			}
			for _, w := range list {
				if got := r.Places[k].Hoop.Expected; math.Abs(float64(got-w)) > 0.01*size {
					t.Errorf("%s: %s in %s: %v, relaxing %v", name, r.Places[k].Kind, r.Places[k].In, got, w)
				}
				k++
			}
		}
	}
}
