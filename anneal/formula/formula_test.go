package formula

import (
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/integrate/quad"
)

// soda is a soda-lime glass of round numbers.
var soda = Elastic{Young: 70e9, Poisson: 0.22, Expansion: 9e-6}

const sodaKappa = 4.6e-7

// integral integrates a smooth function by Gauss-Legendre quadrature.
func integral(f func(float64) float64, a, b float64) float64 {
	return quad.Fixed(f, a, b, 32, nil, 0)
}

func close(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !scalar.EqualWithinAbsOrRel(got, want, rel*1e-3, rel) {
		t.Errorf("%s: got %.9g, want %.9g (rel %g)", what, got, want, rel)
	}
}

func TestElasticShear(t *testing.T) {
	close(t, "shear modulus of soda-lime glass, GPa", float64(soda.Shear())/1e9, 28.6885, 1e-5)
}

func TestBadArguments_panic(t *testing.T) {
	for name, f := range map[string]func(){
		"no kappa":     func() { SphereLag(0.01, -1, 0) },
		"no size":      func() { SlabLag(0, -1, sodaKappa) },
		"no modulus":   func() { SphereStress(0.01, 1, -1, sodaKappa, Elastic{}) },
		"outside":      func() { SlabStress(0.01, 1.1, -1, sodaKappa, soda) },
		"fo":           func() { SlabStep(-1) },
		"offset":       func() { SphereRetardation(0.01, 0.02, 1, 4e-12) },
		"thick tube":   func() { TubePressure(0.01, 0.005) },
		"no viscosity": func() { MaxwellTime(0, 1) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			f()
		}()
	}
}
