package seal

import (
	"math"

	"lehr/glass/unit"
)

// ball is a layered sphere in the course of its cooling. The unknowns are two
// strains for each layer: A, and b = B/R³ with the outer radius R of the layer,
// so that u/r = A + b (R/r)³.
type ball struct {
	outer       []float64 // outer radii [m]
	bulk, shear []float64 // moduli [Pa]
	expansion   []float64 // [1/K]
	shrunk      []float64 // e_i, shrinkage so far
	// σ_r = 3K(A+e) − 4G(stiff·b + held)(R/r)³, and with +2 for σ_θ: an elastic
	// layer has stiff 1 and held 0.
	stiff, held []float64
	a, b        []float64
}

func newBall(shells []Shell) *ball {
	n := len(shells)
	if n == 0 {
		panic("seal: a sphere needs a layer")
	}
	list := func() []float64 { return make([]float64, n) }
	s := &ball{outer: list(), bulk: list(), shear: list(), expansion: list(), shrunk: list(), stiff: list(), held: list(), a: list(), b: list()}
	inner := 0.0
	for i, l := range shells {
		positive("Young's modulus", float64(l.Young))
		positive("thickness of a layer", float64(l.Outer)-inner)
		inner = float64(l.Outer)
		s.outer[i] = inner
		s.bulk[i] = float64(l.Young) / (3 * (1 - 2*l.Poisson))
		s.shear[i] = float64(l.Young) / (2 * (1 + l.Poisson))
		s.expansion[i], s.stiff[i] = l.Expansion, 1
	}
	return s
}

// shrinkAll cools every layer by so many kelvin.
func (s *ball) shrinkAll(drop float64) {
	for i, α := range s.expansion {
		s.shrunk[i] += α * drop
	}
}

// solve finds the strains that bond and equilibrium want: those with which nothing
// pulls at the surface, which is a straight line in the strain of the core.
func (s *ball) solve() {
	unstrained := s.outward(0)
	s.outward(-unstrained / (s.outward(1) - unstrained))
}

// outward sets the strains of every layer for one of the core, from the middle out:
// each layer moves and pulls at its inside as the one within does. It returns the
// pull at the surface.
func (s *ball) outward(core float64) float64 {
	s.a[0], s.b[0] = core, 0
	pull, _ := s.at(0, s.outer[0])
	for i := 1; i < len(s.outer); i++ {
		moves, c := s.a[i-1]+s.b[i-1], math.Pow(s.outer[i]/s.outer[i-1], 3)
		k, g := 3*s.bulk[i], 4*s.shear[i]
		s.a[i] = (float64(pull) - k*s.shrunk[i] + g*(s.stiff[i]*moves+s.held[i]*c)) / (k + g*s.stiff[i])
		s.b[i] = (moves - s.a[i]) / c
		pull, _ = s.at(i, s.outer[i])
	}
	return float64(pull)
}

// twist is the deviatoric strain of layer i that still pulls, at its outside.
func (s *ball) twist(i int) float64 { return s.stiff[i]*s.b[i] + s.held[i] }

// at returns radial and hoop stress of layer i at the radius r.
func (s *ball) at(i int, r float64) (radial, hoop unit.Stress) {
	mean := 3 * s.bulk[i] * (s.a[i] + s.shrunk[i])
	if i == 0 {
		return unit.Stress(mean), unit.Stress(mean)
	}
	d := 2 * s.shear[i] * s.twist(i) * math.Pow(s.outer[i]/r, 3)
	return unit.Stress(mean - 2*d), unit.Stress(mean + d)
}

func (s *ball) stresses() []ShellStress {
	out := make([]ShellStress, len(s.outer))
	for i := range out {
		inner := s.outer[0]
		if i > 0 {
			inner = s.outer[i-1]
		}
		out[i].InnerRadial, out[i].InnerHoop = s.at(i, inner)
		out[i].OuterRadial, out[i].OuterHoop = s.at(i, s.outer[i])
	}
	out[len(out)-1].OuterRadial = 0 // a free surface, up to rounding
	return out
}
