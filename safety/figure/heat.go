package figure

import (
	"lehr/glass/unit"
	"lehr/safety/quantity"
	"lehr/safety/source"
)

// IndoorWBGT returns the wet-bulb globe temperature, the usual measure of heat
// stress, without sun.
//
// wet is the natural wet-bulb reading, globe that of the black globe.
//
//	WBGT = 0.7 NWB + 0.3 GT
//
// Valid: 0 °C to 100 °C, globe not below wet.
//
// Source: two independent study texts [corroborated].
//
// Checked: testdata/cases/safety-heat.toml
func IndoorWBGT(wet, globe unit.Temp) (unit.Temp, error) {
	err := refuse(
		between("wet-bulb temperature", wet.Celsius(), "°C", 0, 100),
		between("globe temperature", globe.Celsius(), "°C", 0, 100))
	if err != nil {
		return unit.Temp{}, err
	}
	if globe.Less(wet) {
		return unit.Temp{}, &InputError{"globe temperature", globe.String(), "must not be below the wet-bulb one, " + wet.String()}
	}
	return unit.Kelvin(0.7*wet.Kelvin() + 0.3*globe.Kelvin()), nil
}

// BareHandLimit is the temperature above which the lines speak of tools or
// gloves: no threshold above it holds for every material and time. The choice
// is ours; no standard sets it for kilns.
//
// Source: iso13732, long contact with any material, in two texts
// [corroborated].
var BareHandLimit = unit.Celsius(43)

// Contact is how long a hot surface is touched.
type Contact int

// The contact times.
const (
	Brush  Contact = iota // under 1 s
	Touch                 // 1 s to 10 s
	Hold                  // 10 s to 1 min
	Longer                // over 1 min
)

// TouchLimit returns the limit for touching a product's hot surface of
// "metal", "plastic" or "glass" for a time, and how well the number was read.
// The numbers for glass are from memory: they never print.
//
// Valid: those three materials and the four contact times.
//
// Source: iec62368, limits TS1, in a maker-independent brief [verified for
// metal, corroborated for plastic, memory for glass].
//
// Checked: testdata/cases/safety-touch.toml
func TouchLimit(material string, c Contact) (unit.Temp, source.Status, error) {
	if c < Brush || c > Longer {
		return unit.Temp{}, "", &InputError{"contact", quantity.Digits(float64(c), 3), "must be brush, touch, hold or longer"}
	}
	switch material {
	case "metal":
		return unit.Celsius([]float64{70, 60, 51, 48}[c]), source.Verified, nil
	case "plastic":
		return unit.Celsius([]float64{94, 77, 60, 48}[c]), source.Corroborated, nil
	case "glass":
		return unit.Celsius([]float64{85, 71, 56, 48}[c]), source.Memory, nil
	}
	return unit.Temp{}, "", &InputError{"material", material, `must be "metal", "plastic" or "glass"`}
}
