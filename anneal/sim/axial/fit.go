package axial

import (
	"math"
	"slices"
	"sort"
)

// fit cuts an outline into a mesh: rays from a point on the axis, or a square
// whose corners are four of its points, whichever has the better worst angle.
func fit(outline []Point, cells int, borders func(a, b Point) kind) (*grid, error) {
	const (
		trial  = 12  // cells with which the ways are compared
		good   = 0.3 // sine of an angle: no need to look for better
		least  = 0.1
		refine = 12 // ways that are worth being smoothed
	)
	var ways []way
	for _, c := range centers(outline) {
		ways = append(ways, way{outline: outline, center: c})
	}
	for _, corners := range quadruples(outline) {
		ways = append(ways, way{outline: outline, corner: corners, square: true})
		ways = append(ways, way{outline: outline, corner: corners, square: true, level: true})
	}
	rank := func() {
		for i := range ways {
			ways[i].worst = worst(ways[i].nodes(trial))
		}
		sort.SliceStable(ways, func(i, j int) bool { return ways[i].worst > ways[j].worst })
	}
	rank()
	if len(ways) > 0 && ways[0].worst < good {
		ways = ways[:min(refine, len(ways))]
		for _, w := range ways {
			if w.square {
				w.smooth = true
				ways = append(ways, w)
			}
		}
		rank()
	}
	if len(ways) == 0 || ways[0].worst < least {
		return nil, badProfile("no mesh of four sides fits it; leave out small details, or take its parts as pieces of their own")
	}
	x := ways[0].nodes(cells)
	if worst(x) < least/2 {
		return nil, badProfile("%d cells are too few for its %d sides", cells, len(outline))
	}
	return ways[0].mesh(x, borders), nil
}

// way is one way to map a square to the outline.
type way struct {
	outline []Point
	center  float64 // height from which rays go
	square  bool    // no rays, but
	corner  [4]int  // of the square, points of the outline in order
	level   bool    // a straight side is cut across from the points of the other
	smooth  bool
	worst   float64
}

// nodes returns the nodes of the mesh, or nil where the way does not work.
func (w *way) nodes(cells int) [][]Point {
	if !w.square {
		return w.rays(cells)
	}
	var side [4][]Point
	for k := range side {
		for i := w.corner[k]; ; i = (i + 1) % len(w.outline) {
			side[k] = append(side[k], w.outline[i])
			if i == w.corner[(k+1)%4] {
				break
			}
		}
	}
	slices.Reverse(side[2]) // north and west run with south and east
	slices.Reverse(side[3])
	m, n := cellsOf(cells, length(side[0])+length(side[2]), length(side[1])+length(side[3]))
	for k, size := range [4]int{m, n, m, n} {
		if len(corners(side[k]))-1 > size {
			return nil
		}
	}
	south, north := opposite(side[0], side[2], m, w.level)
	east, west := opposite(side[1], side[3], n, w.level)
	x := spanned(south, east, north, west)
	if w.smooth {
		relaxed(x)
	}
	return x
}

// worst returns the smallest sine of a corner's angle, 0 or less where the mesh
// is folded or there is none.
func worst(x [][]Point) float64 {
	if x == nil {
		return -1
	}
	least := 1.0
	corner := func(at, next, before Point) {
		u, v := next.minus(at), before.minus(at)
		if l := u.length() * v.length(); l > 0 {
			least = math.Min(least, u.cross(v)/l)
		}
	}
	for i := range len(x) - 1 {
		for j := range len(x[i]) - 1 {
			a, b, c, d := x[i][j], x[i+1][j], x[i+1][j+1], x[i][j+1]
			corner(a, b, d)
			corner(b, c, a)
			corner(c, d, b)
			corner(d, a, c)
		}
	}
	return least
}

// mesh makes a grid of the nodes.
func (w *way) mesh(x [][]Point, borders func(a, b Point) kind) *grid {
	m, n := len(x)-1, len(x[0])-1
	p := patch{m: m, n: n, at: func(i, j float64) Point {
		i0, j0 := min(int(i), m-1), min(int(j), n-1)
		u, v := i-float64(i0), j-float64(j0)
		return x[i0][j0].toward(x[i0+1][j0], u).toward(x[i0][j0+1].toward(x[i0+1][j0+1], u), v)
	}}
	p.kind = [4]func(int) kind{
		func(i int) kind { return borders(x[i][0], x[i+1][0]) },
		func(j int) kind { return borders(x[m][j], x[m][j+1]) },
		func(i int) kind { return borders(x[i][n], x[i+1][n]) },
		func(j int) kind { return borders(x[0][j], x[0][j+1]) },
	}
	if !w.square {
		p.kind[3] = all[int](nothing)
	}
	return p.mesh()
}

