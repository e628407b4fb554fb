package axial

import (
	"cmp"
	"fmt"
	"math"
	"os"
	"slices"
	"testing"

	"lehr/anneal/sim"
	"lehr/anneal/sim/plane"
	"lehr/anneal/sim/study"
	"lehr/glass/casetest"
)

// middleRow is the stress at a height of a body whose elements stand in columns,
// from the inside outward: in each the parabola through the three nearest elements.
// A body that is cut at its middle height is mirrored there.
func middleRow(field []Stress, height float64, mirrored bool) (row []Stress) {
	columns := map[int][]Stress{}
	for _, s := range field {
		if s.OnSurface {
			continue
		}
		k := int(math.Round(s.At.R * 1e8))
		if columns[k] = append(columns[k], s); mirrored {
			s.At.Z = -s.At.Z
			columns[k] = append(columns[k], s)
		}
	}
	for _, c := range columns {
		if len(c) < 3 { // the core
			continue
		}
		slices.SortFunc(c, func(a, b Stress) int {
			return cmp.Compare(math.Abs(a.At.Z-height), math.Abs(b.At.Z-height))
		})
		at := Stress{At: Point{c[0].At.R, height}}
		for i := range 3 {
			weight := 1.0
			for j := range 3 {
				if j != i {
					weight *= (height - c[j].At.Z) / (c[i].At.Z - c[j].At.Z)
				}
			}
			at.Hoop += weight * c[i].Hoop
			at.Along += weight * c[i].Along
		}
		row = append(row, at)
	}
	slices.SortFunc(row, func(a, b Stress) int { return cmp.Compare(a.At.R, b.At.R) })
	return row
}

// shown is the mean of what light sees along a row from one radius to another, the
// hoop less the axial stress, each place as far as half way to the next.
func shown(row []Stress, from, to float64) float64 {
	sum, last := 0.0, from
	for i, s := range row {
		next := to
		if i+1 < len(row) {
			next = (s.At.R + row[i+1].At.R) / 2
		}
		sum += (next - last) * (s.Hoop - s.Along)
		last = next
	}
	return sum / (to - from)
}

// TestEdge_light: what light through the edge of a flat piece sums up along a
// diameter in its middle plane, in finite elements, is what [plane.Outline.Edge]
// says of the tension of its slab, and what stands in its middle is no more than
// [plane.Outline.Unseen] times that. LEHR_LONG=1 takes every body through two glasses
// and faster cooling. A long bar is a ring so wide that it is straight.
func TestEdge_light(t *testing.T) {
	all := os.Getenv("LEHR_LONG") != ""
	problems := map[string]sim.Problem{"creep": study.Study(casetest.Values{"rate_C_per_h": 30.0, "then_C_per_h": 60.0})}
	if all {
		problems["faster"] = study.Study(casetest.Values{"rate_C_per_h": 120.0, "then_C_per_h": 240.0})
		problems["structure"] = programs()["structure, 40 K/h"]
	}
	const sharp, round, bar = 0.05, 0.1, 0.13 // tolerances of a bar: it shows more
	for name, p := range problems {
		for i, c := range []struct {
			kind                string
			diameter, thickness float64
			shelf               bool
			tol                 float64
		}{
			{"disc", 0.075, 0.025, true, sharp}, {"pendant", 0.040, 0.008, false, round}, {"bar", 0.075, 0.025, false, bar},
			{"disc", 0.100, 0.010, true, sharp}, {"disc", 0.150, 0.012, true, sharp}, {"disc", 0.045, 0.012, true, sharp},
			{"disc", 0.060, 0.030, true, sharp}, {"disc", 0.060, 0.020, false, sharp}, {"disc", 0.100, 0.015, false, sharp},
			{"disc", 0.060, 0.030, false, sharp}, {"disc", 0.020, 0.006, true, sharp}, {"disc", 0.030, 0.003, true, sharp},
			{"pendant", 0.100, 0.010, false, round}, {"pendant", 0.060, 0.025, false, round}, {"pendant", 0.045, 0.012, false, round},
			{"bar", 0.100, 0.010, false, bar}, {"bar", 0.060, 0.006, false, bar},
		} {
			if !all && i > 6 {
				break
			}
			d, h := c.diameter, c.thickness
			o := plane.Outline{Diameter: d, Thickness: h, OnShelf: c.shelf}
			b, from, to := Disc(d, h, 0, c.shelf), 0.0, d/2
			switch c.kind {
			case "pendant":
				b, o.RimRadius = Disc(d, h, 0.44*h, c.shelf), h/2
			case "bar":
				b, from, to = Tube(100*d, d, h, true), 49*d, 50*d
			}
			out := must(t, p, sim.Settings{Cells: 16}, b).Outcomes[0]
			q := p
			q.Body, q.Variants = o.Slab(), p.Variants[:1]
			flat, err := sim.Run(q, sim.Settings{})
			if err != nil {
				t.Fatal(err)
			}
			slab := flat.Outcomes[0].Residual.Plane[0]
			height := 0.0
			if c.shelf {
				height = h / 2
			}
			row := middleRow(out.Field, height, !c.shelf)
			got := shown(row, from, to) / slab
			want, ok := o.Edge(d)
			what := fmt.Sprintf("%s: %s %g x %g m, shelf %t", name, c.kind, d, h, c.shelf)
			if !ok || !(math.Abs(want/got-1) <= c.tol) {
				t.Errorf("%s: shows %.3f of its slab, said to show %.3f", what, got, want)
			}
			o.OnShelf = true // the bound is that of a shelf
			if most := o.Unseen(); c.shelf && !(out.Residual/slab <= most && most < 1.6*out.Residual/slab) || out.Residual/slab > most {
				t.Errorf("%s: carries %.2f times its slab, said to be at most %.2f", what, out.Residual/slab, most)
			}
		}
	}
}

// TestEdge_pendantOnShelf: the middle plane of a pendant on a shelf runs across a
// mesh without columns, so that the row is of the nearest elements.
func TestEdge_pendantOnShelf(t *testing.T) {
	p := study.Study(casetest.Values{"rate_C_per_h": 30.0, "then_C_per_h": 60.0})
	for _, c := range [][2]float64{{0.040, 0.008}, {0.100, 0.015}} {
		d, h := c[0], c[1]
		out := must(t, p, sim.Settings{Cells: 20}, Disc(d, h, 0.44*h, true)).Outcomes[0]
		o := plane.Outline{Diameter: d, Thickness: h, RimRadius: h / 2, OnShelf: true}
		q := p
		q.Body = o.Slab()
		flat, err := sim.Run(q, sim.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		slab := flat.Outcomes[0].Residual.Plane[0]
		var row []Stress
		const n = 80
		for i := range n {
			at := Point{(float64(i) + 0.5) / n * d / 2, h / 2}
			best, least := Stress{}, math.Inf(1)
			for _, s := range out.Field {
				if l := s.At.minus(at).length(); !s.OnSurface && l < least {
					best, least = s, l
				}
			}
			best.At = at
			row = append(row, best)
		}
		got := shown(row, 0, d/2) / slab
		if want, _ := o.Edge(d); !(math.Abs(want/got-1) <= 0.1) {
			t.Errorf("%g x %g m: shows %.3f of its slab, said to show %.3f", d, h, got, want)
		}
		if most := o.Unseen(); !(out.Residual/slab <= most) {
			t.Errorf("%g x %g m: carries %.2f times its slab, said to be at most %.2f", d, h, out.Residual/slab, most)
		}
	}
}
