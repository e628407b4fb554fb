package verify

import (
	"context"
	"fmt"
	"math"
	"slices"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/sim"
	"lehr/anneal/sim/axial"
	"lehr/glass/unit"
)

// revolvedCells are the cells each way of a section: within 2.5 % of finite
// elements of a general-purpose code.
const revolvedCells = 16

// boundRatios is what the body of a piece as it is has, over the bound by which its
// programs are found. The zero value says that nobody computed it.
type boundRatios struct{ surface, inside, residual float64 }

// known reports whether the body was computed.
func (r boundRatios) known() bool { return r.surface > 0 && r.inside > 0 && r.residual > 0 }

// raises reports whether the body exceeds its bound somewhere.
func (r boundRatios) raises() bool {
	return r.known() && (r.surface > 1 || r.inside > 1 || r.residual > 1)
}

// clear is the share of a bound below which a body is far from it.
const clear = 0.9

// near reports whether the body was not computed, or comes near to its bound in
// any of the three: of another program it may then exceed it.
func (r boundRatios) near() bool {
	return !r.known() || r.surface > clear || r.inside > clear || r.residual > clear
}

// revolve computes a piece as it is, in the middle variant, and compares it with
// its bound. Where no mesh fits the body, or the section cannot be solved, the
// bound stands.
func (g *Group) revolve(p sim.Problem, bound stresses) (boundRatios, error) {
	if !g.revolves {
		return boundRatios{}, nil
	}
	gl := g.glasses[0]
	p.Material, p.Light, p.Variants = gl.material, nil, []sim.Variant{gl.variants[0].sim}
	res, err := axial.Run(p, sim.Settings{Cells: revolvedCells}, g.revolution)
	if err != nil {
		if g.Piece.Profile != nil {
			return boundRatios{}, fmt.Errorf("%s: %w", g.Piece.What, err)
		}
		return boundRatios{}, nil
	}
	tension, residual := 1.0, 1.0
	if g.inBed {
		tension, residual = g.Body.TensionFactor, g.Body.ResidualFactor
	}
	o := res.Outcomes[0]
	// The greatest of all places bounds the inside where it lies on the surface.
	inside := ratioOver(o.Peak*tension, bound.inside.stress, float64(g.pairs.inside.Expected))
	if o.PeakOnSurface {
		inside = math.Min(1, inside)
	}
	surface := ratioOver(o.Surface*tension, bound.surface.stress, float64(g.pairs.surface.Expected))
	if g.outline != nil { // its bound is of all places together
		inside = surface
	}
	return boundRatios{surface, inside,
		ratioOver(o.Residual*residual, bound.residual, float64(g.pairs.residual.Expected))}, nil
}

// ratioOver is a stress over its bound, 1 where both are next to nothing beside
// the limit.
func ratioOver(x, bound, limit float64) float64 {
	if math.Max(x, bound) < negligible*limit || !(x > 0) {
		return 1
	}
	return x / math.Max(bound, negligible*limit)
}

// residualTension is the stress that is left as a tension of the program: its numbers
// and where it is met.
type residualTension struct {
	Tension
	time    float64
	place   Place
	segment int
}

// raisedBy returns loads that are no less than those of the body as it is: a bound
// that it exceeds is raised to it.
func (l loads) raisedBy(r boundRatios, g *Group) loads {
	if !r.known() || g.Piece.Profile == nil && !r.raises() {
		return l
	}
	least := 1.0
	if g.Piece.Profile != nil { // no bound, only a body to begin with
		least = 0
	}
	lift := func(t top, by float64) top {
		by = math.Max(least, by)
		t.stress *= by
		spans := make([]float64, len(t.bySpan))
		for i, s := range t.bySpan {
			spans[i] = s * by
		}
		t.bySpan = spans
		return t
	}
	l.middle.surface, l.middle.inside = lift(l.middle.surface, r.surface), lift(l.middle.inside, r.inside)
	l.middle.residual *= math.Max(least, r.residual)
	l.middle.residualSurface *= math.Max(least, r.residual)
	l.base = g.bases(l.middle)
	return l
}

// Refined is the tension at the surface and the stress left of a piece as it is,
// in its section, over the bounds that its program was found by: 0 where only the
// bounds are known.
type Refined struct{ Tension, Residual float64 }

