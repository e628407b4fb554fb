package axial

import (
	"fmt"
	"math"

	"lehr/anneal/sim"
)

// Point is a place in the section: radius and height [m].
type Point struct{ R, Z float64 }

func (p Point) minus(q Point) Point   { return Point{p.R - q.R, p.Z - q.Z} }
func (p Point) length() float64       { return math.Hypot(p.R, p.Z) }
func (p Point) dot(q Point) float64   { return p.R*q.R + p.Z*q.Z }
func (p Point) cross(q Point) float64 { return p.R*q.Z - p.Z*q.R }
func (p Point) toward(q Point, w float64) Point {
	return Point{p.R + w*(q.R-p.R), p.Z + w*(q.Z-p.Z)}
}

// kind is what a side of the section borders on.
type kind int

const (
	open    kind = iota // free, exchanges heat
	closed              // free, passes no heat: a shelf
	axis                // the axis of revolution
	mirror              // a plane of symmetry, z = const
	nothing             // a side that has shrunk to a point
)

// edge is one side of an element on the surface, the glass to its left.
type edge struct {
	a, b int
	kind kind
	mid  Point // on the surface, halfway
}

// grid is the section cut into quadrilaterals, some of which are triangles with
// a corner named twice. Nodes are numbered so that those of one element are not
// far apart.
type grid struct {
	node   []Point
	quad   [][4]int   // counterclockwise
	curve  [][5]Point // of each element: between corners 0 and 1, 1 and 2, 2 and 3, 3 and 0, and its middle
	edges  []edge     // of the surface, in order along it
	m, n   int        // elements each way; element i, j is at i n + j
	even   [4]bool    // the sides across which stress is even: an axis or a plane of symmetry
	fan    int        // the first elements, that meet in one node on the axis
	mirror []int      // nodes on the plane of symmetry
	// sloped is where the nodes are for the balance of stress: as node, but on the
	// axis a third farther from the level of their neighbors. A straight side that
	// meets the axis then has the mean slope of the curve it stands for, by
	// volume; one between the nodes has three fourths of it, which bends the first
	// element by a share that goes with its side, not with the square of it.
	sloped []Point
}

// The sides of a patch, counterclockwise.
const (
	south = iota // j = 0
	east         // i = m
	north        // j = n
	west         // i = 0
)

// patch maps a square of m × n cells to the section. Kind says what a piece of a
// side borders on, by the index of its cell.
type patch struct {
	m, n int
	at   func(i, j float64) Point // also between the nodes, where the section is curved
	kind [4]func(cell int) kind
}

func all[T any](k kind) func(T) kind { return func(T) kind { return k } }

// mesh cuts the section into elements, along j first.
func (p patch) mesh() *grid {
	g := &grid{m: p.m, n: p.n}
	at := p.number(g)
	for i := range p.m {
		for j := range p.n {
			g.quad = append(g.quad, [4]int{at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)})
			x, y := float64(i), float64(j)
			g.curve = append(g.curve, [5]Point{p.at(x+0.5, y), p.at(x+1, y+0.5), p.at(x+0.5, y+1), p.at(x, y+0.5), p.at(x+0.5, y+0.5)})
		}
	}
	p.slope(g, at)
	p.border(g, at)
	for side := range p.kind {
		g.even[side] = p.whole(side, axis) || p.whole(side, mirror)
	}
	if p.shrunk(west) {
		g.fan = p.n
	}
	g.join()
	return g
}

// whole reports whether a side borders on the same thing at both its ends.
func (p patch) whole(side int, on kind) bool {
	last := p.m - 1
	if side == east || side == west {
		last = p.n - 1
	}
	return p.kind[side](0) == on && p.kind[side](last) == on
}

// shrunk reports whether a side is a point.
func (p patch) shrunk(side int) bool { return p.kind[side](0) == nothing }

// number makes the nodes, in order along the short side, one for all corners of
// a side that has shrunk to a point. It returns the number of a corner.
func (p patch) number(g *grid) (at func(i, j int) int) {
	index := make([]int, (p.m+1)*(p.n+1))
	at = func(i, j int) int { return index[i*(p.n+1)+j] }
	add := func(i, j int) {
		k := i*(p.n+1) + j
		switch {
		case j > 0 && (i == 0 && p.shrunk(west) || i == p.m && p.shrunk(east)):
			index[k] = index[k-1]
		case i > 0 && (j == 0 && p.shrunk(south) || j == p.n && p.shrunk(north)):
			index[k] = at(i-1, j)
		default:
			index[k] = len(g.node)
			g.node = append(g.node, p.at(float64(i), float64(j)))
		}
	}
	if p.n <= p.m || p.shrunk(west) {
		for i := 0; i <= p.m; i++ {
			for j := 0; j <= p.n; j++ {
				add(i, j)
			}
		}
	} else {
		for j := 0; j <= p.n; j++ {
			for i := 0; i <= p.m; i++ {
				add(i, j)
			}
		}
	}
	return at
}

// slope moves the nodes on the axis to where the balance of stress has them.
func (p patch) slope(g *grid, at func(i, j int) int) {
	const steepest = 0.4 // beyond that it is a cone
	g.sloped = append([]Point(nil), g.node...)
	move := func(side, a, b int) {
		d := g.node[a].minus(g.node[b])
		center := p.shrunk(west) && a == at(0, 0)
		if p.whole(side, axis) && !center && math.Abs(d.Z) < steepest*math.Abs(d.R) {
			g.sloped[a].Z += d.Z / 3
		}
	}
	for i := 0; i <= p.m; i++ {
		move(south, at(i, 0), at(i, 1))
		move(north, at(i, p.n), at(i, p.n-1))
	}
	for j := 0; j <= p.n; j++ {
		move(east, at(p.m, j), at(p.m-1, j))
		move(west, at(0, j), at(1, j))
	}
}

// border goes around the patch and lists the sides of elements on the surface,
// and the nodes on a plane of symmetry.
func (p patch) border(g *grid, at func(i, j int) int) {
	onMirror := map[int]bool{}
	side := func(a, b int, k kind, x, y float64) {
		switch k {
		case open, closed:
			g.edges = append(g.edges, edge{a, b, k, p.at(x, y)})
		case mirror:
			for _, x := range [2]int{a, b} {
				if !onMirror[x] {
					onMirror[x] = true
					g.mirror = append(g.mirror, x)
				}
			}
		}
	}
	for i := range p.m {
		side(at(i, 0), at(i+1, 0), p.kind[south](i), float64(i)+0.5, 0)
	}
	for j := range p.n {
		side(at(p.m, j), at(p.m, j+1), p.kind[east](j), float64(p.m), float64(j)+0.5)
	}
	for i := p.m - 1; i >= 0; i-- {
		side(at(i+1, p.n), at(i, p.n), p.kind[north](i), float64(i)+0.5, float64(p.n))
	}
	for j := p.n - 1; j >= 0; j-- {
		side(at(0, j+1), at(0, j), p.kind[west](j), 0, float64(j)+0.5)
	}
}

// join turns the list of edges so that a surface that is one chain begins at
// its beginning.
func (g *grid) join() {
	for i, e := range g.edges {
		before := g.edges[(i+len(g.edges)-1)%len(g.edges)]
		if before.b != e.a {
			g.edges = append(append([]edge(nil), g.edges[i:]...), g.edges[:i]...)
			return
		}
	}
}

func bad(format string, args ...any) error {
	return fmt.Errorf("%w: %s", sim.ErrProblem, fmt.Sprintf(format, args...))
}
