package verify

import (
	"context"
	"fmt"
	"math"
	"slices"

	"lehr/anneal/internal/parallel"
	"lehr/anneal/kiln"
	"lehr/anneal/sim"
	"lehr/anneal/spread"
	"lehr/glass/unit"
)

// loads is what a program does to a piece at one place in the kiln: the middle
// variant, and by how much the worst case of each tension exceeds it.
type loads struct {
	middle    stresses
	worst     factors
	base      bases
	unrelaxed float64 // the most over the viscosity curves
	result    sim.Result
	all       [][]stresses // by glass and variant
}

// loads poses a problem in every variant. With known factors only the middle one
// is simulated, and the other curve if the soak is to be judged.
func (g *Group) loads(p sim.Problem, s sim.Settings, known *factors, soak bool) (loads, error) {
	var out loads
	glasses := g.glasses
	if known != nil {
		glasses = glasses[:1]
	}
	all, results := make([][]stresses, len(glasses)), make([]sim.Result, len(glasses))
	variantsOf := func(i int) []variant {
		switch {
		case known == nil:
			return glasses[i].variants
		case soak:
			return curvesOf(glasses[i].variants)
		}
		return glasses[i].variants[:1]
	}
	err := parallel.Each(context.Background(), len(glasses), func(i int) (err error) {
		q := p
		q.Material, q.Light = glasses[i].material, glasses[i].light
		for _, r := range variantsOf(i) {
			q.Variants = append(q.Variants, r.sim)
		}
		all[i], results[i], err = g.simulate(q, s)
		return err
	})
	if err != nil {
		return out, fmt.Errorf("%s: %w", g.Piece.What, err)
	}
	middle := results[0]
	out.result, out.middle, out.all = middle, all[0][0], all
	lags := make([]float64, len(results))
	for i, res := range results {
		out.result.MaxLag, lags[i] = math.Max(out.result.MaxLag, res.MaxLag), res.MarkLag
	}
	out.result.MarkLag = g.worstLag(lags)
	for j, r := range variantsOf(0) {
		if r.ofCurve() {
			out.unrelaxed = math.Max(out.unrelaxed, all[0][j].outcome.Unrelaxed)
		}
	}
	out.base = g.bases(out.middle)
	if known != nil {
		out.worst = *known
		out.result.MarkLag *= known.markLag
		out.result.MaxLag *= known.maxLag
		return out, nil
	}
	out.worst, err = g.worstOf(all, out.base)
	out.worst.markLag, out.worst.maxLag = times(out.result.MarkLag, middle.MarkLag), times(out.result.MaxLag, middle.MaxLag)
	return out, err
}

// worstOf finds the worst case of each tension from what each variant bears.
func (g *Group) worstOf(all [][]stresses, base bases) (out factors, err error) {
	for _, c := range []struct {
		to   *spread.Combined
		of   func(b stresses) float64
		base float64
	}{
		{&out.surface, func(b stresses) float64 { return b.surface.stress }, base.surface},
		{&out.inside, func(b stresses) float64 { return b.inside.stress }, base.inside},
		{&out.residual, func(b stresses) float64 { return b.residual }, base.residual},
		{&out.residualSurface, func(b stresses) float64 { return b.residualSurface }, base.residualSurface},
	} {
		*c.to, err = g.combine(func(i, j int) float64 { return c.of(all[i][j]) }, c.base)
		if err != nil {
			return out, fmt.Errorf("%s: %w", g.Piece.What, err)
		}
	}
	return out, nil
}

// between returns loads that were found in every variant without what is borne before
// the span with index from, and from that with index to on.
func (l loads) between(g *Group, from, to int) (loads, error) {
	out := l
	out.all = make([][]stresses, len(l.all))
	for i, variants := range l.all {
		for _, b := range variants {
			b.surface, b.inside = b.surface.between(from, to), b.inside.between(from, to)
			out.all[i] = append(out.all[i], b)
		}
	}
	out.middle = out.all[0][0]
	out.base = g.bases(out.middle)
	var err error
	out.worst, err = g.worstOf(out.all, out.base)
	return out, err
}

// worstLag returns the greatest difference of temperature from that in each of the
// first glasses: what a range adds counts for the worst answer to how clear the
// piece is, too, which must not fail for saying so.
func (g *Group) worstLag(lags []float64) float64 {
	ranges, answers := lags[0], lags[0]
	for i, lag := range lags {
		to := &ranges
		if g.glasses[i].variants[0].alternative != "" {
			to = &answers
		}
		if math.Abs(lag) > math.Abs(*to) {
			*to = lag
		}
	}
	return answers * times(ranges, lags[0])
}

// noLag is the lag below which the ratio of two says nothing [K]: a twentieth of the
// smallest limit of evenness. A larger one would hide ranges that count, a smaller one
// would divide by what the steps of the simulation leave.
const noLag = 0.01

// times is by how much one lag exceeds another of its sign, 1 where that says
// nothing.
func times(worst, middle float64) float64 {
	if math.Abs(middle) < noLag || worst*middle < 0 {
		return 1
	}
	return worst / middle
}

