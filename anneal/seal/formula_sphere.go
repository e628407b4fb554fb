package seal

import "lehr/glass/unit"

// Shell is one layer of a layered sphere.
type Shell struct {
	Outer unit.Length // radius of its outside
	Elastic
}

// ShellStress is the stress at the inside and the outside of a shell. Inside
// the innermost one, a solid core, both are the same from all sides.
type ShellStress struct {
	InnerRadial, InnerHoop, OuterRadial, OuterHoop unit.Stress
}

// LayeredSphere returns the stress in each layer of a sphere of concentric
// layers that has cooled, tension positive.
//
// shells stand from the core outward, with rising outer radii; drop is the fall
// from the setting temperature, positive, one for all of them. The answer has
// one element for each shell, in the same order.
//
// In layer i the radius grows by u = A_i r + B_i/r², B = 0 in the core. With the
// shrinkage e_i = α_i ΔT,
//
//	σ_r = 3 K_i (A_i + e_i) − 4 G_i B_i/r³,  σ_θ = 3 K_i (A_i + e_i) + 2 G_i B_i/r³
//
// and u and σ_r are continuous at each interface, σ_r = 0 outside.
//
// Valid: perfect bond, elastic below the setting temperature, even temperature.
//
// Source: timoshenko1970, sphere under pressure [memory; re-derived in formula_sphere_test.go].
//
// Checked: testdata/cases/inclusions.toml
func LayeredSphere(shells []Shell, drop unit.Delta) []ShellStress {
	b := newBall(shells)
	b.shrinkAll(float64(drop))
	b.solve()
	return b.stresses()
}
