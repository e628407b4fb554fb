package seal

import "lehr/glass/unit"

// ply is one layer of a flat laminate.
type ply struct {
	Thick unit.Length
	Elastic
}

// plyStress is the stress in the plane of a ply at its lower and upper face.
type plyStress struct{ Lower, Upper unit.Stress }

// laminate returns the stress in each ply of a flat laminate that has cooled,
// in the order of the plies, from below upward. Tension is positive.
//
// drop is the fall from the setting temperature, positive, one for all plies.
// held keeps the plate flat; free, it bends as its plies want. With the strain
// ε + κ z common to all plies and M = E/(1−ν),
//
//	σ = M (ε + κ z + α ΔT), Σ∫σ dz = 0, and Σ∫σ z dz = 0 unless held
//
// Valid: equal stress in both directions of the plane, more than one thickness
// from the rim.
//
// Source: timoshenko1970, bimetal strips [memory; re-derived in formula_plate_test.go].
//
// Checked: testdata/cases/seals.toml
func laminate(plies []ply, drop unit.Delta, held bool) []plyStress {
	var n0, n1, n2, f0, f1, z float64 // Σ∫M zⁿ dz, and with M α ΔT
	for _, p := range plies {
		positive("thickness of a ply", float64(p.Thick))
		positive("Young's modulus", float64(p.Young))
		m, e := float64(p.Young)/(1-p.Poisson), p.Expansion*float64(drop)
		a, b := z, z+float64(p.Thick)
		d0, d1, d2 := m*(b-a), m*(b*b-a*a)/2, m*(b*b*b-a*a*a)/3
		n0, n1, n2, f0, f1, z = n0+d0, n1+d1, n2+d2, f0+d0*e, f1+d1*e, b
	}
	ε, κ := -f0/n0, 0.0
	if det := n0*n2 - n1*n1; !held {
		ε, κ = (n1*f1-n2*f0)/det, (n1*f0-n0*f1)/det
	}
	out := make([]plyStress, len(plies))
	z = 0
	for i, p := range plies {
		m, e := float64(p.Young)/(1-p.Poisson), p.Expansion*float64(drop)
		out[i].Lower = unit.Stress(m * (ε + κ*z + e))
		z += float64(p.Thick)
		out[i].Upper = unit.Stress(m * (ε + κ*z + e))
	}
	return out
}
