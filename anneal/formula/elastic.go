package formula

import (
	"math"

	"lehr/glass/unit"
)

// Elastic holds the constants that turn a temperature difference into stress.
type Elastic struct {
	Young     unit.Stress // Young's modulus
	Poisson   float64     // Poisson's ratio, below 1/2
	Expansion float64     // linear expansion [1/K], mean over the range in question
}

// PerKelvin returns the stress in a flat body that is held in two directions
// and cooled by one kelvin: E α / (1−ν).
func (e Elastic) PerKelvin() unit.Stress {
	positive("Young's modulus", float64(e.Young))
	return unit.Stress(float64(e.Young) * e.Expansion / (1 - e.Poisson))
}

// Shear returns the shear modulus E / (2 (1+ν)).
func (e Elastic) Shear() unit.Stress {
	return unit.Stress(float64(e.Young) / (2 * (1 + e.Poisson)))
}

// positive panics unless x is a finite number above zero: a formula asked for
// a glass without conductivity or a piece without size is a caller's bug.
func positive(name string, x float64) {
	if !(x > 0) || math.IsInf(x, 1) {
		panic("anneal: " + name + " must be positive and finite")
	}
}

// fraction panics unless x lies between 0 and 1.
func fraction(name string, x float64) {
	if !(x >= 0 && x <= 1) {
		panic("anneal: " + name + " must be between 0 and 1")
	}
}
