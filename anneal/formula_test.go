package anneal

import (
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/integrate/quad"

	"lehr/glass/unit"
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

// stressFactors gives the stresses in units of Eα|q|l²/((1−ν)κ) while cooling.
func stressFactors() vals {
	one := func(s unit.Stress) float64 { return float64(s) / float64(soda.PerKelvin()) * sodaKappa }
	cyl := func(x float64) (h, a float64) {
		hoop, axial, _ := CylinderStress(1, x, -1, sodaKappa, soda)
		return one(hoop), one(axial)
	}
	sphere := func(x float64) float64 {
		hoop, _ := SphereStress(1, x, -1, sodaKappa, soda)
		return one(hoop)
	}
	hs, as := cyl(1)
	hc, ac := cyl(0)
	return vals{"slab_surface": one(SlabStress(1, 1, -1, sodaKappa, soda)), "slab_center": one(SlabStress(1, 0, -1, sodaKappa, soda)),
		"cyl_surface_hoop": hs, "cyl_surface_axial": as, "cyl_center_hoop": hc, "cyl_center_axial": ac,
		"sphere_surface": sphere(1), "sphere_center": sphere(0)}
}

// neutralPlaces gives the constants, after the stress there was found to vanish.
func neutralPlaces(t testing.TB) vals {
	hoop, _, _ := CylinderStress(1, CylinderHoopNeutral, -1, sodaKappa, soda)
	_, axial, _ := CylinderStress(1, CylinderAxialNeutral, -1, sodaKappa, soda)
	sphere, _ := SphereStress(1, SphereHoopNeutral, -1, sodaKappa, soda)
	full := float64(SlabStress(1, 1, -1, sodaKappa, soda))
	for i, s := range []unit.Stress{SlabStress(1, SlabNeutral, -1, sodaKappa, soda), hoop, axial, sphere} {
		if !scalar.EqualWithinAbs(float64(s)/full, 0, 1e-12) {
			t.Errorf("neutral place %d: stress %v", i, s)
		}
	}
	return vals{"slab_x_over_L": SlabNeutral, "cyl_hoop_r_over_R": CylinderHoopNeutral,
		"cyl_axial_r_over_R": CylinderAxialNeutral, "sphere_hoop_r_over_R": SphereHoopNeutral}
}

// sphereEquilibrium sums the hoop stress over a plane through the center, in MPa·R².
func sphereEquilibrium() vals {
	return vals{"integral_hoop_over_midplane": integral(func(r float64) float64 {
		hoop, _ := SphereStress(0.025, r, -0.01, sodaKappa, soda)
		return -hoop.Megapascals() * r
	}, 0, 1)}
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
