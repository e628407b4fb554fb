package axial

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"lehr/anneal/sim"
	"lehr/anneal/sim/study"
	"lehr/glass/casetest"
)

// TestEdge_light: what light through the edge of a disc sums up along a diameter in
// its middle plane. The membrane in its plane, whose rim cooled ahead, sums to
// nothing, as the hoop stress over a diameter is a force that nothing balances; so
// less shows than the slab alone has, and far less than stands in the middle.
func TestEdge_light(t *testing.T) {
	for _, c := range []struct{ diameter, thickness float64 }{{0.075, 0.025}, {0.060, 0.020}, {0.100, 0.010}, {0.150, 0.012}, {0.045, 0.012}} {
		p := study.Study(casetest.Values{"rate_C_per_h": 30.0, "then_C_per_h": 60.0})
		o := must(t, p, sim.Settings{Cells: 16}, Disc(c.diameter, c.thickness, 0, true)).Outcomes[0]
		p.Body = sim.Body{Form: sim.Slab, Outer: c.thickness / 2}
		flat, err := sim.Run(p, sim.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		slab := flat.Outcomes[0].Residual.Plane[0]
		near := math.Inf(1)
		for _, s := range o.Field {
			if !s.OnSurface {
				near = math.Min(near, math.Abs(s.At.Z-c.thickness/2))
			}
		}
		var row []Stress
		for _, s := range o.Field {
			if !s.OnSurface && s.At.Z > c.thickness/2-1e-9 && s.At.Z-c.thickness/2 < near*1.01+1e-9 {
				row = append(row, s)
			}
		}
		slices.SortFunc(row, func(a, b Stress) int { return cmp.Compare(a.At.R, b.At.R) })
		sum, from := 0.0, 0.0
		for i, s := range row { // each as far as half way to the next
			to := c.diameter / 2
			if i+1 < len(row) {
				to = (s.At.R + row[i+1].At.R) / 2
			}
			sum += (to - from) * (s.Hoop - s.Second)
			from = to
		}
		mean, middle := 2*sum/c.diameter, row[0].Hoop
		if share := mean / slab; !(share > 0.5 && share < 1) {
			t.Errorf("%g x %g m: shows %.2f of what the slab has", c.diameter, c.thickness, share)
		}
		if times := middle / mean; !(times > 3 && times < 4.5) {
			t.Errorf("%g x %g m: the middle has %.2f times what shows", c.diameter, c.thickness, times)
		}
	}
}
