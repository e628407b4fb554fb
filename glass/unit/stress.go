package unit

import "strings"

// Stress is a force per area in pascal, positive in tension.
type Stress float64

// The units of stress. A psi is one pound-force per square inch:
// 0.45359237 kg · 9.80665 m/s² / (0.0254 m)², about 6894.757 Pa.
//
// Source: international yard and pound agreement (1959) and the standard
// acceleration of gravity (CGPM 1901), in NIST SP 811, appendix B [memory].
const (
	Pascal     Stress = 1
	Kilopascal        = 1e3 * Pascal
	Megapascal        = 1e6 * Pascal
	Gigapascal        = 1e9 * Pascal
	Bar               = 1e5 * Pascal
	PSI               = 0.45359237 * 9.80665 / (0.0254 * 0.0254) * Pascal
)

// maxStress is the largest stress, of either sign, that ParseStress reads.
const maxStress = 1e13 * Pascal

// Megapascals returns the stress in MPa, free of conversion noise.
func (x Stress) Megapascals() float64 { return snap(float64(x/Megapascal), 0) }

// PSI returns the stress in psi, free of conversion noise.
func (x Stress) PSI() float64 { return snap(float64(x/PSI), 0) }

// In returns the number and the unit of x in a display system: MPa or psi.
func (x Stress) In(s System) (float64, string) {
	if s == US {
		return x.PSI(), "psi"
	}
	return x.Megapascals(), "MPa"
}

// Text writes x with two decimals of a MPa, or in whole psi: "1.72 MPa" or "250 psi".
func (x Stress) Text(s System) string {
	n, u := x.In(s)
	if s == US {
		return fixed(n, 0) + " " + u
	}
	return fixed(n, 2) + " " + u
}

// String writes x in MPa so that it parses back.
func (x Stress) String() string { return exact(x.Megapascals()) + " MPa" }

// MarshalText returns String; a stress that is not finite is an error.
func (x Stress) MarshalText() ([]byte, error) { return marshaled(float64(x), x.String()) }

// UnmarshalText reads what ParseStress reads.
func (x *Stress) UnmarshalText(text []byte) error { return parsed(x, text, ParseStress) }

// Set reads the value of a command-line flag.
func (x *Stress) Set(text string) error { return x.UnmarshalText([]byte(text)) }

// Type names the value in the help of a flag.
func (x Stress) Type() string { return "stress" }

var stress = quantity{"stress", "MPa", "psi", [2]string{"1.7 MPa", "250 psi"}, -1e6, 1e6,
	func(u string) bool { return stressUnit(u) > 0 }}

var stressUnits = map[string]Stress{
	"pa": Pascal, "kpa": Kilopascal, "mpa": Megapascal, "gpa": Gigapascal, "bar": Bar,
	"n/mm²": Megapascal, "n/mm2": Megapascal, "n/mm^2": Megapascal,
	"n/m²": Pascal, "n/m2": Pascal, "n/m^2": Pascal,
	"psi": PSI, "ksi": 1000 * PSI,
	"lbf/in²": PSI, "lbf/in2": PSI, "lbf/in^2": PSI,
}

// stressUnit returns the stress a unit names, or 0.
func stressUnit(unit string) Stress {
	if unit == "mPa" {
		return 0
	}
	return stressUnits[strings.ReplaceAll(strings.ToLower(unit), " ", "")]
}

// ParseStress reads a stress in Pa, kPa, MPa, GPa, N/mm², bar, psi or ksi. A
// negative stress is compression. "mPa" is refused, since it means a
// thousandth of a pascal and is never meant.
//
// Errors: *ParseError for a missing or unknown unit, beyond ±1e13 Pa, and what
// every parser refuses.
func ParseStress(s string) (Stress, error) {
	n, lit, unit, err := stress.read(s)
	if err != nil {
		return 0, err
	}
	if unit == "mPa" {
		return 0, stress.fail(s, "mPa is a thousandth of a pascal; MPa is a million", n, lit)
	}
	size := stressUnit(unit)
	if size == 0 {
		return 0, stress.unknown(s, unit, n, lit)
	}
	n, err = stress.limit(s, n*float64(size), float64(-maxStress), float64(maxStress), "is below -1e13 Pa", "is above 1e13 Pa")
	return Stress(n), err
}
