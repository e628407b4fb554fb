package formula

import "lehr/glass/unit"

// What stays in a piece that froze while cooling at a steady rate, without the
// structural share (see [StructuralFactor]), is minus the cooling stress: the
// theory of instant freezing [memory: bartenev].

func slabResidual(halfThickness unit.Length, rate unit.Rate, kappa float64, e Elastic) (surface, middle unit.Stress) {
	return -SlabStress(halfThickness, 1, rate, kappa, e), -SlabStress(halfThickness, 0, rate, kappa, e)
}

// cylinderResidual is the stress along a long cylinder.
func cylinderResidual(radius unit.Length, rate unit.Rate, kappa float64, e Elastic) (surface, axis unit.Stress) {
	_, surface, _ = CylinderStress(radius, 1, rate, kappa, e)
	_, axis, _ = CylinderStress(radius, 0, rate, kappa, e)
	return -surface, -axis
}

func sphereResidual(radius unit.Length, rate unit.Rate, kappa float64, e Elastic) (surface, center unit.Stress) {
	surface, _ = SphereStress(radius, 1, rate, kappa, e)
	center, _ = SphereStress(radius, 0, rate, kappa, e)
	return -surface, -center
}
