package axial

import (
	"math"
	"sync"
)

// Body is a body of revolution. Make one with Disc, Lens, Rod, Tube, Sphere,
// flatSphere, Dome or Profile.
type Body struct {
	mesh func(cells int) (*grid, error)
}

// Kept is the body with its mesh made once for a number of cells, for who runs it
// many times.
func (b Body) Kept() Body {
	var lock sync.Mutex
	known := map[int]*grid{}
	return Body{func(cells int) (*grid, error) {
		lock.Lock()
		defer lock.Unlock()
		if g := known[cells]; g != nil {
			return g, nil
		}
		g, err := b.mesh(cells)
		if err == nil {
			known[cells] = g
		}
		return g, err
	}}
}

func positive(name string, x float64) error {
	if !(x > 0) || math.IsInf(x, 1) {
		return bad("%s %g m must be positive and finite", name, x)
	}
	return nil
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// graded returns n+1 places from 0 to length of which the last interval is
// last [m], each the same multiple of the one before; even if last is no shorter
// than that.
func graded(n int, length, last float64) []float64 {
	out := make([]float64, n+1)
	even := length / float64(n)
	if last >= even {
		for i := range out {
			out[i] = even * float64(i)
		}
		out[n] = length
		return out
	}
	// length = last (1 + q + … + q^(n−1)), from the far end
	sum := func(q float64) float64 { return (math.Pow(q, float64(n)) - 1) / (q - 1) }
	lo, hi := 1+1e-9, 2.0
	for last*sum(hi) < length {
		hi *= 2
	}
	for range 100 {
		if q := 0.5 * (lo + hi); last*sum(q) < length {
			lo = q
		} else {
			hi = q
		}
	}
	x, step := length, last
	for i := n; i >= 0; i-- {
		out[i] = x
		x -= step
		step *= lo
	}
	out[0] = 0
	return out
}

// between returns the value of a list at an index between two of its own.
func between(list []float64, index float64) float64 {
	i := min(int(index), len(list)-2)
	w := index - float64(i)
	return list[i] + w*(list[i+1]-list[i])
}

// cellsOf shares cells × cells among the two directions of a section of the
// given width and height: more the long way, up to three times as many.
func cellsOf(cells int, width, height float64) (m, n int) {
	more := math.Sqrt(math.Max(1.0/3, math.Min(3, math.Sqrt(width/height))))
	return max(4, int(float64(cells)*more+0.5)), max(4, int(float64(cells)/more+0.5))
}

// toEdge returns n+1 places from 0 to length, finer toward an edge at the end: the
// last interval is like that across the thickness of the piece, but at least a
// quarter and at most half of an even one.
func toEdge(n int, length, across float64) []float64 {
	even := length / float64(n)
	return graded(n, length, math.Max(0.25*even, math.Min(0.5*even, across)))
}

// block is a rectangle from radius inner to outer; a raised one is cut at its
// middle height, a plane of symmetry.
func block(inner, outer, height float64, onShelf, boreOpen bool) Body {
	return Body{func(cells int) (*grid, error) {
		z := height
		south := closed
		if !onShelf {
			z, south = height/2, mirror
		}
		wall := outer - inner
		m, n := cellsOf(cells, wall, z)
		west := axis
		rs := toEdge(m, wall, z/float64(n))
		zs := toEdge(n, z, wall/float64(m))
		if inner > 0 {
			west = closed
			if boreOpen {
				west = open
			}
			rs = graded(m, wall, wall)
		}
		if onShelf { // an edge at both ends
			zs = graded(n, z, z)
		}
		return patch{m: m, n: n,
			at:   func(i, j float64) Point { return Point{inner + between(rs, i), between(zs, j)} },
			kind: [4]func(int) kind{all[int](south), all[int](open), all[int](open), all[int](west)}}.mesh(), nil
	}}
}

// Disc is a disc or flat pendant: diameter, thickness and the radius to which
// the edge of its rim is rounded [m], 0 for a sharp one. On a shelf its base
// passes no heat, and it is free to bend.
func Disc(diameter, thickness, rimRadius float64, onShelf bool) Body {
	if err := firstError(positive("diameter", diameter), positive("thickness", thickness)); err != nil {
		return refused(err)
	}
	if rimRadius == 0 {
		return block(0, diameter/2, thickness, onShelf, false)
	}
	switch {
	case !(rimRadius > 0 && rimRadius <= thickness/2 && rimRadius <= diameter/2):
		return refused(bad("rim radius %g m must lie between 0 and half the thickness and half the diameter", rimRadius))
	case onShelf:
		points := []Point{{0, 0}}
		const arc = 8
		for _, c := range []struct{ z, from float64 }{{rimRadius, -math.Pi / 2}, {thickness - rimRadius, 0}} {
			for k := 0; k <= arc; k++ {
				sin, cos := math.Sincos(c.from + math.Pi/2*float64(k)/arc)
				points = append(points, Point{diameter/2 - rimRadius + rimRadius*cos, c.z + rimRadius*sin})
			}
		}
		return Profile(append(points, Point{0, thickness}), true)
	}
	flat := diameter/2 - rimRadius
	return lid(diameter/2, false, func(s float64) Point {
		// s runs along the upper face and the rounding
		if length := flat + rimRadius*math.Pi/2; s*length <= flat {
			return Point{s * length, thickness / 2}
		} else {
			sin, cos := math.Sincos((s*length - flat) / rimRadius)
			return Point{flat + rimRadius*sin, thickness/2 - rimRadius*(1-cos)}
		}
	})
}

func refused(err error) Body {
	return Body{func(int) (*grid, error) { return nil, err }}
}

// lid is a body under the curve at(s), s from 0 on the axis to 1 at the rim, and
// its mirror image below the plane z = 0, which passes no heat on a shelf.
func lid(radius float64, onShelf bool, at func(s float64) Point) Body {
	return Body{func(cells int) (*grid, error) {
		height, below, south := at(0).Z, 0.0, mirror
		if onShelf {
			height, below, south = 2*height, -1, closed
		}
		m, n := cellsOf(cells, radius, height)
		s := toEdge(m, 1, 0)
		return patch{m: m, n: n,
			at: func(i, j float64) Point {
				top := at(between(s, i))
				switch i {
				case 0:
					top.R = 0
				case float64(m):
					top.R = radius
				}
				return Point{top.R, top.Z * (below + (1-below)*j/float64(n))}
			},
			kind: [4]func(int) kind{all[int](south), all[int](open), all[int](open), all[int](axis)}}.mesh(), nil
	}}
}

// Lens is a pendant with two spherical caps on a rim band of 0.12 of its
// thickness. On a shelf all of its lower half passes no heat, which is more than a
// shelf keeps back that it touches in one place: a bound.
func Lens(diameter, thickness float64, onShelf bool) Body {
	if err := firstError(positive("diameter", diameter), positive("thickness", thickness)); err != nil {
		return refused(err)
	}
	if thickness > diameter {
		return refused(bad("a lens %g m thick and %g m wide is none: it must be wider than thick", thickness, diameter))
	}
	radius, band := diameter/2, 0.12*thickness
	h := (thickness - band) / 2
	rc := (radius*radius + h*h) / (2 * h)
	angle := math.Asin(radius / rc)
	return lid(radius, onShelf, func(s float64) Point {
		sin, cos := math.Sincos(s * angle)
		return Point{rc * sin, thickness/2 - rc*(1-cos)}
	})
}

// Rod is a cylinder that hangs free: diameter and length [m].
func Rod(diameter, length float64) Body {
	if err := firstError(positive("diameter", diameter), positive("length", length)); err != nil {
		return refused(err)
	}
	return block(0, diameter/2, length, false, false)
}

// Tube is a tube that hangs free: outer diameter, wall and length [m]. Its bore
// exchanges heat as the outside does when boreOpen, and passes none otherwise.
func Tube(diameter, wall, length float64, boreOpen bool) Body {
	if err := firstError(positive("diameter", diameter), positive("wall", wall), positive("length", length)); err != nil {
		return refused(err)
	}
	if 2*wall >= diameter {
		return refused(bad("wall %g m must be less than half the diameter %g m", wall, diameter))
	}
	return block(diameter/2-wall, diameter/2, length, false, boreOpen)
}

// star is a body seen from a point on its axis, whose outline at(s) runs from
// the lowest point of the axis, s = 0, to the highest, s = 1; borders says what
// on at s. Stop, unless 0, is a value of s that must be a node; the last side
// before it on each hand is the given share of an even one.
func star(center float64, at func(s float64) Point, borders func(s float64) kind, stop, share float64) Body {
	return Body{func(n int) (*grid, error) {
		s := divided(n, stop, share)
		p := patch{m: n, n: n, at: func(i, j float64) Point {
			c, o := Point{0, center}, at(between(s, j))
			if j == 0 || j == float64(n) {
				o.R = 0
			}
			return c.toward(o, i/float64(n))
		}}
		p.kind = [4]func(int) kind{all[int](axis), func(j int) kind { return borders(0.5 * (s[j] + s[j+1])) }, all[int](axis), all[int](nothing)}
		return p.mesh(), nil
	}}
}

// divided returns n+1 values from 0 to 1 among which is the stop; both parts get
// cells by the root of their length.
func divided(n int, stop, share float64) []float64 {
	if stop == 0 {
		return graded(n, 1, 1)
	}
	a, b := math.Sqrt(stop), math.Sqrt(1-stop)
	below := min(max(2, int(float64(n)*a/(a+b)+0.5)), n-2)
	above := n - below
	out := graded(below, stop, share*stop/float64(below))
	out[below] = stop
	rest := graded(above, 1-stop, share*(1-stop)/float64(above))
	for i := above - 1; i >= 0; i-- {
		out = append(out, 1-rest[i])
	}
	return out
}

// sphere is a sphere of which a cap around the lowest point, of the given polar
// half-angle in degrees, passes no heat; 0 for one that hangs free.
func sphere(diameter, capDegrees float64) Body {
	if err := positive("diameter", diameter); err != nil {
		return refused(err)
	}
	if !(capDegrees >= 0 && capDegrees < 180) {
		return refused(bad("half-angle %g° of the cap must lie between 0° and 180°", capDegrees))
	}
	at := func(s float64) Point {
		sin, cos := math.Sincos(math.Pi * s)
		return Point{diameter / 2 * sin, -diameter / 2 * cos}
	}
	if capDegrees == 0 {
		return star(0, at, all[float64](open), 0, 1)
	}
	edge := capDegrees / 180
	return star(0, at, func(s float64) kind {
		if s < edge {
			return closed
		}
		return open
	}, edge, 0.3)
}

// flatSphere is a sphere with a flat, cut at the given share of its radius below
// the center; on a shelf the flat passes no heat.
func flatSphere(diameter, cut float64, onShelf bool) Body {
	if err := positive("diameter", diameter); err != nil {
		return refused(err)
	}
	if !(cut > 0 && cut < 1) {
		return refused(bad("flat cut at %g of the radius: must lie between 0 and 1", cut))
	}
	radius := diameter / 2
	angle := math.Acos(cut) // of the flat's edge, from below
	edge := angle / math.Pi
	return star(0, func(s float64) Point {
		sin, cos := math.Sincos(math.Pi * s)
		if s <= edge {
			return Point{radius * cut * sin / cos, -radius * cut}
		}
		return Point{radius * sin, -radius * cos}
	}, baseKind(edge, onShelf), edge, 0.3)
}

// baseKind is closed below the stop on a shelf, and open elsewhere.
func baseKind(stop float64, onShelf bool) func(float64) kind {
	return func(s float64) kind {
		if s < stop && onShelf {
			return closed
		}
		return open
	}
}

// Dome is a spherical cap on its flat base: width of the base and height [m],
// at most a hemisphere. On a shelf the base passes no heat.
// One flatter than half a hemisphere needs 24 cells: 12 overstate what is left
// by up to a fourth.
func Dome(width, height float64, onShelf bool) Body {
	if err := firstError(positive("width", width), positive("height", height)); err != nil {
		return refused(err)
	}
	radius := width / 2
	if height > radius*(1+1e-9) {
		return refused(bad("a dome %g m high on a base %g m wide is more than a hemisphere: use FlatSphere or Profile", height, width))
	}
	ball := (radius*radius + height*height) / (2 * height)
	angle := math.Asin(math.Min(1, radius/ball))
	edge := radius / (radius + ball*angle) // of the outline is base
	return star(0.4*height, func(s float64) Point {
		if s <= edge {
			return Point{radius * s / edge, 0}
		}
		sin, cos := math.Sincos(angle * (1 - s) / (1 - edge))
		return Point{ball * sin, height - ball*(1-cos)}
	}, baseKind(edge, onShelf), edge, 0.6)
}

// Check reports why the body cannot be meshed, nil if it can; the error wraps
// sim.ErrProblem.
func (b Body) Check() error {
	_, err := b.mesh(12)
	return err
}
