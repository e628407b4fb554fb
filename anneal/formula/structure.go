package formula

// StructuralShare returns the share of the stress left by slow, steady cooling
// that comes from the structure of the glass freezing later inside than
// outside: 0.40, measured on sheet glass.
//
// Valid: soda-lime glass, linear cooling through the annealing range.
//
// Source: gardon1970, abstract [verified].
//
// Checked: testdata/cases/viscoelastic.toml
func StructuralShare() float64 { return 0.40 }

// StructuralFactor returns by how much the stress left by slow cooling exceeds
// the mirror of the cooling stress, for a glass with the given expansion
// [1/K] below and above the transformation. For soda-lime glass it is the
// measured 1/(1 − 0.40) = 1.667; another glass takes the excess in proportion
// to its own step in expansion:
//
//	f = 1 + (1/0.6 − 1) · ((α_l − α_g)/α_g) / ((25.1 − 9.1)/9.1)
//
// Valid: slow, steady cooling; never below 1. Use the upper bound of
// expansionLiquid where that is uncertain.
//
// Source: gardon1970, abstract [derived: the proportion is ours, the 0.40 verified].
//
// Checked: testdata/cases/derived.toml
func StructuralFactor(expansion, expansionLiquid float64) float64 {
	positive("expansion", expansion)
	const sodaGlass, sodaLiquid = 9.1, 25.1 // 1e-6/K, the glass of the measurement
	excess := 1/(1-StructuralShare()) - 1
	return max(1, 1+excess*((expansionLiquid-expansion)/expansion)/((sodaLiquid-sodaGlass)/sodaGlass))
}
