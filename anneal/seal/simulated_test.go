package seal

import (
	"math"
	"testing"

	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// A simulated piece: 63.5 mm of borosilicate follows its kiln with a lag; the
// stone in its middle sets with the middle's own temperature, and what program
// and misfit do together is never less than either alone where both pull.
func TestSimulatedPiece(t *testing.T) {
	p, _ := stoneIn(t, 63.5, "opal 20mm")
	g := p.Clear
	curves := must(g.Curves())(t)
	points := []float64{0, 1800, 1800 + 90.0/40*3600, 1800 + 90.0/40*3600 + 430.0/120*3600}
	temps := []float64{833.15, 833.15, 743.15, 313.15}
	var samples []sim.Sample
	res := must(sim.Run(sim.Problem{
		Body: sim.Body{Form: sim.Sphere, Outer: 0.03175},
		Material: sim.Material{Density: g.Density.Number, Conductivity: g.Conductivity.At, SpecificHeat: g.SpecificHeat.At,
			Young: g.Young.Number, Poisson: g.Poisson.Number, Expansion: g.Expansion.Number},
		Variants: []sim.Variant{{A: curves[0].A, B: curves[0].B, T0: curves[0].T0}},
		Surface:  sim.Surface{Film: 5, Emissivity: 0.9},
		Kiln:     sim.Kiln{At: func(s float64) float64 { return between(points, temps, s) }, Kinks: points[1:]},
		Start:    func(float64) float64 { return 833.15 }, Room: Room.Kelvin(),
	}, sim.Settings{Record: func(s sim.Sample) { samples = append(samples, s) }}))(t)
	p.History = HistoryAt(samples, 0)
	middle := must(Judge(p))(t)
	p.History = HistoryAt(samples, 1)
	skin := must(Judge(p))(t)
	p.History = History{}
	p.Rate = unit.KelvinPerHour(40)
	steady := must(Judge(p))(t)
	for name, r := range map[string]Report{"middle": middle, "surface": skin} {
		if d := math.Abs(float64(r.Setting.Sub(steady.Setting))); d > 3 {
			t.Errorf("%s sets at %v, one rate at %v", name, r.Setting, steady.Setting)
		}
	}
	left := res.Outcomes[0].Left.Plane
	n := len(left) - 1
	c := middle.Combine(Instants(samples), Instant{1e6, unit.Stress(left[n]), unit.Stress(left[0])})
	own := middle.at(AtStone).Hoop.High
	close(t, "the middle keeps both", float64(c.MiddleLeft), float64(own)+left[0], 1e-9)
	if left[0] <= 0 || c.MiddlePeak < c.MiddleLeft || c.SurfacePeak < middle.at(OuterSurface).Hoop.High+unit.Stress(left[n]) {
		t.Errorf("left %g, %+v", left[0], c)
	}
	// The surface is pulled by both while it cools through the range in which the
	// misfit is nearly whole: more than either does alone.
	alone := unit.Stress(0)
	for _, s := range samples {
		alone = max(alone, unit.Stress(s.SurfaceStress))
	}
	if c.SurfacePeak <= max(alone, middle.at(OuterSurface).Hoop.High) {
		t.Errorf("together %v, program alone %v, misfit alone %v", c.SurfacePeak, alone, middle.at(OuterSurface).Hoop.High)
	}
}