func length(side []Point) (l float64) {
	for i := 1; i < len(side); i++ {
		l += side[i].minus(side[i-1]).length()
	}
	return l
}

// fractions returns the places of some of a side's points along it, 0 to 1.
func fractions(side []Point, at []int) []float64 {
	all, out := length(side), make([]float64, len(at))
	for i, k := range at {
		out[i] = length(side[:k+1]) / all
	}
	return out
}

// every returns the indices of all points.
func every(side []Point) []int {
	out := make([]int, len(side))
	for i := range out {
		out[i] = i
	}
	return out
}

// opposite cuts two opposite sides into n cells each, their corners among the
// ends. Sides of as many corners have them at the same cells; level gives a
// straight side points where the corners of the other are square to it.
func opposite(a, b []Point, n int, level bool) (x, y []Point) {
	ca, cb := corners(a), corners(b)
	if level {
		a, ca, b, cb = across(a, ca, b, cb)
	}
	fa, fb := fractions(a, ca), fractions(b, cb)
	if len(fa) == len(fb) {
		for i := range fa {
			fa[i] = 0.5 * (fa[i] + fb[i])
		}
		fb = fa
	}
	return placed(a, ca, stops(fa, n)), placed(b, cb, stops(fb, n))
}

// across gives the side that is straight points square to the corners of the
// other, if they follow one another.
func across(a []Point, ca []int, b []Point, cb []int) ([]Point, []int, []Point, []int) {
	square := func(side, other []Point, corner []int) ([]Point, []int) {
		u := side[1].minus(side[0])
		out := side[:1:1]
		last := 0.0
		for _, c := range corner[1 : len(corner)-1] {
			const apart = 0.02
			t := other[c].minus(side[0]).dot(u) / u.dot(u)
			if t < last+apart || t > 1-apart {
				return side, []int{0, 1}
			}
			out = append(out, side[0].toward(side[1], t))
			last = t
		}
		out = append(out, side[1])
		return out, every(out)
	}
	switch {
	case len(a) == 2 && len(cb) > 2:
		a, ca = square(a, b, cb)
	case len(b) == 2 && len(ca) > 2:
		b, cb = square(b, a, ca)
	}
	return a, ca, b, cb
}

// stops gives each fraction a whole number of n cells, all different.
func stops(fraction []float64, n int) []int {
	last := len(fraction) - 1
	out := make([]int, len(fraction))
	out[last] = n
	for i := 1; i < last; i++ {
		out[i] = max(int(fraction[i]*float64(n)+0.5), out[i-1]+1)
	}
	for i := last - 1; i > 0; i-- {
		out[i] = min(out[i], out[i+1]-1)
	}
	return out
}

// placed cuts a side into cells of even length between its stops.
func placed(side []Point, stop []int, at []int) []Point {
	along := make([]float64, len(side))
	for i := 1; i < len(side); i++ {
		along[i] = along[i-1] + side[i].minus(side[i-1]).length()
	}
	out := []Point{side[0]}
	piece := 0
	for i := 1; i < len(stop); i++ {
		k := at[i] - at[i-1]
		from, to := along[stop[i-1]], along[stop[i]]
		for c := 1; c <= k; c++ {
			s := from + (to-from)*float64(c)/float64(k)
			for piece < len(side)-2 && along[piece+1] < s {
				piece++
			}
			out = append(out, side[piece].toward(side[piece+1], (s-along[piece])/(along[piece+1]-along[piece])))
		}
		out[len(out)-1] = side[stop[i]]
	}
	return out
}

// corners returns the points of a side that must be nodes: its ends, and where
// it turns sharply or meets the axis. Between them it is a curve.
func corners(side []Point) []int {
	const sharp = 25 * math.Pi / 180
	out := []int{0}
	for i := 1; i < len(side)-1; i++ {
		u, v := side[i].minus(side[i-1]), side[i+1].minus(side[i])
		if math.Abs(math.Atan2(u.cross(v), u.dot(v))) > sharp || side[i].R == 0 {
			out = append(out, i)
		}
	}
	return append(out, len(side)-1)
}

