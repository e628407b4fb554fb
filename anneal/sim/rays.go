package sim

import "math"

// Layer is a closed surface inside a piece that light does not pass. Inside it
// heat is conducted only.
type Layer struct {
	// Rho is its relative depth: 0 none in a sphere or cylinder, and the closed
	// face or the middle of a slab; below 1.
	Rho float64
	// Black says that it absorbs all and emits; otherwise it is a mirror.
	Black bool
}

// Light is how heat radiates inside one body of one glass: a matrix for each
// band that gives the radiant heat through every volume face from the emission
// at the nodes and of the kiln. Make it with [NewLight], once for a size and a
// glass; runs share it and do not change it, also at the same time.
//
// Of two glasses the one in which less heat radiates is left with more stress.
// The tension while it cools is not ordered so: where it is not known how clear a
// piece is, run it clear, dark and opaque and take the greatest of each. A tube
// has no Light: dark glass and opaque, by their conductivity, enclose it.
type Light struct {
	body   Body
	optics Optics
	r      []float64     // the nodes [m]
	gain   [][][]float64 // by band and node: what the volume gains [m² per unit of area or angle] per emission of node j; last the kiln
	out    [][]float64   // by band: the same for the outward heat through the cooled face
}

// NewLight traces the rays of a sphere, a solid cylinder or a slab. cells is
// their number between the innermost point and the surface (default 16, good to
// 1 % of peak and left stress from 3 to 300 mm and 1 to 2000 °C/h). It takes half
// a millisecond, a cylinder ten times that.
//
// In a sphere with a smooth surface a ray keeps its distance from the center
// through every reflection, in a slab its direction, in a long cylinder its
// distance from the axis and its slope to it. So each ray closes on itself, and
// the intensity on it follows without iteration from the sources it passes:
//
//	over a piece of optical thickness τ:  I' = I e^−τ + S_a (f − e^−τ) + S_b (1 − f),  f = (1 − e^−τ)/τ
//	entering the surface:                 I = (ρ I⁰ + (1 − ρ) e_kiln) / (1 − ρ t)
//
// with I⁰ what arrives when nothing enters, t what the chord lets through and ρ
// what the surface reflects. The heat outward through r, times its area, is
//
//	sphere    2n² ∫ (I⁺ − I⁻) p dp            p to r
//	cylinder  4n²/π ∫ sin²θ dθ ∫ (I⁺ − I⁻) dp  θ to π/2
//	slab      2n² ∫ (I⁺ − I⁻) µ dµ            µ to 1
//
// The middle or closed face of a slab is a plane of symmetry.
//
// Errors wrap [ErrProblem]: a tube, whose bore breaks the rays, has no Light,
// nor has a layer outside the body.
//
// Source: the equation of transfer [memory]; checked against an independent
// Monte Carlo of 4 million rays (testdata/cases/radiation.toml).
func NewLight(b Body, o Optics, in Layer, cells int) (*Light, error) {
	if cells == 0 {
		cells = 16
	}
	switch {
	case b.Form < Slab || b.Form > Sphere || !positive(b.Outer):
		return nil, bad("light: size %g m of form %d", b.Outer, b.Form)
	case b.Inner != 0:
		return nil, bad("light inside a tube is not computed")
	case !(in.Rho >= 0 && in.Rho < 1):
		return nil, bad("layer at relative depth %g must lie from 0 to below 1", in.Rho)
	case cells < 4 || cells > 400:
		return nil, bad("light: %d cells, want 4 to 400", cells)
	}
	if err := o.check(); err != nil {
		return nil, err
	}
	l := &Light{body: b, optics: o, r: layered(b.Outer, in.Rho, cells)}
	t := newTracer(l, in)
	switch b.Form {
	case Slab:
		t.slab()
	case Sphere:
		t.bundle(1, 2*o.Index*o.Index)
	case Cylinder:
		// Steeper to the axis than the critical angle no ray leaves.
		steep := math.Asin(math.Sqrt(1 - 1/(o.Index*o.Index)))
		slope := func(x, w []float64, from, to float64) {
			half := (to - from) / 2
			for i := range x {
				sin := math.Sin(from + half*(1+x[i]))
				t.bundle(sin, 4*o.Index*o.Index/math.Pi*sin*sin*w[i]*half)
			}
		}
		slope(gauss3.x, gauss3.w, 0, steep)
		slope(gauss8.x, gauss8.w, steep, math.Pi/2)
	}
	t.finish()
	return l, nil
}

// layered returns nodes of which one lies on the layer, closer together toward
// the surface, where the bands that absorb most are at work.
func layered(outer, rho float64, cells int) []float64 {
	r := make([]float64, 1, cells+1)
	inside := 0
	if rho > 0 {
		inside = min(max(int(math.Round(rho*float64(cells))), 2), cells-2)
		for i := 1; i <= inside; i++ {
			r = append(r, outer*rho*float64(i)/float64(inside))
		}
	}
	for _, gap := range spacing(outer*(1-rho), cells-inside, lightDraw, false) {
		r = append(r, r[len(r)-1]+gap)
	}
	r[cells] = outer
	return r
}

