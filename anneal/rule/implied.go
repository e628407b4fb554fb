package rule

import (
	"math"
	"slices"

	"lehr/anneal/formula"
	"lehr/glass"
	"lehr/glass/unit"
)

// frozenSeconds is a Maxwell time beyond which nothing relaxes in a firing [s].
const frozenSeconds = 1e10

// Implied returns the greatest tension that the stages cause while the piece
// cools, and the greatest tension they leave in it.
//
// The left stress is the part of the cooling stress that relaxed and is missed
// when the piece is even again: dR/dt = (σ − R)/τ, σ the steady elastic stress
// of the current rate, τ the Maxwell time of the curve that leaves more. At one
// rate through the whole freezing range this is the mirror of the cooling stress.
// However the piece was counted, its stresses are those of its own shape.
func Implied(q Request, stages []Stage) (cooling, residual unit.Stress, err error) {
	q.CountFull = false
	b := NewSteadyBody(q)
	curves, err := q.Glass.Curves()
	if err != nil {
		return 0, 0, err
	}
	relaxed := make([]float64, len(curves))
	at := stages[0].To
	for _, s := range stages {
		k, err := Kappa(q.Glass, at, s.To)
		if err != nil {
			return 0, 0, err
		}
		σ := float64(b.Stress(b.Inner, s.Rate, k))
		if s.Rate < 0 {
			cooling = max(cooling, b.Stress(b.Surface*q.TensionFactor, s.Rate, k))
		}
		for i, c := range curves {
			relaxed[i] = relaxThrough(c, b.e, relaxed[i], σ, at, s)
		}
		at = s.To
	}
	return cooling, unit.Stress(slices.Max(relaxed) * b.Structural * q.ResidualFactor), nil
}

// relaxThrough carries the relaxed stress [Pa] through one stage that begins at
// a temperature. Below the range of the curve the glass is taken as frozen.
func relaxThrough(c glass.Curve, e formula.Elastic, relaxed, σ float64, from unit.Temp, s Stage) float64 {
	step := func(t unit.Temp, dt float64) bool {
		log10, err := c.Log10(t)
		if err != nil {
			return t.Less(c.High) // above the range keep going, below it stop
		}
		τ := math.Pow(10, log10) / float64(e.Shear())
		relaxed = σ + (relaxed-σ)*math.Exp(-dt/τ)
		return τ > frozenSeconds
	}
	if s.Rate != 0 {
		const most = 400
		span := s.To.Sub(from)
		n := int(min(most, max(1, math.Ceil(math.Abs(float64(span))/2))))
		dt := float64(span) / float64(s.Rate) / float64(n)
		for i := range n {
			if step(from.Add(span*unit.Delta(2*i+1)/unit.Delta(2*n)), dt) {
				break
			}
		}
		σ = 0 // holds below begin even
	}
	if s.Hold > 0 {
		step(s.To, s.Hold.Seconds())
	}
	return relaxed
}