// ofCurve reports whether a variant is that of a viscosity curve with all else in
// the middle: by these the soak is judged.
func (r variant) ofCurve() bool {
	return r.alternative == "" && (r.property == "" || r.property == spread.Viscosity)
}

// curvesOf are the variants that are needed even where the worst case is known.
func curvesOf(all []variant) (out []variant) {
	for _, r := range all {
		if r.ofCurve() {
			out = append(out, r)
		}
	}
	return out
}

// within takes off what a planner leaves unused, and puts the limits that a person gave in the place of the published ones:
// they are limits of the worst case, whatever average glass bears.
func (p pairs) within(l kiln.Limits) pairs {
	for _, pair := range []*spread.Pair{&p.surface, &p.inside, &p.residual, &p.residualSurface} {
		share := unit.Stress(l.Share())
		*pair = spread.Pair{Expected: pair.Expected * share, Worst: pair.Worst * share}
	}
	both := func(s unit.Stress) spread.Pair { return spread.Pair{Expected: s, Worst: s} }
	if l.TensionGiven {
		p.surface, p.inside = both(l.Tension), both(l.Tension)
	}
	if l.ResidualGiven {
		p.residual = both(l.Residual)
		p.residualSurface = spread.Pair{Expected: max(p.residualSurface.Expected, l.Residual), Worst: max(p.residualSurface.Worst, l.Residual)}
	}
	return p
}

// held is a tension against its pair.
type held struct {
	expected, worst unit.Stress
	pair            spread.Pair
	why             spread.Combined
}

// bases are the stresses that the shares of a worst case are shares of [Pa].
type bases struct{ surface, inside, residual, residualSurface float64 }

// negligible is the share of a limit below which the ratio of two stresses says
// nothing: they are differences of larger ones.
const negligible = 0.02

// bases returns what the shares of each tension are taken of: of itself, but of
// what is left where that is more and the tension is what is left less the pull of
// the moment, or the other way about. A share of a small difference of two large
// stresses would be boundless.
func (g *Group) bases(b stresses) bases {
	floor := func(limit unit.Stress) float64 { return negligible * float64(limit) }
	return bases{
		surface:         math.Max(b.surface.stress, floor(g.pairs.surface.Expected)),
		inside:          math.Max(math.Max(b.inside.stress, b.residual), floor(g.pairs.inside.Expected)),
		residual:        math.Max(b.residual, floor(g.pairs.residual.Expected)),
		residualSurface: math.Max(math.Max(b.residualSurface, b.residual), floor(g.pairs.residualSurface.Expected)),
	}
}

// hold holds a tension of the middle variant against its pair, with a worst case
// whose shares are of a base. Where nobody said how clear a piece is, average
// glass counts by the worst answer, too: a piece that is opaque must not fail for
// saying so.
func hold(middle, base float64, c spread.Combined, pair spread.Pair) held {
	expected := middle
	for _, p := range c.Parts {
		if p.Of == spread.Light && p.Share > 0 {
			expected += base * p.Share
		}
	}
	return held{unit.Stress(expected), unit.Stress(math.Max(middle, middle+base*(c.Factor-1))), pair, c}
}

// use is the share of the limit that is used up, 1 at the limit.
func (h held) use() float64 { return h.pair.Use(h.expected, h.worst) }

// tightest returns the one that uses most of its limit.
func tightest(hs ...held) held {
	return slices.MaxFunc(hs, func(a, b held) int {
		switch {
		case a.use() < b.use():
			return -1
		case a.use() > b.use():
			return 1
		}
		return 0
	})
}

// surface, inside, even and residual are the greatest tension at the surface and
// inside for hours, what is left as tension for hours, and what is left.
func (l loads) surface(p pairs) held {
	return hold(l.middle.surface.stress, l.base.surface, l.worst.surface, p.surface)
}

func (l loads) inside(p pairs) held {
	return hold(l.middle.inside.stress, l.base.inside, l.worst.inside, p.inside)
}

func (l loads) even(p pairs) held {
	return hold(l.middle.residual, l.base.residual, l.worst.residual, p.inside)
}

func (l loads) residual(p pairs) held { return tightest(l.left(p)) }

// left is what is left inside and at the surface.
func (l loads) left(p pairs) (inside, surface held) {
	return hold(l.middle.residual, l.base.residual, l.worst.residual, p.residual),
		hold(l.middle.residualSurface, l.base.residualSurface, l.worst.residualSurface, p.residualSurface)
}

// span is the tension in one span between kinks: its share of the worst case is
// that of the greatest.
func (l loads) span(i int, p pairs) held {
	part := func(t top, base float64, c spread.Combined, pair spread.Pair) held {
		if !(t.stress > 0) {
			return hold(t.bySpan[i], t.bySpan[i], c, pair)
		}
		return hold(t.bySpan[i], base*t.bySpan[i]/t.stress, c, pair)
	}
	return tightest(part(l.middle.surface, l.base.surface, l.worst.surface, p.surface),
		part(l.middle.inside, l.base.inside, l.worst.inside, p.inside))
}
