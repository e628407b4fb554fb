package seal

import (
	"math"

	"lehr/glass/unit"
)

// stoneRetardation returns the retardation right beside a stone far from any
// surface, the greatest there is around it.
//
// pressure is that of [SelsingPressure]; radius that of the stone; stressOptic
// the stress-optical coefficient [1/Pa].
//
//	R = 2 C P a
//
// Valid: straight rays, stone small against the piece.
//
// Source: selsing1961, p. 419 [derived in formula_light_test.go].
//
// Checked: testdata/cases/seals.toml
func stoneRetardation(pressure unit.Stress, radius unit.Length, stressOptic float64) unit.Length {
	return unit.Length(2*stressOptic*float64(pressure)) * radius
}

// sphereRetardation returns the retardation of a layered sphere along a line of
// sight that passes its middle at an offset, for the stress that [LayeredSphere]
// computes.
//
// Across the ray the principal stresses differ by (σ_θ − σ_r) b²/r²; in a layer
// σ_θ − σ_r = D (R/r)³, and ∫ds/(b²+s²)^(5/2) = s (3b²+2s²)/(3 b⁴ (b²+s²)^(3/2)).
//
// Valid: straight rays (the sphere in a liquid of its index), one coefficient
// for all layers; offset above 0.
//
// Source: timoshenko1970, sphere under pressure [derived in formula_light_test.go].
//
// Checked: testdata/cases/seals.toml
func sphereRetardation(shells []Shell, drop unit.Delta, offset unit.Length, stressOptic float64) unit.Length {
	positive("offset", float64(offset))
	s := newBall(shells)
	s.shrinkAll(float64(drop))
	s.solve()
	b := float64(offset)
	upTo := func(r float64) float64 { // ∫ from the nearest point to the radius r
		if r <= b {
			return 0
		}
		x := math.Sqrt(r*r - b*b)
		return x * (3*b*b + 2*x*x) / (3 * b * b * b * b * r * r * r)
	}
	sum, inner := 0.0, 0.0
	for i, outer := range s.outer {
		radial, hoop := s.at(i, outer)
		if i > 0 {
			sum += float64(hoop-radial) * outer * outer * outer * b * b * (upTo(outer) - upTo(inner))
		}
		inner = outer
	}
	return unit.Length(2 * stressOptic * sum)
}
