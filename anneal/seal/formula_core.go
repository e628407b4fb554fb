package seal

import "lehr/glass/unit"

// SelsingPressure returns how hard the glass squeezes a small round inclusion
// after both have cooled from the temperature where the glass set. A negative
// answer means that the glass pulls on the inclusion.
//
// drop is the fall from the setting temperature, positive. Each expansion is
// the mean over that fall. The glass at the interface carries the same
// pressure radially and, around the inclusion, half of it as tension:
// σ_r = −P (a/r)³, σ_θ = +P/2 (a/r)³ at the distance r from the center.
//
//	P = (α_glass − α_inclusion) ΔT / [(1+ν_m)/(2 E_m) + (1−2ν_i)/E_i]
//
// Valid: small sphere far from the surface and from neighbors, perfect bond,
// elastic below the setting temperature. A pulled inclusion usually comes loose.
//
// Source: selsing1961, p. 419 [memory; re-derived in formula_core_test.go].
//
// Checked: testdata/cases/seals.toml
func SelsingPressure(inclusion, surround Elastic, drop unit.Delta) unit.Stress {
	p, _, _ := coreInShell(inclusion, surround, 0, drop)
	return p
}

// coreInShell returns the pressure between a round core and the glass shell
// around it after both have cooled, and the stress around the core in the shell
// at its inside and outside. The pressure is positive when the shell squeezes
// the core.
//
// ratio is core radius over outer radius, from 0 to below 1; drop is the fall
// from the setting temperature, positive.
//
// Valid: concentric spheres, perfect bond, elastic below the setting temperature.
//
// Source: timoshenko1970, sphere under pressure [memory; re-derived in formula_core_test.go].
//
// Checked: testdata/cases/seals.toml
func coreInShell(core, shell Elastic, ratio float64, drop unit.Delta) (pressure, hoopInside, hoopOutside unit.Stress) {
	fraction("ratio", ratio)
	positive("1 − ratio", 1-ratio)
	positive("core Young's modulus", float64(core.Young))
	positive("shell Young's modulus", float64(shell.Young))
	c := ratio * ratio * ratio
	hoop := (1 + 2*c) / (2 * (1 - c)) // hoop stress over pressure at the inside
	yield := ((1-shell.Poisson)*hoop+shell.Poisson)/float64(shell.Young) + (1-2*core.Poisson)/float64(core.Young)
	p := (shell.Expansion - core.Expansion) * float64(drop) / yield
	return unit.Stress(p), unit.Stress(p * hoop), unit.Stress(p * 3 * c / (2 * (1 - c)))
}

// sandwichStress returns the stress in the core and in the outer layers of a
// flat three-layer sandwich after it has cooled. Tension is positive; the glass
// with the higher expansion ends in tension.
//
// outerOverCore is the thickness of both outer layers together over that of the
// core; drop is the fall from the setting temperature, positive.
//
//	σ_core = M_c M_o t_o (α_c − α_o) ΔT/(M_c t_c + M_o t_o), M = E/(1−ν)
//
// Valid: equal outer layers, so that it stays flat; more than one thickness from the edge.
//
// Source: timoshenko1970, bimetal strips [memory; re-derived in formula_core_test.go].
//
// Checked: testdata/cases/seals.toml
func sandwichStress(core, outer Elastic, outerOverCore float64, drop unit.Delta) (inCore, inOuter unit.Stress) {
	positive("thickness ratio", outerOverCore)
	mc := float64(core.Young) / (1 - core.Poisson)
	mo := float64(outer.Young) / (1 - outer.Poisson)
	s := mc * mo * outerOverCore * (core.Expansion - outer.Expansion) * float64(drop) / (mc + mo*outerOverCore)
	return unit.Stress(s), unit.Stress(-s / outerOverCore)
}

// SealMismatchLimit returns the difference in expansion [1/K] above which a
// test seal of two glasses is likely to break: 300 parts per million of
// contraction over the fall from the setting temperature.
//
// drop is that fall, positive.
//
// Valid: standard test seals; a thick or notched piece breaks at less.
//
// Source: astm-f144, scope [corroborated].
//
// Checked: testdata/cases/seals.toml
func SealMismatchLimit(drop unit.Delta) float64 {
	positive("drop", float64(drop))
	return 300e-6 / float64(drop)
}