// lightDraw is the innermost cell over the one at the surface.
const lightDraw = 2.5

// station is a place on a ray: a node or a volume face.
type station struct {
	r    float64
	node int     // the source is (1−w) of this node and w of the next
	w    float64 // 0 on a node
	face int     // 1 to n+1, or 0
}

// tracer adds up rays.
type tracer struct {
	l     *Light
	in    Layer
	depth float64       // radius of the layer
	at    []station     // from the surface inward
	flux  [][][]float64 // by band and face 1 to n+1: heat outward, by column
	// of one ray
	path    []float64 // along the ray to the turning point, per station
	x, in0  [][]float64
	through []float64 // transmission from the surface to a station, inward
	fade, f []float64
}

func newTracer(l *Light, in Layer) *tracer {
	n := len(l.r) - 1
	t := &tracer{l: l, in: in, depth: in.Rho * l.body.Outer}
	for i := n; i >= 0; i-- {
		if i == n {
			t.at = append(t.at, station{l.r[n], n, 0, n + 1})
		} else {
			a, b := l.r[i], l.r[i+1]
			mid := 0.5 * (a + b)
			t.at = append(t.at, station{mid, i, t.between(mid, i), i + 1}, station{a, i, 0, 0})
		}
	}
	t.flux = make([][][]float64, len(l.optics.Bands))
	for b := range t.flux {
		t.flux[b] = grid(n+2, n+2)
	}
	t.path, t.fade, t.f, t.through = make([]float64, len(t.at)+1), make([]float64, len(t.at)+1), make([]float64, len(t.at)+1), make([]float64, len(t.at)+1)
	t.in0 = grid(n+2, n+2)
	t.x = grid(2, n+2)
	return t
}

func grid(rows, columns int) [][]float64 {
	buf := make([]float64, rows*columns)
	out := make([][]float64, rows)
	for i := range out {
		out[i] = buf[i*columns : (i+1)*columns : (i+1)*columns]
	}
	return out
}

// between returns the weight of node i+1 in the source at r, even in r² as a
// parabola of temperature is; in a slab even in r.
func (t *tracer) between(r float64, i int) float64 {
	a, b := t.l.r[i], t.l.r[i+1]
	if t.l.body.Form == Slab {
		return (r - a) / (b - a)
	}
	return (r*r - a*a) / (b*b - a*a)
}

// slab sums the directions, split where total reflection begins.
func (t *tracer) slab() {
	n := t.l.optics.Index
	critical := math.Sqrt(1 - 1/(n*n))
	last := len(t.at) - 1
	for t.at[last].r < t.depth*(1-1e-12) {
		last--
	}
	for _, part := range [5][2]float64{{0, critical / 4}, {critical / 4, critical}, {critical, critical + (1-critical)/8},
		{critical + (1-critical)/8, critical + (1-critical)/2}, {critical + (1-critical)/2, 1}} {
		half := (part[1] - part[0]) / 2
		for i, x := range gauss8.x {
			mu := part[0] + half*(1+x)
			for k, s := range t.at {
				t.path[k] = s.r / mu
			}
			t.ray(last, station{}, reflectivity(n, mu), 2*n*n*gauss8.w[i]*half*mu)
		}
	}
}

// bundle sums the rays of one slope to the axis over their distance p from the
// center, between neighboring stations with p = b sin ψ, which takes the root
// out of the path of rays that just touch b.
func (t *tracer) bundle(sin, weight float64) {
	n := t.l.optics.Index
	R := t.l.body.Outer
	// Total reflection begins where sin √(1 − p²/R²) = √(1 − 1/n²).
	critical := -1.0
	if c := (1 - 1/(n*n)) / (sin * sin); c < 1 {
		critical = R * math.Sqrt(1-c)
	}
	last := len(t.at) - 1
	for k := last; k > 0; k-- { // between station k and the next outward
		from, to := t.at[k].r, t.at[k-1].r
		ends := []float64{from, to}
		if critical > from*(1+1e-12) && critical < to*(1-1e-12) {
			ends = []float64{from, critical, to}
		}
		for e := 1; e < len(ends); e++ {
			a, b := ends[e-1], ends[e]
			low := math.Asin(a / b)
			half := (math.Pi/2 - low) / 2
			for i, x := range gauss3.x {
				psi := low + half*(1+x)
				p := b * math.Sin(psi)
				w := weight * gauss3.w[i] * half * b * math.Cos(psi)
				if t.l.body.Form == Sphere {
					w *= p
				}
				reflects := reflectivity(n, sin*math.Sqrt(max(0, 1-p*p/(R*R))))
				t.chord(k, p, sin, reflects, w)
			}
		}
	}
}

