package axial

import (
	"math"

	"lehr/anneal/sim"
)

// skin is the glass at a node of the surface, at its temperature: it is
// strained along the surface as the nodes are, and nothing holds it across. At
// an edge, where two free faces meet, only the hoop is strained.
type skin struct {
	node   int
	at     Point
	before chord // along the surface; weight 0 at an edge
	after  chord
	edge   bool
}

// chord is a side of an element on the surface: the strain along it is the
// stretch of the straight line between its nodes.
type chord struct {
	a, b   int
	r, z   float64 // Δx/|Δx|² [1/m]
	weight float64
}

func (g *grid) chord(e edge, weight float64) chord {
	d := g.sloped[e.b].minus(g.sloped[e.a])
	l2 := d.dot(d)
	return chord{e.a, e.b, d.R / l2, d.Z / l2, weight}
}

func (c *chord) strain(u []float64) float64 {
	return (u[2*c.b]-u[2*c.a])*c.r + (u[2*c.b+1]-u[2*c.a+1])*c.z
}

// bluntest is the turn of the surface from which two faces count as meeting in
// an edge; less is a curve that is drawn in straight pieces.
const bluntest = 35 * math.Pi / 180

// newSkin finds the surface's nodes. Those in an inner corner are left out: a
// sharp one has no finite stress.
func newSkin(g *grid) []skin {
	before, after := map[int]edge{}, map[int]edge{}
	var order []int
	for _, e := range g.edges {
		after[e.a], before[e.b] = e, e
		order = append(order, e.a)
	}
	for _, e := range g.edges {
		if _, more := after[e.b]; !more {
			order = append(order, e.b)
		}
	}
	onMirror := map[int]bool{}
	for _, n := range g.mirror {
		onMirror[n] = true
	}
	var out []skin
	for _, n := range order {
		k := skin{node: n, at: g.node[n]}
		in, hasIn := before[n]
		next, hasNext := after[n]
		direction := func(e edge) Point { return g.sloped[e.b].minus(g.sloped[e.a]) }
		var turn float64
		switch {
		case hasIn && hasNext:
			u, v := direction(in), direction(next)
			turn = math.Atan2(u.cross(v), u.dot(v))
			l1, l2 := u.length(), v.length()
			k.before, k.after = g.chord(in, l2/(l1+l2)), g.chord(next, l1/(l1+l2))
		default: // it ends on the axis or on a plane of symmetry, where its mirror image goes on
			e := next
			if hasIn {
				e = in
			}
			k.before = g.chord(e, 1)
			d := direction(e)
			rise := math.Abs(d.Z)
			if onMirror[n] {
				rise = math.Abs(d.R)
			}
			turn = 2 * math.Asin(math.Min(1, rise/d.length()))
			if k.at.R == 0 && turn > bluntest { // the tip of a cone
				continue
			}
		}
		switch {
		case turn < -bluntest:
			continue
		case turn > bluntest:
			k.edge, k.before, k.after = true, chord{}, chord{}
		}
		out = append(out, k)
	}
	return out
}

// strained returns the strain along the surface and around, without the first
// at an edge.
func (k *skin) strained(u []float64) (along, hoop float64) {
	if k.before.weight > 0 {
		along += k.before.weight * k.before.strain(u)
	}
	if k.after.weight > 0 {
		along += k.after.weight * k.after.strain(u)
	}
	if k.at.R == 0 {
		return along, along
	}
	return along, u[2*k.node] / k.at.R
}

// book strains point i as nothing holds it across the surface. Its deviators are
// along, hoop and none.
func (k *skin) book(p *sim.Points, i int, bulk, shear float64, u []float64) {
	a, b := bulk+4.0/3*shear, bulk-2.0/3*shear
	start := p.BeforeMean[i] - 3*bulk*p.Thermal[i]
	s, t := p.BeforeShear[3*i], p.BeforeShear[3*i+1]
	along, hoop := k.strained(u)
	across := 0.0
	if k.edge {
		across = -(start + s + b*hoop) / (a + b)
		along = across
	} else {
		across = -(start - s - t + b*(along+hoop)) / a
	}
	vol := along + hoop + across
	p.Shear(i, 0, along-vol/3)
	p.Shear(i, 1, hoop-vol/3)
	p.Volume(i, vol)
}
