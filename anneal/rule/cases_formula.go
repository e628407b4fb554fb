package rule

import (
	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/integrate/quad"

	"lehr/anneal/formula"
	"lehr/glass/cases"
	"lehr/glass/unit"
)

// soda is a soda-lime glass of round numbers.
var soda = formula.Elastic{Young: 70e9, Poisson: 0.22, Expansion: 9e-6}

const sodaKappa = 4.6e-7

// integral integrates a smooth function by Gauss-Legendre quadrature.
func integral(f func(float64) float64, a, b float64) float64 {
	return quad.Fixed(f, a, b, 32, nil, 0)
}

// stressFactors gives the stresses in units of Eα|q|l²/((1−ν)κ) while cooling.
func stressFactors() vals {
	one := func(s unit.Stress) float64 { return float64(s) / float64(soda.PerKelvin()) * sodaKappa }
	cyl := func(x float64) (h, a float64) {
		hoop, axial, _ := formula.CylinderStress(1, x, -1, sodaKappa, soda)
		return one(hoop), one(axial)
	}
	sphere := func(x float64) float64 {
		hoop, _ := formula.SphereStress(1, x, -1, sodaKappa, soda)
		return one(hoop)
	}
	hs, as := cyl(1)
	hc, ac := cyl(0)
	return vals{"slab_surface": one(formula.SlabStress(1, 1, -1, sodaKappa, soda)), "slab_center": one(formula.SlabStress(1, 0, -1, sodaKappa, soda)),
		"cyl_surface_hoop": hs, "cyl_surface_axial": as, "cyl_center_hoop": hc, "cyl_center_axial": ac,
		"sphere_surface": sphere(1), "sphere_center": sphere(0)}
}

// neutralPlaces gives the constants, after the stress there was found to vanish.
func neutralPlaces(t cases.T) vals {
	hoop, _, _ := formula.CylinderStress(1, formula.CylinderHoopNeutral, -1, sodaKappa, soda)
	_, axial, _ := formula.CylinderStress(1, formula.CylinderAxialNeutral, -1, sodaKappa, soda)
	sphere, _ := formula.SphereStress(1, formula.SphereHoopNeutral, -1, sodaKappa, soda)
	full := float64(formula.SlabStress(1, 1, -1, sodaKappa, soda))
	for i, s := range []unit.Stress{formula.SlabStress(1, formula.SlabNeutral, -1, sodaKappa, soda), hoop, axial, sphere} {
		if !scalar.EqualWithinAbs(float64(s)/full, 0, 1e-12) {
			t.Errorf("neutral place %d: stress %v", i, s)
		}
	}
	return vals{"slab_x_over_L": formula.SlabNeutral, "cyl_hoop_r_over_R": formula.CylinderHoopNeutral,
		"cyl_axial_r_over_R": formula.CylinderAxialNeutral, "sphere_hoop_r_over_R": formula.SphereHoopNeutral}
}

// sphereEquilibrium sums the hoop stress over a plane through the center, in MPa·R².
func sphereEquilibrium() vals {
	return vals{"integral_hoop_over_midplane": integral(func(r float64) float64 {
		hoop, _ := formula.SphereStress(0.025, r, -0.01, sodaKappa, soda)
		return -hoop.Megapascals() * r
	}, 0, 1)}
}
