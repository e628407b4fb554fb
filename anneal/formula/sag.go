package formula

import (
	"math"
	"time"

	"lehr/glass/unit"
)

// gravity is the standard acceleration of free fall [m/s²].
const gravity = 9.80665

// SlabSag returns how far the middle of a slab that lies on two supports sinks
// under its own weight during a hold.
//
// thickness is the full thickness, span the distance of the supports; density
// [kg/m³] and viscosity [Pa·s] are those of the glass at the hold.
//
//	s = 5/96 · ρ g L⁴ t/(η h²)
//
// Valid: sag small against the thickness, span more than five thicknesses,
// constant viscosity. Stems and other long thin parts need a support whatever
// this says.
//
// Source: timoshenko1970, bending of beams, E replaced by 3 η [derived in sag_test.go].
//
// Checked: testdata/cases/derived.toml
func SlabSag(thickness, span unit.Length, density, viscosity float64, hold time.Duration) unit.Length {
	return sag(5./96, thickness, span, density, viscosity, hold)
}

// RodSag returns how far the middle of a round rod that lies on two supports
// sinks under its own weight during a hold.
//
// diameter is the whole diameter, span the distance of the supports; density
// [kg/m³] and viscosity [Pa·s] are those of the glass at the hold.
//
//	s = 5/72 · ρ g L⁴ t/(η d²)
//
// Valid: as [SlabSag].
//
// Source: timoshenko1970, bending of beams, E replaced by 3 η [derived in sag_test.go].
//
// Checked: testdata/cases/derived.toml
func RodSag(diameter, span unit.Length, density, viscosity float64, hold time.Duration) unit.Length {
	return sag(5./72, diameter, span, density, viscosity, hold)
}

// MarkDepth returns how deep a hard grain of the shelf sinks into a piece
// during a hold.
//
// load is the force on the grain [N], grain its radius, viscosity [Pa·s] that
// of the glass at the hold.
//
//	s = (3 F t/(16 η √r))^(2/3)
//
// Valid: mark shallow against the grain, one grain carrying the load, constant
// viscosity.
//
// Source: johnson1985, Hertz contact of a rigid sphere, shear modulus replaced by η/t [derived].
//
// Checked: testdata/cases/derived.toml
func MarkDepth(load float64, grain unit.Length, viscosity float64, hold time.Duration) unit.Length {
	notNegative("load", load)
	positive("grain", float64(grain))
	positive("viscosity", viscosity)
	return unit.Length(math.Pow(3*load*hold.Seconds()/(16*viscosity*math.Sqrt(float64(grain))), 2./3))
}

func sag(n float64, size, span unit.Length, density, viscosity float64, hold time.Duration) unit.Length {
	positive("size", float64(size))
	positive("span", float64(span))
	positive("density", density)
	positive("viscosity", viscosity)
	perSecond := n * density * gravity * math.Pow(float64(span), 4) / (viscosity * float64(size*size))
	return unit.Length(perSecond * hold.Seconds())
}
