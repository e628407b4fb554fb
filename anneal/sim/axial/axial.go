package axial

import (
	"fmt"
	"math"

	"lehr/anneal/sim"
)

// Outcome is what one variant gives.
type Outcome struct {
	Variant sim.Variant
	// Peak is the greatest tension at any time and place [Pa], never negative;
	// PeakTime when [s], PeakAt where.
	Peak, PeakTime float64
	PeakAt         Point
	PeakOnSurface  bool
	// PeakBySpan is the greatest tension in each span between kinks [Pa],
	// SurfaceBySpan the greatest on the surface.
	PeakBySpan, SurfaceBySpan []float64
	// Surface is the greatest tension on the surface while the program runs
	// [Pa], SurfaceTime and SurfaceAt when [s] and where.
	Surface, SurfaceTime float64
	SurfaceAt            Point
	// Residual is the greatest tension once the piece is at room temperature [Pa],
	// ResidualSurface the greatest on the surface, which may be negative.
	Residual, ResidualSurface float64
	ResidualAt                Point
	// Field is the stress that is left, element by element, then node by node
	// of the surface.
	Field []Stress
}

// Stress is the stress at a place [Pa].
type Stress struct {
	At Point
	// Hoop acts around the axis; First and Second are the principal stresses in
	// the section, the greater first. On the surface one of them is zero.
	Hoop, First, Second float64
	Along               float64 // the axis; of a place inside alone
	OnSurface           bool
}

// Result is the answer to a run.
type Result struct {
	Outcomes []Outcome // in the order of Problem.Variants
	// MaxLag is the greatest difference between the hottest and the coldest
	// place [K], MarkLag the difference at Mark.
	MaxLag, MarkLag float64
	Nodes           []Point   // of the mesh
	Temperature     []float64 // of the nodes at the end [K]
	Stats           sim.Stats
}

// Run simulates the body. The problem's own Body is not used; Start gets the
// relative depth below the open surface, 0 for the deepest place. Settings.Cells
// are those across each of the two directions of the section (default 16); an
// elongated one has more the long way. 24 cost six times what 12 do, and hardly
// anything else counts. An error means that there is no answer; it wraps
// sim.ErrProblem or sim.ErrNotConverged.
func Run(p sim.Problem, s sim.Settings, b Body) (Result, error) {
	if s.Cells == 0 {
		s.Cells = 16
	}
	if s.Cells < 4 || s.Cells > 128 {
		return Result{}, bad("settings: %d cells, want 4 to 128", s.Cells)
	}
	g, err := b.mesh(s.Cells)
	if err != nil {
		return Result{}, err
	}
	p.Body = sim.Body{Form: sim.Sphere, Outer: 1}
	d := newSolid(g, p)
	r, err := sim.RunShape(p, s, d)
	if err != nil {
		return Result{}, err
	}
	for _, b := range d.balances {
		if b.broken {
			return Result{}, fmt.Errorf("%w: the stiffness of the section is not positive definite", sim.ErrNotConverged)
		}
	}
	for i, v := range r.Outcomes {
		o := &d.out[i]
		o.Variant, o.Peak, o.PeakTime, o.PeakBySpan = v.Variant, v.Peak, v.PeakTime, v.PeakBySpan
		o.PeakAt, o.PeakOnSurface = d.place(int(v.PeakRho))
	}
	return Result{Outcomes: d.out, MaxLag: r.MaxLag, MarkLag: r.MarkLag, Nodes: g.node, Temperature: r.Temperature, Stats: r.Stats}, nil
}

// place returns where a point of stress is.
func (s *solid) place(point int) (Point, bool) {
	if n := len(s.element); point >= n {
		return s.skin[point-n].at, true
	}
	if point < s.g.fan {
		return s.g.node[0], false
	}
	return s.element[point].center, false
}

// stress returns the stress of a point.
func (s *solid) stress(p *sim.Points, i int) Stress {
	m, d := p.Mean[i], p.Deviator[3*i:3*i+3]
	at, surface := s.place(i)
	out := Stress{At: at, OnSurface: surface}
	if surface {
		along := m + d[0]
		out.Hoop, out.First, out.Second = m+d[1], math.Max(along, 0), math.Min(along, 0)
		return out
	}
	out.Hoop = m - d[0] - d[1]
	out.Along = m + d[1]
	middle, half := m+(d[0]+d[1])/2, math.Hypot((d[0]-d[1])/2, d[2])
	out.First, out.Second = middle+half, middle-half
	return out
}

