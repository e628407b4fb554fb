package sim

import (
	"fmt"
	"math"
	"testing"

	"lehr/glass/unit"
)

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
			near(t, c.Name+": isokom", v[i].isokom(want), at, 1e-12, 0)
			// A glass in equilibrium has the viscosity of the curve.
			s := newGlassState(&Problem{Material: Material{Young: 70e9, Poisson: 0.22}.fill()}, v[i], []float64{at})
			near(t, c.Name+": in equilibrium", s.shift(at, at), s.lnShear-math.Ln10*max(want, runnyLog10), 1e-12, 0)
		}
	}
}

// TestCorners: liquid expansion and pace of the structure bound what lies
// between them. Stress left is greatest with the high end of both, the tension
// while cooling with the low end of both: so two variants of a curve do for the
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
					peak, residual := r.Outcomes[i].Surface.Tension, r.Outcomes[i+1].Residual.MaxTension()
					for k, o := range r.Outcomes[i : i+7] {
						if o.Surface.Tension > 1.01*peak || o.Residual.MaxTension() > 1.005*residual {
							t.Errorf("%s, %v at %g K/h, %s, variant %d: tension %.4g of %.4g, left %.4g of %.4g", name, body.Form, rate, o.Variant.Name, k,
								o.Surface.Tension, peak, o.Residual.MaxTension(), residual)
						}
					}
				}
			}
		}
	}
}
