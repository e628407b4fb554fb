package sim

import (
	"math"

	"lehr/glass/cases"
	"lehr/glass/unit"
)

// The glasses of the tests. Numbers that are a published set name it; the
// others are there to be simulated, and no claim about a glass.

var zeroCelsius = unit.Celsius(0).Kelvin()

// sodaTerms is the shear set of Daudeville and Carré 1998, J. Thermal Stresses
// 21, 667, table 1 [corroborated]: times at 869 K [s], mean 1.0006 s.
var sodaTerms = []Term{
	{0.05523, 6.658e-5}, {0.08205, 1.197e-3}, {0.1215, 1.514e-2},
	{0.2286, 0.1672}, {0.2860, 0.7497}, {0.22662, 3.292},
}

// sodaStructural is the structural set of the same table, times at 869 K [s].
var sodaStructural = []Term{
	{0.05523, 5.965e-4}, {0.08205, 1.077e-2}, {0.1215, 0.1362},
	{0.2286, 1.505}, {0.2860, 6.747}, {0.22662, 29.63},
}

// sodaBulk is the bulk set of the same table.
var sodaBulk = []Term{
	{0.0222, 5.009e-5}, {0.0224, 9.945e-4}, {0.0286, 2.022e-3},
	{0.2137, 1.925e-2}, {0.394, 0.1199}, {0.3191, 2.033},
}

const (
	sodaB = 55000 / math.Ln10                    // H/R of the 1998 set, as VFT with T0 = 0
	sodaA = 10.458 - 55000/2.302585092994046/869 // η(869 K) = 10^10.458 Pa·s
)

// sharpGinther is the form of the handbook equation for specific heat [J/kgK].
func sharpGinther(a, c float64) func(float64) float64 {
	const b = 0.00146
	return func(k float64) float64 {
		t := k - zeroCelsius
		return (a*b*t*t + 2*a*t + c) / ((1 + b*t) * (1 + b*t))
	}
}

func poly(k0, k1, k2 float64) func(float64) float64 {
	return func(k float64) float64 {
		t := k - zeroCelsius
		return k0 + t*(k1+t*k2)
	}
}

func constant(x float64) func(float64) float64 { return func(float64) float64 { return x } }

// boro is a borosilicate 3.3 with its two curves and both bounds of the
// expansion of the liquid.
func boro() (Material, []Variant) {
	m := Material{Density: 2230, Conductivity: poly(1.106, 0.000789, 1.23e-6), SpecificHeat: sharpGinther(2.1095, 722),
		Young: 63.5e9, Poisson: 0.2, Expansion: 3.3e-6, Shear: meanOne(sodaTerms)}
	return m, curves(-8.7333, 15365.7, -181.11, -3.0231, 6987.46, 94.88, 8e-6, 16e-6)
}

func curves(a1, b1, t1, a2, b2, t2, low, high float64) []Variant {
	return []Variant{
		{Name: "A low", A: a1, B: b1, T0: t1 + zeroCelsius, ExpansionLiquid: low},
		{Name: "A high", A: a1, B: b1, T0: t1 + zeroCelsius, ExpansionLiquid: high},
		{Name: "B low", A: a2, B: b2, T0: t2 + zeroCelsius, ExpansionLiquid: low},
		{Name: "B high", A: a2, B: b2, T0: t2 + zeroCelsius, ExpansionLiquid: high},
	}
}

// duffrene is the soda-lime set of 1998 with the conductivity, specific heat
// and density used with it.
func duffrene(structure bool) (Material, []Variant) {
	m := Material{Density: 2530, Conductivity: func(k float64) float64 { return 0.975 + 8.58e-4*(k-zeroCelsius) },
		SpecificHeat: func(k float64) float64 {
			if k < 850 {
				return 893 + 0.4*k
			}
			return 1433 + 6.5e-3*k
		},
		Young: 70e9, Poisson: 0.22, Expansion: 9e-6, Shear: sodaTerms, Bulk: sodaBulk, BulkLong: 0.18,
		Structural: sodaStructural, StructuralModulus: 70e9 / 2 / 1.22}
	v := Variant{Name: "1998", A: sodaA, B: sodaB}
	if structure {
		v.ExpansionLiquid = 25e-6
	}
	return m, []Variant{v}
}

// program is a kiln program of straight lines through (hours, °C).
func program(points ...[2]float64) Kiln {
	var k Kiln
	for _, p := range points[1:] {
		k.Kinks = append(k.Kinks, p[0]*3600)
	}
	k.At = func(s float64) float64 {
		h := s / 3600
		for i, p := range points[1:] {
			if q := points[i]; h <= p[0] {
				return q[1] + (p[1]-q[1])*(h-q[0])/(p[0]-q[0]) + zeroCelsius
			}
		}
		return points[len(points)-1][1] + zeroCelsius
	}
	return k
}

func uniform(celsius float64) func(float64) float64 { return constant(celsius + zeroCelsius) }

var air = Surface{HeatTransfer: 5, Emissivity: 0.9}

func must(t cases.T, p Problem, s Settings) Result {
	t.Helper()
	r, err := Run(p, s)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// near fails unless got is within rel of want, or within abs of it.
func near(t cases.T, what string, got, want, rel, abs float64) {
	t.Helper()
	if d := math.Abs(got - want); !(d <= abs || d <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.7g, want %.7g (off %.2g, allowed %.2g relative or %.2g)", what, got, want, got-want, rel, abs)
	}
}

// plain is a glass with constant properties that is wholly elastic (cold) at
// any temperature, κ = 4.6e-7 m²/s, the one of the worked numbers.
func plain() (Material, []Variant) {
	return Material{Density: 2500, Conductivity: constant(4.6e-7 * 2500 * 1000), SpecificHeat: constant(1000),
		Young: 70e9, Poisson: 0.22, Expansion: 9e-6}, []Variant{{Name: "cold", A: 40, B: 1, T0: 0}}
}

// runTo runs a problem to the end of its program and leaves it there, hot.
func runTo(t cases.T, p Problem, s Settings) *run {
	t.Helper()
	if err := p.check(); err != nil {
		t.Fatal(err)
	}
	p.Material = p.Material.fill()
	r, err := newRun(&p, s.fill().fit(&p), nil)
	if err != nil {
		t.Fatal(err)
	}
	at := 0.0
	for i, end := range p.Kiln.Kinks {
		if at, err = r.span(at, end, i); err != nil {
			t.Fatal(err)
		}
	}
	return r
}

// average is the mean temperature of the body [K].
func (h *heat) average() float64 {
	h.means(h.temp, h.mean)
	sum, all := 0.0, 0.0
	for i, v := range h.volume {
		sum += v * h.mean[i]
		all += v
	}
	return sum / all
}
