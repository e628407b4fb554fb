package sim

import (
	"fmt"
	"math"
	"testing"

	"lehr/glass"
	"lehr/glass/casetest"
	"lehr/glass/unit"
)

// fromTable makes a glass of the table a problem's material, with a variant
// for each of its viscosity curves at the middle of the range of the liquid
// expansion.
func fromTable(t testing.TB, name string) (*glass.Glass, Material, []Variant) {
	g, err := glass.Find(name)
	if err != nil {
		t.Fatal(err)
	}
	curves, err := g.Curves()
	if err != nil {
		t.Fatal(err)
	}
	m := Material{Density: g.Density.Number, Conductivity: g.Conductivity.At, SpecificHeat: g.SpecificHeat.At,
		Young: g.Young.Number, Poisson: g.Poisson.Number, Expansion: g.Expansion.Number, Shear: meanOne(sodaTerms)}
	var v []Variant
	for _, c := range curves {
		v = append(v, Variant{Name: c.Name, A: c.A, B: c.B, T0: c.T0, Straight: c.Straight.Kelvin(), ExpansionLiquid: g.ExpansionLiquid.Number})
	}
	return g, m, v
}

// fictiveShiftCase cools a slab so thin that it has no gradient at two rates:
// the fictive temperature it is left with shifts by what its viscosity says,
// and its density by what its liquid expands.
func fictiveShiftCase(t testing.TB, in casetest.Values) casetest.Values {
	g, m, v := fromTable(t, in.Text("glass"))
	curve := v[int(in.Float("curve"))]
	left := func(perHour float64) float64 {
		top, bottom := g.Anneal.Number-zeroCelsius+40, 60.0 // the fast terms move far below the strain point
		o := must(t, Problem{Body: Body{Form: Slab, Outer: 1e-4}, Material: m, Variants: []Variant{curve}, Surface: Surface{Follows: true},
			Kiln: program([2]float64{0, top}, [2]float64{(top - bottom) / perHour, bottom}), Start: uniform(top)}, Settings{Tolerance: 0.02, MaxChange: 2}).Outcomes[0]
		return o.FictiveCenter
	}
	slow, fast := in.Float("slow_K_per_h"), in.Float("fast_K_per_h")
	a, b := left(slow), left(fast)
	mid := (a + b) / 2
	const h = 0.01
	slope := math.Ln10 * (curve.Log10(mid-h) - curve.Log10(mid+h)) / (1/(mid-h) - 1/(mid+h))
	return casetest.Values{"slope_over_viscosity_slope": math.Log(fast/slow) / (1/a - 1/b) / slope,
		"density_change_per_decade": 3 * (curve.ExpansionLiquid - m.Expansion) * (b - a) / math.Log10(fast/slow)}
}

// TestVariantLog10: the curve of a variant is that of the glass, and its
// isokoms are its inverse.
func TestVariantLog10(t *testing.T) {
	g, _, v := fromTable(t, "float")
	curves, _ := g.Curves()
	for i, c := range curves {
		for d := -60.0; d < 150; d += 13 {
			at := g.Anneal.Number + d
			want, err := c.Log10(g.Anneal.Temp().Add(unit.Delta(d)))
			if err != nil {
				t.Fatal(err)
			}
			near(t, fmt.Sprintf("%s at %g K", c.Name, at), v[i].Log10(at), want, 1e-12, 0)
			near(t, c.Name+": isokom", v[i].Isokom(want), at, 1e-12, 0)
			// A glass in equilibrium has the viscosity of the curve.
			s := newGlassState(&Problem{Material: Material{Young: 70e9, Poisson: 0.22}.fill()}, v[i], []float64{at})
			near(t, c.Name+": in equilibrium", s.shift(at, at), s.lnShear-math.Ln10*max(want, runnyLog10), 1e-12, 0)
		}
	}
}

// TestCorners: liquid expansion and pace of the structure bound what lies
// between them. Stress left is greatest with the high end of both, the tension
// while cooling with the low end of both: so two readings of a curve do for the
// four corners.
func TestCorners(t *testing.T) {
	for _, name := range []string{"borosilicate-33", "float", "soda-104", "lead-crystal", "bk7"} {
		g, m, curves := fromTable(t, name)
		top, knee := g.Anneal.Number-zeroCelsius+5, g.Strain.Number-zeroCelsius-60
		low, high := g.ExpansionLiquid.Number-g.ExpansionLiquid.Spread, g.ExpansionLiquid.Number+g.ExpansionLiquid.Spread
		for _, body := range []Body{{Form: Sphere, Outer: 0.0317}, {Form: Slab, Outer: 0.0125}, {Form: Cylinder, Outer: 0.02}} {
			for _, rate := range []float64{20, 60} {
				var v []Variant
				for _, c := range curves {
					for _, x := range [][2]float64{{low, 3.2e9}, {high, 7.2e9}, {low, 7.2e9}, {high, 3.2e9}, {(low + high) / 2, 3.2e9}, {(low + high) / 2, 7.2e9}, {(low + high) / 2, 5e9}} {
						c.ExpansionLiquid, c.StructuralModulus = x[0], x[1]
						v = append(v, c)
					}
				}
				h := 2 + (top-knee)/rate
				r := must(t, Problem{Body: body, Material: m, Variants: v, Surface: air, Start: uniform(top), Room: 293.15,
					Kiln: program([2]float64{0, top}, [2]float64{2, top}, [2]float64{h, knee}, [2]float64{h + (knee-40)/(3*rate), 40})}, Settings{})
				for i := 0; i < len(v); i += 7 {
					peak, left := r.Outcomes[i].Surface.Tension, r.Outcomes[i+1].Left.MaxTension()
					for k, o := range r.Outcomes[i : i+7] {
						if o.Surface.Tension > 1.01*peak || o.Left.MaxTension() > 1.005*left {
							t.Errorf("%s, %v at %g K/h, %s, reading %d: tension %.4g of %.4g, left %.4g of %.4g", name, body.Form, rate, o.Variant.Name, k,
								o.Surface.Tension, peak, o.Left.MaxTension(), left)
						}
					}
				}
			}
		}
	}
}
