package gather

import (
	"fmt"
	"math"

	"lehr/glass/unit"
)

// sphereVolume returns the volume of a sphere [m³] of the given diameter.
//
//	V = π D³/6
//
// Source: Archimedes, elementary geometry [derived in volume_test.go].
//
// Checked: testdata/cases/gather.toml
func sphereVolume(diameter unit.Length) float64 {
	d := float64(diameter)
	return math.Pi * d * d * d / 6
}

// sphereDiameter returns the diameter of a sphere of the given volume [m³].
//
//	D = (6 V/π)^⅓
//
// Source: Archimedes, elementary geometry [derived: the inverse of sphereVolume].
//
// Checked: testdata/cases/gather.toml
func sphereDiameter(volume float64) unit.Length {
	return unit.Length(math.Cbrt(6 * volume / math.Pi))
}

// capShare returns the share of a sphere's volume that lies in a cap.
//
// x is the height of the cap over the radius of the sphere, from 0 to 2.
//
//	f = x² (3 − x)/4
//
// Source: Archimedes, elementary geometry [derived in volume_test.go].
//
// Checked: testdata/cases/gather.toml
func capShare(x float64) float64 { return x * x * (3 - x) / 4 }

// capHeight returns the height of the cap, over the radius of the sphere, that
// holds a share of its volume: the inverse of [capShare].
//
// share is from 0 to 1.
//
//	u = 2 cos((arccos(2 f − 1) + 4π)/3), x = 1 − u
//
// Source: Cardano's formula for u³ − 3u + 4f − 2 = 0 [derived in volume_test.go].
//
// Checked: testdata/cases/gather.toml
func capHeight(share float64) float64 {
	return 1 - 2*math.Cos((math.Acos(2*share-1)+4*math.Pi)/3)
}

// capVolume returns the volume [m³] of a cap of a sphere.
//
// diameter is that of the whole sphere, height that of the cap.
//
//	V = π h² (3R − h)/3
//
// Source: Archimedes, elementary geometry [derived in volume_test.go].
//
// Checked: testdata/cases/gather.toml
func capVolume(diameter, height unit.Length) float64 {
	return sphereVolume(diameter) * capShare(float64(2*height/diameter))
}

// frustumVolume returns the volume [m³] of a cone cut off above its base.
//
// bottom and top are the diameters of its ends: top 0 makes a cone, top equal
// to bottom a cylinder.
//
//	V = π h (a² + ab + b²)/3, a and b the radii
//
// Source: elementary geometry [derived in volume_test.go].
//
// Checked: testdata/cases/gather.toml
func frustumVolume(bottom, top, height unit.Length) float64 {
	a, b := float64(bottom/2), float64(top/2)
	return math.Pi * float64(height) * (a*a + a*b + b*b) / 3
}

// shellVolume returns the volume [m³] of the clear that cases a ball all round.
//
// outside is the diameter of the whole, wall the thickness of the clear.
//
//	V = π (D³ − (D − 2t)³)/6
//
// Source: Archimedes, elementary geometry [derived in volume_test.go].
//
// Checked: testdata/cases/gather.toml
func shellVolume(outside, wall unit.Length) float64 {
	return sphereVolume(outside) - sphereVolume(outside-2*wall)
}

// rodLength returns the length of rod that holds a volume [m³].
//
//	L = 4 V/(π d²); for a sphere of diameter D, 2 D³/(3 d²)
//
// Source: elementary geometry [derived in volume_test.go].
//
// Checked: testdata/cases/gather.toml
func rodLength(volume float64, diameter unit.Length) unit.Length {
	d := float64(diameter)
	return unit.Length(4 * volume / (math.Pi * d * d))
}

// MassTolerance returns how far the mass of a piece may be off for its size to
// come out right, to first order.
//
// size is the diameter of a sphere or any one measure of a piece whose
// proportions stay; allowed is how far that may be off, either way.
//
//	dm/m = 3 dD/D
//
// Valid: allowed small beside size.
//
// Source: elementary calculus [derived in volume_test.go].
//
// Checked: testdata/cases/gather.toml
func MassTolerance(mass unit.Mass, size, allowed unit.Length) unit.Mass {
	return mass * unit.Mass(3*allowed/size)
}

// sizeTolerance returns how far a sphere's diameter is off when rod of a
// diameter that is off is cut by length, to first order.
//
//	dD/D = ⅔ dd/d
//
// Valid: off small beside rod. Weighing removes it.
//
// Source: elementary calculus [derived in volume_test.go].
//
// Checked: testdata/cases/gather.toml
func sizeTolerance(size, rod, off unit.Length) unit.Length {
	return size * 2 / 3 * (off / rod)
}

// WaterDensity is the density of water at 20 °C [kg/m³].
//
// Source: handbook value at 20 °C [memory; 0.1 % per 5 K, which a bench does not see].
const WaterDensity = 998.2

// densest is what a glass file may state at most, too [kg/m³].
const densest = 10_000

// WeighedDensity returns the volume [m³] and the density [kg/m³] of a piece of
// glass weighed in air and again hanging in water.
//
//	V = (m_air − m_water)/ρ_water
//
// Deviates: the buoyancy of air is left out, 0.05 % for glass.
//
// Errors: a mass in water that is not above 0 and below that in air, or masses
// that no glass has: above 10 g/cm³.
//
// Source: Archimedes, On Floating Bodies [derived].
//
// Checked: testdata/cases/gather.toml
func WeighedDensity(inAir, inWater unit.Mass) (volume, density float64, err error) {
	volume = float64(inAir-inWater) / WaterDensity
	density = float64(inAir) / volume
	reason := ""
	switch {
	case !(inWater > 0) || !(inAir > inWater):
		reason = "in water it must weigh less, and more than nothing"
	case density > densest:
		reason = "more than 10 g/cm³, and no glass is so dense; weigh again"
	default:
		return volume, density, nil
	}
	return 0, 0, fmt.Errorf("%s in air and %s in water: %s", inAir, inWater, reason)
}

// HotSize returns the size of a piece that has the temperature of the kiln.
//
// cold is its size at room temperature; expansion is the mean linear expansion
// [1/K] over warmer, the kelvin from room to kiln.
//
//	D_hot = D (1 + α ΔT)
//
// Valid: up to the annealing range. At working heat the liquid expands more.
//
// Source: definition of linear expansion [derived].
//
// Checked: testdata/cases/gather.toml
func HotSize(cold unit.Length, expansion float64, warmer unit.Delta) unit.Length {
	return cold * unit.Length(1+expansion*float64(warmer))
}