// chord follows the ray at the distance p, which lies between station k and the
// next outward, or turns at the layer.
func (t *tracer) chord(k int, p, sin, reflects, weight float64) {
	last := k - 1 // the innermost station it passes
	turn := station{}
	if p < t.depth {
		for last = k; t.at[last].r < t.depth*(1-1e-12); last-- {
		}
	}
	for i := 0; i <= last; i++ {
		t.path[i] = math.Sqrt(t.at[i].r*t.at[i].r-p*p) / sin
	}
	if p >= t.depth {
		i := t.at[k].node
		turn = station{r: p, node: i, w: t.between(p, i)}
		t.path[last+1] = 0
		t.ray(last, turn, reflects, weight)
		return
	}
	t.ray(last, station{}, reflects, weight)
}

// ray adds one ray that passes the stations from the surface to number last
// and, when turn has a radius, turns there; otherwise it turns at the last. No
// ray turns at a volume face.
func (t *tracer) ray(last int, turn station, reflects, weight float64) {
	black := turn.r == 0 && t.in.Black && (t.in.Rho > 0 || t.l.body.Form == Slab)
	pieces := last
	if turn.r > 0 {
		pieces++
	}
	station := func(i int) *station {
		if i > last {
			return &turn
		}
		return &t.at[i]
	}
	for b, band := range t.l.optics.Bands {
		x, entering, flux := t.x[0], t.x[1], t.flux[b]
		clear(x)
		t.through[0] = 1
		kiln := len(x) - 1
		clear(t.in0[t.at[0].face])
		for i := range pieces { // inward
			tau := band.Absorption * (t.path[i] - t.path[i+1])
			fade, f := faded(tau)
			t.fade[i], t.f[i] = fade, f
			t.through[i+1] = t.through[i] * fade
			to := station(i + 1)
			pass(x, fade, f, station(i), to)
			if to.face > 0 {
				copy(t.in0[to.face], x)
			}
		}
		through := t.through[pieces]
		if black {
			clear(x)
			through = 0
			source(x, 1, station(pieces))
		}
		for i := pieces - 1; i >= 0; i-- { // outward, with nothing entering
			pass(x, t.fade[i], t.f[i], station(i+1), station(i))
			through *= t.fade[i]
			if s := station(i); s.face > 0 {
				add(flux[s.face], weight, x, t.in0[s.face])
			}
		}
		// Closing: entering = (ρ I⁰ + (1−ρ) e_kiln)/(1 − ρ t).
		share := 1 / (1 - reflects*through)
		for j, v := range x {
			entering[j] = reflects * share * v
		}
		entering[kiln] += (1 - reflects) * share
		add(flux[t.at[0].face], weight*(through-1), entering, nil)
		back := t.through[pieces]
		if black {
			back = 0
		}
		for i := pieces - 1; i > 0; i-- {
			back *= t.fade[i]
			if s := station(i); s.face > 0 {
				add(flux[s.face], weight*(back-t.through[i]), entering, nil)
			}
		}
	}
}

// faded returns e^−τ and (1 − e^−τ)/τ.
func faded(tau float64) (fade, f float64) {
	if tau < 1e-4 {
		f = 1 - tau/2*(1-tau/3)
		return 1 - tau*f, f
	}
	fade = math.Exp(-tau)
	return fade, -math.Expm1(-tau) / tau
}

// pass takes the intensity from one station to the next.
func pass(x []float64, fade, f float64, from, to *station) {
	for j := range x {
		x[j] *= fade
	}
	source(x, f-fade, from)
	source(x, 1-f, to)
}

func source(x []float64, weight float64, s *station) {
	x[s.node] += weight * (1 - s.w)
	if s.w != 0 {
		x[s.node+1] += weight * s.w
	}
}

// add adds weight (x − y) to sum.
func add(sum []float64, weight float64, x, y []float64) {
	if y == nil {
		for j, v := range x {
			sum[j] += weight * v
		}
		return
	}
	for j, v := range x {
		sum[j] += weight * (v - y[j])
	}
}

// finish turns the heat through the faces into what each volume gains. Face 0
// is the center, the middle or the closed face.
func (t *tracer) finish() {
	n := len(t.l.r) - 1
	for _, flux := range t.flux {
		gain := grid(n+1, n+2)
		for i := range gain {
			for j := range gain[i] {
				gain[i][j] = flux[i][j] - flux[i+1][j]
			}
		}
		t.l.gain = append(t.l.gain, gain)
		t.l.out = append(t.l.out, flux[n+1])
	}
}

// gauss3 and gauss8 are the points and weights of Gauss and Legendre on −1..1.
var (
	gauss3 = struct{ x, w []float64 }{
		[]float64{-0.7745966692414834, 0, 0.7745966692414834},
		[]float64{5.0 / 9, 8.0 / 9, 5.0 / 9}}
	gauss8 = struct{ x, w []float64 }{
		[]float64{-0.9602898564975363, -0.7966664774136267, -0.5255324099163290, -0.1834346424956498,
			0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363},
		[]float64{0.1012285362903763, 0.2223810344533745, 0.3137066458778873, 0.3626837833783620,
			0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763}}
)
