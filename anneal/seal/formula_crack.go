package seal

import (
	"math"

	"lehr/glass/unit"
)

// criticalRadius returns the radius of a stone below which no crack can run
// round it, because the stress it holds has not the energy to open one.
// Above it a crack runs if a flaw starts it.
//
// pressure is that of [SelsingPressure]; energy is what it takes to break
// the glass [J/m²], see [fractureEnergy].
//
//	R_c = 8 γ / {P² [(1+ν_m)/E_m + 2 (1−2ν_i)/E_i]}
//
// Valid: round stone far from surfaces, P not zero.
//
// Source: davidge1968, critical particle size [memory].
//
// Checked: testdata/cases/inclusions.toml
func criticalRadius(pressure unit.Stress, stone, glass Elastic, energy float64) unit.Length {
	positive("size of the pressure", math.Abs(float64(pressure)))
	positive("stone Young's modulus", float64(stone.Young))
	positive("glass Young's modulus", float64(glass.Young))
	yield := (1+glass.Poisson)/float64(glass.Young) + 2*(1-2*stone.Poisson)/float64(stone.Young)
	return unit.Length(8 * energy / (float64(pressure) * float64(pressure) * yield))
}

// fractureEnergy returns the energy that breaking glass takes for each surface
// made [J/m²].
//
// toughness is K [Pa√m].
//
//	γ = K²/(2E)
//
// Valid: sharp crack, even stress.
//
// Source: irwin1962, energy and stress intensity [memory].
//
// Checked: testdata/cases/inclusions.toml
func fractureEnergy(toughness float64, young unit.Stress) float64 {
	positive("Young's modulus", float64(young))
	return toughness * toughness / (2 * float64(young))
}

// flawDepth returns how deep a scratch or a groove must be for a tension to
// drive it.
//
// toughness is K [Pa√m]: [toughnessAtOnce] or [toughnessForYears].
//
//	K = 1.12 σ √(π c)
//
// Valid: long shallow flaw across the tension, far smaller than the stone.
//
// Source: irwin1962, edge crack [memory; factor 1.12 is that of a straight edge crack].
//
// Checked: testdata/cases/inclusions.toml
func flawDepth(tension unit.Stress, toughness float64) unit.Length {
	positive("tension", float64(tension))
	k := toughness / (1.12 * float64(tension))
	return unit.Length(k * k / math.Pi)
}

// Toughness of glass [Pa√m]: what breaks it dry and at once, and what lets a
// crack creep on for years where moist air reaches it.
//
// Source: fracture literature [memory]; 0.75 as received is also the abstract of
// a paper on a borosilicate of unnamed kind [verified].
const (
	toughnessAtOnce   = 0.75e6
	toughnessForYears = 0.25e6
)
