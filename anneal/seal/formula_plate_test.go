package seal

import "testing"

// Laminates against the bimetal strip and the sandwich; force and moment vanish.
func TestLaminate(t *testing.T) {
	a, b := Elastic{63.5e9, 0.2, 3.3e-6}, Elastic{63.5e9, 0.2, 3.5e-6}
	// Two equal plies of equal stiffness that may bend: the far faces carry
	// −1/4, the seal ±1/2 of M Δα ΔT (Timoshenko's strip with m = n = 1).
	m := 63.5e9 / 0.8 * 0.2e-6 * 490
	s := laminate([]ply{{0.001, a}, {0.001, b}}, 490, false)
	close(t, "lower face", float64(s[0].Lower), m/4, 1e-9)
	close(t, "below the seal", float64(s[0].Upper), -m/2, 1e-9)
	close(t, "above the seal", float64(s[1].Lower), m/2, 1e-9)
	close(t, "upper face", float64(s[1].Upper), -m/4, 1e-9)
	core, outer := sandwichStress(a, b, 0.5, 490)
	for _, held := range []bool{true, false} {
		s = laminate([]ply{{0.001, b}, {0.004, a}, {0.001, b}}, 490, held)
		close(t, "core", float64(s[1].Lower), float64(core), 1e-9)
		close(t, "outer", float64(s[2].Upper), float64(outer), 1e-9)
	}
	plies := []ply{{0.001, b}, {0.003, opal}, {0.002, soda}}
	force, moment, z := 0.0, 0.0, 0.0
	for i, q := range laminate(plies, 400, false) {
		h := float64(plies[i].Thick)
		force += h * float64(q.Lower+q.Upper) / 2
		moment += h * (z*float64(q.Lower+q.Upper)/2 + h*float64(q.Lower+2*q.Upper)/6)
		z += h
	}
	close(t, "force over 1 N/m and moment over 1 N", force+moment+1, 1, 1e-6)
}
