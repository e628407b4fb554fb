package seal

import (
	"math"

	"lehr/glass/unit"
)

// Elastic is what a solid is to a seal: how stiff it is, and how much it
// shrinks.
type Elastic struct {
	Young     unit.Stress // Young's modulus
	Poisson   float64     // Poisson's ratio, below 1/2
	Expansion float64     // linear expansion [1/K], mean over the fall in question
}

// positive panics unless x is a finite number above zero: a formula asked for
// a solid without stiffness or size is a caller's bug.
func positive(name string, x float64) {
	if !(x > 0) || math.IsInf(x, 1) {
		panic("seal: " + name + " must be positive and finite")
	}
}

// fraction panics unless x lies between 0 and 1.
func fraction(name string, x float64) {
	if !(x >= 0 && x <= 1) {
		panic("seal: " + name + " must be between 0 and 1")
	}
}
