package seal

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"lehr/glass/unit"
)

// ball is a layered sphere in the course of its cooling. The unknowns are two
// strains for each layer: A, and b = B/R³ with the outer radius R of the layer,
// so that u/r = A + b (R/r)³. Scaled so, the equations are of one order of
// magnitude whatever the sizes.
type ball struct {
	outer       []float64 // outer radii [m]
	bulk, shear []float64 // moduli [Pa]
	expansion   []float64 // [1/K]
	shrunk      []float64 // e_i, shrinkage so far
	// σ_r = 3K(A+e) − 4G(stiff·b + held)(R/r)³, and with +2 for σ_θ: an elastic
	// layer has stiff 1 and held 0.
	stiff, held []float64
	a, b        []float64
	m           *mat.Dense
	rhs, x      *mat.VecDense
	lu          mat.LU
}

func newBall(shells []Shell) *ball {
	n := len(shells)
	if n == 0 {
		panic("seal: a sphere needs a layer")
	}
	list := func() []float64 { return make([]float64, n) }
	s := &ball{outer: list(), bulk: list(), shear: list(), expansion: list(), shrunk: list(), stiff: list(), held: list(), a: list(), b: list(),
		m: mat.NewDense(2*n, 2*n, nil), rhs: mat.NewVecDense(2*n, nil), x: mat.NewVecDense(2*n, nil)}
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

// solve finds the strains that bond and equilibrium want. Unknown 2i is A_i,
// unknown 2i+1 is b_i. Rows of stress are divided by a modulus.
func (s *ball) solve() {
	n, unitStress := len(s.outer), s.shear[len(s.outer)-1]
	s.m.Zero()
	s.rhs.Zero()
	row := 0
	put := func(col int, x float64) { s.m.Set(row, col, s.m.At(row, col)+x) }
	// radial adds ±σ_r of layer i at the radius r to the row.
	radial := func(i int, r, sign float64) {
		c := math.Pow(s.outer[i]/r, 3)
		put(2*i, sign*3*s.bulk[i]/unitStress)
		put(2*i+1, -sign*4*s.shear[i]*s.stiff[i]*c/unitStress)
		known := 3*s.bulk[i]*s.shrunk[i] - 4*s.shear[i]*s.held[i]*c
		s.rhs.SetVec(row, s.rhs.AtVec(row)-sign*known/unitStress)
	}
	put(1, 1) // b of the core is zero
	row++
	for i := 0; i+1 < n; i++ {
		r := s.outer[i]
		put(2*i, 1)
		put(2*i+1, 1)
		put(2*i+2, -1)
		put(2*i+3, -math.Pow(s.outer[i+1]/r, 3))
		row++
		radial(i, r, 1)
		radial(i+1, r, -1)
		row++
	}
	radial(n-1, s.outer[n-1], 1)
	s.lu.Factorize(s.m)
	if err := s.lu.SolveVecTo(s.x, false, s.rhs); err != nil {
		if _, poor := err.(mat.Condition); !poor {
			panic("seal: layered sphere: " + err.Error())
		}
	}
	for i := range s.a {
		s.a[i], s.b[i] = s.x.AtVec(2*i), s.x.AtVec(2*i+1)
	}
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
