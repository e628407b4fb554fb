package sim

import "testing"

// lump is a body of one temperature and one point that nothing strains: a
// Shape of ten lines.
type lump struct {
	p     *Problem
	c     func(float64) float64
	size  float64 // volume over surface [m]
	drop  float64
	looks int
	last  float64
	left  bool
}

func (l *lump) Prepare(p *Problem, _, c func(float64) float64) ([]float64, int, int, float64) {
	l.p, l.c = p, c
	return []float64{p.Start(0)}, 1, 2, 1000
}

func (l *lump) Rate(temp, out []float64, kiln, _ float64) {
	q, _ := l.p.Surface.Flux(kiln, temp[0])
	out[0] = q / (l.size * l.p.Material.Density * l.c(temp[0]))
}

func (l *lump) Factor(temp []float64, g, kiln, rate float64, slope []float64) {
	w := g / (l.size * l.p.Material.Density * l.c(temp[0]))
	_, dq := l.p.Surface.Flux(kiln, temp[0])
	l.drop = 1 - w*dq
	slope[0] = w * l.p.Surface.HeatTransfer * rate
}

func (l *lump) Solve(b []float64) { b[0] /= l.drop }

func (l *lump) Points(temp []float64, _ float64, out []float64) { out[0] = temp[0] }

func (l *lump) Section() Section { return l }

func (l *lump) Stiffen(_, _ []float64) {}

// Balance holds the lump at its size: it is stretched as it cools.
func (l *lump) Balance(p *Points) { p.Volume(0, 0) }

func (l *lump) Look(v Look) (float64, float64) {
	l.looks++
	if v.AtRoom {
		l.left = true
	} else {
		l.last = v.Temp[0]
	}
	return v.Stress.Mean[0], 0
}

// TestShape: a lump behind linear heat transfer trails a steady ramp by rate times its
// time constant, and held at its size it is stretched by 3 K α ΔT.
func TestShape(t *testing.T) {
	m, v := plain()
	p := Problem{Body: Body{Form: Slab, Outer: 1}, Material: m, Variants: v, Surface: Surface{HeatTransfer: 50},
		Kiln:  program([2]float64{0, 400}, [2]float64{5, 100}),
		Start: uniform(400), Room: 373.15}
	l := &lump{size: 0.005}
	r, err := RunShape(p, Settings{}, l)
	if err != nil {
		t.Fatal(err)
	}
	lag := 60.0 / 3600 * l.size * m.Density * m.SpecificHeat(500) / 50
	near(t, "lag", l.last-373.15, lag, 1e-3, 0)
	bulk := m.Young / (3 * (1 - 2*m.Poisson)) // nothing relaxes
	near(t, "tension", r.Outcomes[0].Peak, 3*bulk*m.Expansion*(400+zeroCelsius-l.last), 1e-6, 0)
	if !l.left || l.looks != r.Stats.Steps+2 {
		t.Errorf("looked %d times in %d steps, left %v", l.looks, r.Stats.Steps, l.left)
	}
	p.Kiln.Kinks = nil
	if _, err := RunShape(p, Settings{}, l); err == nil {
		t.Error("ran without a program")
	}
}
