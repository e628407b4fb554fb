// Package study poses the problems of the finite-element studies that the
// cases of packages plane and axial share; its glasses are no claim about one.
package study

import (
	"lehr/anneal/sim"
	"lehr/glass/cases"
	"lehr/glass/unit"
)

var zeroCelsius = unit.Celsius(0).Kelvin()

// Const returns a property that does not change with temperature.
func Const(x float64) func(float64) float64 { return func(float64) float64 { return x } }

// Glass is the borosilicate-like glass of the studies: linear creep along the
// curve through 10^13.5 Pa·s at 515 °C, 10^12 at 560 °C and 10^6.6 at 825 °C.
func Glass() (sim.Material, []sim.Variant) {
	m := sim.Material{Density: 2230, Conductivity: Const(1.2), SpecificHeat: Const(1000),
		Young: 63e9, Poisson: 0.2, Expansion: 3.3e-6}
	t1, t2, t3 := 515+zeroCelsius, 560+zeroCelsius, 825+zeroCelsius
	const l1, l2, l3 = 13.5, 12.0, 6.6
	// l = A + B/(T−T0) at three points
	q := (l1 - l2) / (t2 - t1) / ((l2 - l3) / (t3 - t2))
	t0 := (q*t1 - t3) / (q - 1)
	b := (l1 - l2) * (t1 - t0) * (t2 - t0) / (t2 - t1)
	return m, []sim.Variant{{Name: "study", A: l1 - b/(t1-t0), B: b, T0: t0}}
}

// SixTerms is a soda-lime-like glass with structural relaxation and properties
// that change with temperature, two variants on each of two viscosity curves;
// its numbers are there to be simulated and no claim about a glass. No case needs
// it: it is for the tests of packages plane and axial, which share it.
func SixTerms() (sim.Material, []sim.Variant) {
	shear := []sim.Term{{Weight: 0.05523, Time: 6.658e-5}, {Weight: 0.08205, Time: 1.197e-3}, {Weight: 0.1215, Time: 1.514e-2},
		{Weight: 0.2286, Time: 0.1672}, {Weight: 0.2860, Time: 0.7497}, {Weight: 0.22662, Time: 3.292}}
	m := sim.Material{Density: 2500, Young: 72e9, Poisson: 0.22, Expansion: 9e-6, Shear: shear,
		Conductivity: func(k float64) float64 { return 0.9 + 5e-4*k },
		SpecificHeat: func(k float64) float64 { return 600 + 0.8*k }}
	var v []sim.Variant
	for _, a := range []float64{-1.5, -1.7} {
		for _, liquid := range []float64{20e-6, 30e-6} {
			v = append(v, sim.Variant{Name: "six terms", A: a, B: 4300, T0: 520, ExpansionLiquid: liquid})
		}
	}
	return m, v
}

// Program returns a kiln that goes straight from point to point: hours and
// degrees Celsius.
func Program(points ...[2]float64) sim.Kiln {
	k := sim.Kiln{At: func(s float64) float64 {
		for i := 1; i < len(points); i++ {
			a, b := points[i-1], points[i]
			if h := s / 3600; h <= b[0] {
				return zeroCelsius + a[1] + (b[1]-a[1])*(h-a[0])/(b[0]-a[0])
			}
		}
		return zeroCelsius + points[len(points)-1][1]
	}}
	for _, p := range points[1:] {
		k.Kinks = append(k.Kinks, 3600*p[0])
	}
	return k
}

// Problem poses a problem without a body: a glass in still air that starts even
// at the program's first temperature.
func Problem(m sim.Material, v []sim.Variant, k sim.Kiln) sim.Problem {
	return sim.Problem{Material: m, Variants: v, Surface: sim.Surface{HeatTransfer: 5, Emissivity: 0.9}, Kiln: k,
		Start: Const(k.At(0))}
}

// Study poses the problem of a case: from 565 °C, hold 1 h, to 480 °C at the
// first rate, to 60 °C at the second, even out.
func Study(in cases.Values) sim.Problem {
	first, second := 85/in.Float("rate_C_per_h"), 420/in.Float("then_C_per_h")
	m, v := Glass()
	p := Problem(m, v, Program([2]float64{0, 565}, [2]float64{1, 565}, [2]float64{1 + first, 480},
		[2]float64{1 + first + second, 60}, [2]float64{9 + first + second, 60}))
	if in.Has("follows") && in.True("follows") {
		p.Surface = sim.Surface{Follows: true}
	}
	return p
}