// spanned fills the square between its sides: Coons's bilinear blend.
func spanned(south, east, north, west []Point) [][]Point {
	m, n := len(south)-1, len(east)-1
	fs, fn := fractions(south, every(south)), fractions(north, every(north))
	fe, fw := fractions(east, every(east)), fractions(west, every(west))
	x := make([][]Point, m+1)
	for i := range x {
		x[i] = make([]Point, n+1)
		for j := range x[i] {
			v0 := float64(j) / float64(n)
			u := fs[i] + v0*(fn[i]-fs[i])
			v := fw[j] + u*(fe[j]-fw[j])
			a, b := south[i].toward(north[i], v), west[j].toward(east[j], u)
			c := south[0].toward(south[m], u).toward(north[0].toward(north[m], u), v)
			x[i][j] = Point{a.R + b.R - c.R, a.Z + b.Z - c.Z}
		}
	}
	for i := range x {
		x[i][0], x[i][n] = south[i], north[i]
	}
	for j := range x[0] {
		x[0][j], x[m][j] = west[j], east[j]
	}
	return x
}

// relaxed moves the inner nodes until the square's coordinates are harmonic in
// the section (Winslow's equations), which does not fold.
func relaxed(x [][]Point) {
	m, n := len(x)-1, len(x[0])-1
	for range 60 {
		for i := 1; i < m; i++ {
			for j := 1; j < n; j++ {
				w, e, s, o := x[i-1][j], x[i+1][j], x[i][j-1], x[i][j+1]
				xi, eta := e.minus(w), o.minus(s)
				alpha, beta, gamma := eta.dot(eta), xi.dot(eta), xi.dot(xi)
				sum := 2 * (alpha + gamma)
				if sum == 0 {
					continue
				}
				d := Point{x[i+1][j+1].R - x[i-1][j+1].R - x[i+1][j-1].R + x[i-1][j-1].R, x[i+1][j+1].Z - x[i-1][j+1].Z - x[i+1][j-1].Z + x[i-1][j-1].Z}
				x[i][j] = Point{(alpha*(e.R+w.R) + gamma*(o.R+s.R) - 0.5*beta*d.R) / sum,
					(alpha*(e.Z+w.Z) + gamma*(o.Z+s.Z) - 0.5*beta*d.Z) / sum}
			}
		}
	}
}

// quadruples returns the ways to choose four corners, among the points where the
// outline turns most when there are many.
func quadruples(outline []Point) [][4]int {
	const most = 12
	var points []int
	for i := range outline {
		points = append(points, i)
	}
	sharp := func(i int) float64 {
		if outline[i].R == 0 {
			return 10
		}
		return math.Abs(turn(outline, i))
	}
	if len(points) > most {
		sort.SliceStable(points, func(i, j int) bool { return sharp(points[i]) > sharp(points[j]) })
		points = points[:most]
		slices.Sort(points)
	}
	var out [][4]int
	k := len(points)
	for a := 0; a < k; a++ {
		for b := a + 1; b < k; b++ {
			for c := b + 1; c < k; c++ {
				for d := c + 1; d < k; d++ {
					out = append(out, [4]int{points[a], points[b], points[c], points[d]})
				}
			}
		}
	}
	return out
}

// centers returns heights on the axis from which all of the outline is seen.
func centers(outline []Point) (out []float64) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range outline {
		if p.R == 0 {
			low, high = math.Min(low, p.Z), math.Max(high, p.Z)
		}
	}
	for k := 1; k < 10 && high > low; k++ {
		c := Point{0, low + float64(k)/10*(high-low)}
		sees := true
		for i, a := range outline {
			b := outline[(i+1)%len(outline)]
			if a.R == 0 && b.R == 0 {
				continue
			}
			sees = sees && a.minus(c).cross(b.minus(c)) > 0
		}
		if sees {
			out = append(out, c.Z)
		}
	}
	return out
}

// rays returns nodes on rays from the center.
func (w *way) rays(cells int) [][]Point {
	n := len(w.outline)
	first := 0 // the lower point on the axis, from which the outline runs outward
	for i, p := range w.outline {
		if p.R == 0 && w.outline[(i+n-1)%n].R == 0 {
			first = i
		}
	}
	var side []Point
	for k := range n {
		side = append(side, w.outline[(first+k)%n])
	}
	corner := corners(side)
	if len(corner)-1 > cells {
		return nil
	}
	rim := placed(side, corner, stops(fractions(side, corner), cells))
	x := make([][]Point, cells+1)
	for i := range x {
		for _, p := range rim {
			x[i] = append(x[i], Point{0, w.center}.toward(p, float64(i)/float64(cells)))
		}
	}
	return x
}