func (s *solid) Look(v sim.Look) (tension, place float64) {
	o := &s.out[v.Variant]
	n := len(s.element)
	see := func(i int, st Stress) float64 {
		if v.AtRoom {
			o.Field = append(o.Field, st)
		}
		x := math.Max(st.Hoop, st.First)
		if x > tension {
			tension, place = x, float64(i)
		}
		return x
	}
	s.pull = s.pull[:0]
	core := math.Inf(-1)
	if s.g.fan > 0 {
		core = see(0, s.core(v.Stress))
	}
	for i := range n {
		x := core
		if i >= s.g.fan {
			x = see(i, s.stress(v.Stress, i))
		}
		s.pull = append(s.pull, x)
	}
	if i := int(place); tension > 0 && i >= s.g.fan {
		tension += s.crest(i)
	}
	surface, at := math.Inf(-1), 0
	for i := n; i < len(v.Stress.Mean); i++ {
		st := s.stress(v.Stress, i)
		see(i, st)
		x := math.Max(st.Hoop, st.First)
		if st.First == 0 { // the zero across the surface is no tension of its own
			x = math.Max(st.Hoop, st.Second)
		}
		if x > surface {
			surface, at = x, i
		}
	}
	switch {
	case v.AtRoom:
		o.Residual, o.ResidualSurface = tension, surface
		o.ResidualAt, _ = s.place(int(place))
	case len(s.skin) > 0:
		o.SurfaceBySpan[v.Span] = math.Max(o.SurfaceBySpan[v.Span], surface)
		if surface > o.Surface {
			o.Surface, o.SurfaceTime = surface, v.Time
			o.SurfaceAt, _ = s.place(at)
		}
	}
	return tension, place
}

// core is the stress where the elements of the fan meet, their mean: one by one
// they are triangles that share the change of volume badly among them.
func (s *solid) core(p *sim.Points) Stress {
	var across, along, all float64
	for i := range s.g.fan {
		v := s.element[i].volume
		m, d := p.Mean[i], p.Deviator[3*i:3*i+3]
		across += v * (m - d[1]/2) // half of r and hoop, which are one on the axis
		along += v * (m + d[1])
		all += v
	}
	across, along = across/all, along/all
	return Stress{At: s.g.node[0], Hoop: across, First: math.Max(across, along), Second: math.Min(across, along), Along: along}
}

// crest returns by how much the greatest tension of the elements, that of
// element k, is likely to be exceeded between their centers [Pa]: the top of a
// parabola through it and its neighbors each way, or of an even one at an axis
// or a plane of symmetry.
func (s *solid) crest(k int) (more float64) {
	i, j := k/s.g.n, k%s.g.n
	here := s.element[k].center
	for axis, along := range [2]struct{ at, size, step int }{{i, s.g.m, s.g.n}, {j, s.g.n, 1}} {
		before, after := [2]int{west, south}[axis], [2]int{east, north}[axis]
		rise := 0.0
		switch lo, hi := along.at > 0, along.at < along.size-1; {
		case lo && hi:
			a, b := s.element[k-along.step].center.minus(here).length(), s.element[k+along.step].center.minus(here).length()
			up, down := (s.pull[k]-s.pull[k-along.step])/a, (s.pull[k+along.step]-s.pull[k])/b
			if curve := (down - up) / (a + b); curve < 0 { // slope at the middle: up + curve a
				slope := up + curve*a
				rise = -slope * slope / (4 * curve)
			}
		case hi && s.g.even[before]:
			rise = s.evenRise(k, k+along.step, before)
		case lo && s.g.even[after]:
			rise = s.evenRise(k, k-along.step, after)
		}
		const most = 0.1 // of the tension: beyond that it is no crest
		if rise > 0 && rise < most*s.pull[k] {
			more += rise
		}
	}
	return more
}

// evenRise extrapolates the tension of elements k and next to the side of k
// across which it is even.
func (s *solid) evenRise(k, next, side int) float64 {
	q := s.element[k].node
	middle := s.g.node[q[side]].toward(s.g.node[q[(side+1)%4]], 0.5)
	d0 := s.element[k].center.minus(middle).length()
	d1 := d0 + s.element[next].center.minus(s.element[k].center).length()
	return (s.pull[k] - s.pull[next]) * d0 * d0 / (d1*d1 - d0*d0)
}