// AsBodies returns a report with the stresses of bodies of revolution as they are in the
// place of their bounds, and the pieces judged by them. It is for an answer, once it is
// found; a search keeps to the bounds.
//
// Errors: that of a canceled context.
func AsBodies(ctx context.Context, of *Report) (*Report, error) {
	rep := of.copied()
	if err := parallel.Each(ctx, len(rep.Pieces), func(i int) error {
		if r := &rep.Pieces[i]; r.revolve != nil {
			_ = r.revolve()
		}
		return nil
	}); err != nil {
		return nil, err
	}
	rep.Within = true
	for i := range rep.Pieces {
		r := &rep.Pieces[i]
		r.asBody(rep.Limits)
		rep.Within = rep.Within && r.Within
	}
	rep.noteClosedForms()
	return rep, rep.refineKilns(ctx)
}

// asBody puts the stresses of the body as it is in the place of its bounds.
func (r *PieceReport) asBody(l kiln.Limits) {
	if r.revolve != nil {
		r.ratios, r.revolve = r.revolve(), nil
	}
	if k := r.ratios; k.known() && r.Refined == (Refined{}) {
		r.refine(k)
		r.judge(l)
	}
}

// Borrows reports whether a body that comes near to its bound, or that nobody
// computed, is that of a like program: of its own the piece may exceed the bound.
func (rep *Report) Borrows() bool {
	return slices.ContainsFunc(rep.Pieces, func(r PieceReport) bool { return r.borrows() })
}

func (r *PieceReport) borrows() bool { return r.revolve != nil && r.ratios.near() }

func (r *PieceReport) refine(k boundRatios) {
	if r.Piece.Profile != nil { // its numbers are those of the body already
		r.Refined = Refined{Tension: k.surface, Residual: k.residual}
		return
	}
	r.bounds = boundUses{tension: r.Tension.Use, residual: r.ResidualTension.Use, spans: r.SpanUse}
	residual := math.Min(1, k.residual)
	use := math.Max(r.uses[0]*math.Min(1, k.surface), math.Max(r.uses[1]*math.Min(1, k.inside), r.uses[2]*residual))
	tension := 1.0
	if r.Tension.Use > use {
		tension = use / r.Tension.Use
	}
	spans := tension
	r.Refined = Refined{Tension: k.surface, Residual: k.residual}
	scale := func(b *Tension, by float64) {
		b.Expected, b.Worst, b.Use = b.Expected*unit.Stress(by), b.Worst*unit.Stress(by), b.Use*by
	}
	if r.ResidualJudged && use > 0 && use == r.uses[2]*residual && r.Tension.Use > use { // what is left is the greatest now
		e := r.asResidual
		r.Tension, r.Peak, r.PeakTime, r.PeakPlace, r.PeakSegment = e.Tension, e.Worst, e.time, e.place, e.segment
		r.PeakByDepth = raisedTo(r.ResidualByDepth, e.Worst)
		tension = residual
	}
	scale(&r.Tension, tension)
	scale(&r.ResidualTension, residual)
	r.Peak *= unit.Stress(tension)
	r.PeakByDepth, r.ResidualByDepth = scaled(r.PeakByDepth, tension), scaled(r.ResidualByDepth, residual)
	r.bounds.share = spans
	r.scaleSpans(spans)
	for _, x := range []*unit.Stress{&r.Residual, &r.ResidualSurface, &r.ResidualCenter} {
		*x *= unit.Stress(residual)
	}
	if r.Piece.Shown() != piece.ThroughEdge { // which shows the slab, whatever the body has
		r.Retardation *= unit.Length(residual)
	}
}

// scaleSpans gives every segment a share of its tension, in slices of its own.
func (r *PieceReport) scaleSpans(by float64) {
	r.SpanPeak, r.SpanUse = slices.Clone(r.SpanPeak), slices.Clone(r.SpanUse)
	for i := range r.SpanPeak {
		r.SpanPeak[i] *= by
		r.SpanUse[i] *= by
	}
}

// boundUses are the shares of its limits that a piece used up by its bound before its
// body was computed; spans is nil where it was not. share is what the body has of the
// tension of its bound.
type boundUses struct {
	tension, residual float64
	spans             []float64 // by segment
	share             float64
}
