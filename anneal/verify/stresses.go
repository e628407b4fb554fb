package verify

import (
	"math"
	"slices"

	"lehr/anneal/piece"
	"lehr/anneal/sim"
	"lehr/anneal/sim/plane"
)

// stresses is what one variant of a piece bears in a program [Pa], raised by all
// that a body of one dimension does not see: its bed, its ends, its rim.
type stresses struct {
	outcome         sim.Outcome
	surface, inside top
	residual        float64
	residualSurface float64
	residualRho     float64
	basis           plane.Basis
}

// top is the greatest tension of a part of the piece.
type top struct {
	stress, time, rho float64
	bySpan            []float64
	place             plane.Place // where, for a flat piece
	flat              bool
}

// keepGreater keeps the greater of two tops, span by span.
func (t *top) keepGreater(u top) {
	for i, s := range u.bySpan {
		t.bySpan[i] = math.Max(t.bySpan[i], s)
	}
	if u.stress > t.stress {
		t.stress, t.time, t.rho, t.place, t.flat = u.stress, u.time, u.rho, u.place, u.flat
	}
}

// between is a top without what is borne before one span, and from another one on.
func (t top) between(from, to int) top {
	spans := make([]float64, len(t.bySpan))
	copy(spans[from:to], t.bySpan[from:to])
	t.bySpan, t.stress = spans, max(0, slices.Max(spans[from:to]))
	return t
}

// raised is a top of the simulation times a factor.
func raised(t sim.Top, factor float64) top {
	out := top{stress: t.Tension * factor, time: t.Time, rho: t.Rho, bySpan: make([]float64, len(t.BySpan))}
	for i, s := range t.BySpan {
		out.bySpan[i] = s * factor
	}
	return out
}

// simulate runs a problem in the shape of the piece: what each of its variants bears,
// and the temperatures of the body.
func (g *Group) simulate(p sim.Problem, s sim.Settings) ([]stresses, sim.Result, error) {
	if g.outline != nil {
		return g.simulateFlat(p, s)
	}
	res, err := sim.Run(p, s)
	if err != nil {
		return nil, res, err
	}
	var ends []sim.Outcome // of a tube
	if g.Piece.Shape == piece.TubeShape && !g.Piece.Textbook {
		wall := p
		wall.Body, wall.Light = plane.TubeWall(float64(g.Piece.Wall), g.Piece.OpenEnded), nil
		r, err := sim.Run(wall, s)
		if err != nil {
			return nil, res, err
		}
		ends = r.Outcomes
	}
	out := make([]stresses, len(res.Outcomes))
	for i, o := range res.Outcomes {
		tension, residual := g.Body.TensionFactor, g.Body.ResidualFactor
		if g.Piece.Shape == piece.RodShape && !g.Piece.Textbook {
			b := plane.Rod(o, g.slender())
			tension, residual = tension*ratio(b.Tension, o.Peak), residual*ratio(b.Residual, o.Residual.MaxTension())
		}
		b := stresses{outcome: o, surface: raised(o.Surface, tension), inside: raised(o.Inside, tension)}
		most, rho := o.Residual.Greatest()
		b.residual, b.residualRho, b.residualSurface = most*residual, rho, o.ResidualSurface*residual
		if ends != nil {
			wall := float64(g.Piece.Wall)
			e := plane.TubeEnds(ends[i], float64(g.Piece.Size)/2-wall/2, wall, g.Piece.OpenEnded)
			b.surface.keepGreater(top{stress: e.Tension, time: e.TensionTime, rho: 1, bySpan: e.BySpan, place: e.TensionPlace, flat: true})
			b.residual, b.basis = math.Max(b.residual, e.Residual), e.Basis
		}
		out[i] = b
	}
	return out, res, nil
}

// endless is the length over the diameter of a rod whose length nobody stated: any above
// the 1.75 from which [plane.Rod] makes no difference is as good.
const endless = 10

// slender is the length of a rod over its diameter.
func (g *Group) slender() float64 {
	if g.Piece.Across == 0 {
		return endless
	}
	return float64(g.Piece.Across / g.Piece.Size)
}

func ratio(a, b float64) float64 {
	if !(b > 0) || !(a > 0) {
		return 1
	}
	return a / b
}

// simulateFlat runs the slab of a flat piece and its plane.
func (g *Group) simulateFlat(p sim.Problem, s sim.Settings) ([]stresses, sim.Result, error) {
	p.Light = nil
	o := *g.outline
	need := o.Needs(p.Material.Conductivity(p.Kiln.At(0)))
	p.Body = o.Slab()
	res, err := sim.Run(p, s)
	if err != nil {
		return nil, res, err
	}
	var discs []plane.Result
	for _, d := range need.Discs {
		r, err := plane.Run(p, s, d)
		if err != nil {
			return nil, res, err
		}
		discs = append(discs, r)
		res.MaxLag = math.Max(res.MaxLag, r.MaxLag)
		if math.Abs(r.MarkLag) > math.Abs(res.MarkLag) {
			res.MarkLag = r.MarkLag
		}
		res.Lags = res.Lags.Max(r.Lags)
	}
	var rods []sim.Outcome
	if need.Rod.Outer > 0 {
		rod := p
		rod.Body = need.Rod
		r, err := sim.Run(rod, s)
		if err != nil {
			return nil, res, err
		}
		rods = r.Outcomes
	}
	out := make([]stresses, len(res.Outcomes))
	for i, slab := range res.Outcomes {
		var b plane.Bound
		switch len(discs) {
		case 1:
			b = o.Combine(slab, discs[0].Outcomes[i])
		case 2:
			b = o.CombineSides(slab, discs[0].Outcomes[i], discs[1].Outcomes[i])
		}
		if rods != nil {
			b = o.ThickDisc(b, rods[i])
		}
		t := top{stress: b.Tension, time: b.TensionTime, rho: 1, bySpan: b.BySpan, place: b.TensionPlace, flat: true}
		out[i] = stresses{outcome: slab, surface: t, inside: top{bySpan: make([]float64, len(b.BySpan))},
			residual: b.Residual, residualSurface: slab.ResidualSurface, basis: b.Basis}
		if b.TensionPlace == plane.Inside {
			out[i].surface.rho = 0
		}
	}
	return out, res, nil
}
