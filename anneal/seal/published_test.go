package seal

import (
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"lehr/glass/casetest"
)

// integral is ∫ f from a to b by Gauss's rule.
func integral(f func(float64) float64, a, b float64) float64 {
	return quad.Fixed(f, a, b, 32, nil, 0)
}

// soda is a soda-lime glass.
var soda = Elastic{Young: 70e9, Poisson: 0.22, Expansion: 9e-6}

func TestPublished(t *testing.T) { casetest.Run(t, "seal", Cases()) }
