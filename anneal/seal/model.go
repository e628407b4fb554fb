package seal

import (
	"math"

	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// model is a problem ready to be computed with one value of every number.
type model struct {
	p        *Problem
	parts    []part // materials; 0 is the clear glass
	shells   []slice
	stones   []contents.Inside
	fall     float64 // of layers and stripes [K]
	fallRock float64 // of stones [K]
}

// part is one material with the values in use.
type part struct {
	contents.Material
	alpha, young, factor float64
	shared               bool // a color: moves with the expansion of the clear glass
}

// slice is one shell or ply: a material and where it ends, from the middle.
type slice struct {
	part  int
	outer unit.Length // radius; in a flat piece, distance from the middle
	stone bool
}

// solid returns a material as the formulas take it, over the actual fall.
func (m *model) solid(i int) Elastic {
	p := m.parts[i]
	return Elastic{unit.Stress(p.young), p.Poisson.Number, p.alpha * p.factor}
}

// partOf returns the index of a material, adding it if it is new.
func (m *model) partOf(x contents.Material) int {
	for i, p := range m.parts {
		if p.Name == x.Name {
			return i
		}
	}
	p := part{Material: x, alpha: x.Expansion.Number, young: x.Young.Number, factor: 1, shared: x.Kind == contents.Color}
	if x.IsGlass() {
		p.factor = contents.OverTheFall(x.Glass).Number
	}
	m.parts = append(m.parts, p)
	return len(m.parts) - 1
}

// newModel lays the contents out. The problem has been checked.
func newModel(p *Problem) (*model, error) {
	m := &model{p: p}
	clear, err := contents.Finder{Clear: p.Clear}.Find("clear")
	if err != nil {
		return nil, err
	}
	m.partOf(clear)
	half := p.Body.Size / 2
	at := unit.Length(0)
	for _, in := range p.Contents.Inside {
		if p.concentric(in) {
			at = in.Size / 2
			m.shells = append(m.shells, slice{m.partOf(in.Material), at, true})
		} else {
			m.stones = append(m.stones, in)
			m.partOf(in.Material)
		}
	}
	end := half
	skin := p.Contents.Skin
	bySkin := skin != nil && p.Body.Form != sim.Cylinder
	if bySkin {
		end -= skin.Thick
	}
	taken := unit.Length(0)
	for _, b := range p.Contents.Layers {
		taken += b.Depth()
	}
	for _, b := range p.Contents.Layers {
		d := b.Depth()
		if b.Thick == 0 {
			d = end - taken
		}
		if b.Core {
			at = 0
		}
		at += d
		rock := b.Material.Kind == contents.Stone || b.Material.Kind == contents.Metal
		m.shells = append(m.shells, slice{m.partOf(b.Material), at, rock})
	}
	if len(m.shells) > 0 || bySkin {
		if n := len(m.shells); n == 0 || at < end*(1-1e-9) {
			m.shells = append(m.shells, slice{0, end, false})
		} else {
			m.shells[n-1].outer = end
		}
	}
	if bySkin {
		m.shells = append(m.shells, slice{m.partOf(skin.Material), half, false})
	}
	for _, s := range p.Contents.Stripes {
		m.partOf(s.Material)
	}
	if skin != nil {
		m.partOf(skin.Material)
	}
	return m, nil
}

// concentric reports whether a stone lies in the middle of a sphere.
func (p *Problem) concentric(in contents.Inside) bool {
	return p.Body.Form == sim.Sphere && in.Shape != contents.Foil && in.Count == 1 && (in.Depth == 0 || math.Abs(float64(in.Depth/(p.Body.Size/2)-1)) < 0.02)
}

// spot is one place, by one value of every number.
type spot struct {
	kind         PlaceKind
	in, next     int // parts; next −1 for air
	hoop, radial unit.Stress
	depth        float64 // relative, 1 at the surface
}

// spots computes every place, always in the same order. The first pressure is
// that on the first stone, or at the first seal from inside.
func (m *model) spots() (list []spot, pressure unit.Stress) {
	known := false
	press := func(p unit.Stress) {
		if !known {
			pressure, known = p, true
		}
	}
	half := m.p.Body.Size / 2
	at := 1.0
	put := func(kind PlaceKind, in, next int, hoop, radial unit.Stress) {
		list = append(list, spot{kind, in, next, hoop, radial, at})
	}
	outer := func(shell int) { at = float64(m.shells[shell].outer / half) }
	if len(m.shells) > 0 && m.p.Body.Form == sim.Sphere {
		shells := m.sphere()
		for i, s := range LayeredSphere(shells, m.drop()) {
			here := m.shells[i].part
			next := -1
			if i+1 < len(shells) {
				next = m.shells[i+1].part
			}
			if i == 0 {
				outer(0)
				put(InCore, here, next, s.OuterHoop, s.OuterRadial)
				press(-s.OuterRadial)
				continue
			}
			kind := InsideOf
			if m.shells[i-1].stone {
				kind = AtStone
			}
			outer(i - 1)
			put(kind, here, m.shells[i-1].part, s.InnerHoop*m.edge(i-1), s.InnerRadial)
			outer(i)
			if next < 0 {
				put(OuterSurface, here, -1, s.OuterHoop, 0)
			} else {
				put(OutsideOf, here, next, s.OuterHoop, s.OuterRadial)
			}
		}
	} else if len(m.shells) > 0 {
		m.flat(put, outer)
	}
	for _, in := range m.stones {
		at = 1 - float64(m.p.depth(in)/half)
		i := m.partOf(in.Material)
		stone, clear := m.solid(i), m.solid(0)
		if in.Shape == contents.Foil {
			σ := thinStripe(stone, clear.Expansion, unit.Delta(m.fallRock))
			put(InFoil, i, 0, σ, 0)
			put(AtStone, 0, i, -σ*unit.Stress(in.Size/m.p.Body.Size), 0)
			continue
		}
		p := SelsingPressure(stone, clear, unit.Delta(m.fallRock))
		press(p)
		put(AtStone, 0, i, p/2*edgeOf(in), -p)
		over, _ := nearSurface(p, clear.Poisson, float64(in.Size/2/m.p.depth(in)))
		at = 1
		put(OverStone, 0, i, over, 0)
	}
	at = 1
	if s := m.p.Contents.Skin; s != nil && m.p.Body.Form == sim.Cylinder {
		i := m.partOf(s.Material)
		put(OuterSurface, i, -1, thinStripe(m.solid(i), m.solid(0).Expansion, unit.Delta(m.fall)), 0)
	}
	for _, s := range m.p.Contents.Stripes {
		i := m.partOf(s.Material)
		σ := thinStripe(m.solid(i), m.solid(0).Expansion, unit.Delta(m.fall))
		if s.Wide < s.Thick {
			σ = narrowStripe(m.solid(i), m.solid(0).Expansion, unit.Delta(m.fall))
		}
		put(AlongStripe, i, -1, σ, 0)
		put(BesideStripe, 0, i, -σ/2, 0)
	}
	return list, pressure
}

// sphere returns the shells as the formulas take them.
func (m *model) sphere() []Shell {
	shells := make([]Shell, len(m.shells))
	for i, s := range m.shells {
		shells[i] = Shell{s.outer, m.solid(s.part)}
	}
	return shells
}

// drop is the fall that counts for the shells: the greatest of their seals.
func (m *model) drop() unit.Delta {
	switch {
	case !m.shells[0].stone:
		return unit.Delta(m.fall)
	case len(m.shells) == 2:
		return unit.Delta(m.fallRock)
	}
	return unit.Delta(math.Max(m.fall, m.fallRock))
}

// flat computes the plies of a flat piece: the layers on both sides of the
// core, a skin on both faces or on one.
func (m *model) flat(put func(kind PlaceKind, in, next int, hoop, radial unit.Stress), outer func(shell int)) {
	n := len(m.shells)
	one := m.p.Contents.Skin != nil && m.p.Contents.Skin.OneFace
	var plies []ply
	var which []int
	add := func(part int, thick unit.Length) {
		plies, which = append(plies, ply{thick, m.solid(part)}), append(which, part)
	}
	thick := func(i int) unit.Length {
		if i == 0 {
			return 2 * m.shells[0].outer
		}
		return m.shells[i].outer - m.shells[i-1].outer
	}
	for i := n - 1; i > 0; i-- {
		if !(one && i == n-1) {
			add(m.shells[i].part, thick(i))
		}
	}
	for i := range n {
		t := thick(i)
		if one && i == n-2 { // the bare face keeps the glass that the skin does not take
			t += thick(n - 1)
		}
		add(m.shells[i].part, t)
	}
	s := laminate(plies, unit.Delta(m.fall), !one)
	middle, last := len(plies)-n, len(plies)-1
	for i := middle; i <= last; i++ {
		next := -1
		if i < last {
			next = which[i+1]
		}
		shell := i - middle
		outer(max(0, shell-1))
		switch {
		case i == middle && i < last:
			put(InCore, which[i], next, max(s[i].Lower, s[i].Upper), 0)
		case i == last:
			put(InsideOf, which[i], which[i-1], s[i].Lower, 0)
			outer(shell)
			put(OuterSurface, which[i], -1, s[i].Upper, 0)
		default:
			put(InsideOf, which[i], which[i-1], s[i].Lower, 0)
			outer(shell)
			put(OutsideOf, which[i], next, s[i].Upper, 0)
		}
	}
	if one {
		outer(n - 1)
		put(OuterSurface, which[0], -1, s[0].Lower, 0)
	}
}

// edge is the factor of the stone that shell i is.
func (m *model) edge(i int) unit.Stress {
	if i == 0 && m.shells[0].stone {
		for _, in := range m.p.Contents.Inside {
			if m.p.concentric(in) {
				return edgeOf(in)
			}
		}
	}
	return 1
}

// assumedEdge is the edge of a cabochon that nobody stated, a share of its
// thickness: an edge broken by hand.
const assumedEdge = 0.1

// edgeOf is by how much the edge of a stone raises the tension at it.
func edgeOf(in contents.Inside) unit.Stress {
	if in.Shape != contents.Flat {
		return 1
	}
	edge := in.Edge
	if edge == 0 {
		edge = in.Thick * assumedEdge
	}
	return unit.Stress(edgeFactor(in.Thick/2, edge))
}

// depth returns how deep the middle of a stone lies.
func (p *Problem) depth(in contents.Inside) unit.Length {
	if in.Depth > 0 {
		return in.Depth
	}
	return p.Body.Size / 2
}
