package unit

import "strings"

// Mass is a mass in kilograms, such as that of the glass in a piece.
type Mass float64

// The units of mass. A pound is exactly 0.45359237 kg, an ounce a sixteenth of it.
//
// Source: international yard and pound agreement (1959), in NIST SP 811,
// appendix B [memory].
const (
	Kilogram Mass = 1
	Gram          = Kilogram / 1000
	Pound         = 0.45359237 * Kilogram
	Ounce         = Pound / 16
)

// maxMass is the largest mass ParseMass reads.
const maxMass = 1000 * Kilogram

// Grams returns the mass in g, free of conversion noise.
func (m Mass) Grams() float64 { return snap(float64(m/Gram), 0) }

// Kilograms returns the mass in kg.
func (m Mass) Kilograms() float64 { return float64(m) }

// ounces returns the mass in oz, free of conversion noise.
func (m Mass) ounces() float64 { return snap(float64(m/Ounce), 0) }

// In returns the number and the unit of m in a display system: g or oz.
func (m Mass) In(s System) (float64, string) {
	if s == US {
		return m.ounces(), "oz"
	}
	return m.Grams(), "g"
}

// Text writes m whole from 10 g or oz up, with one decimal from 1 up, else
// with two: "299 g" or "10.5 oz".
func (m Mass) Text(s System) string {
	x, u := m.In(s)
	if s == US && x >= 9.95 {
		return fixed(x, 1) + " " + u
	}
	return graded(x) + " " + u
}

// String writes m in g so that it parses back.
func (m Mass) String() string { return exact(m.Grams()) + " g" }

// MarshalText returns String; a mass that is not finite is an error.
func (m Mass) MarshalText() ([]byte, error) { return marshaled(float64(m), m.String()) }

// UnmarshalText reads what ParseMass reads.
func (m *Mass) UnmarshalText(text []byte) error { return parsed(m, text, ParseMass) }

// Set reads the value of a command-line flag.
func (m *Mass) Set(text string) error { return m.UnmarshalText([]byte(text)) }

// Type names the value in the help of a flag.
func (m Mass) Type() string { return "mass" }

var mass = quantity{"mass", "g", "oz", [2]string{"299 g", "10.5 oz"}, 0, 35000, // oz, of 1000 kg
	func(u string) bool { return massUnits[strings.ToLower(u)] > 0 }}

var massUnits = map[string]Mass{
	"g": Gram, "gram": Gram, "grams": Gram, "gramme": Gram, "grammes": Gram,
	"kg": Kilogram, "kilogram": Kilogram, "kilograms": Kilogram, "kilo": Kilogram, "kilos": Kilogram,
	"oz": Ounce, "oz.": Ounce, "ounce": Ounce, "ounces": Ounce,
	"lb": Pound, "lb.": Pound, "lbs": Pound, "pound": Pound, "pounds": Pound,
}

// ParseMass reads a mass in g, kg, oz or lb: "299 g", "10.5 oz".
//
// Errors: *ParseError for a missing or unknown unit, a negative mass, above
// 1000 kg, and what every parser refuses.
func ParseMass(s string) (Mass, error) {
	n, lit, unit, err := mass.read(s)
	if err != nil {
		return 0, err
	}
	size := massUnits[strings.ToLower(unit)]
	switch {
	case n < 0:
		return 0, mass.fail(s, "is negative", -n, lit[1:])
	case size == 0:
		return 0, mass.unknown(s, unit, n, lit)
	}
	n, err = mass.limit(s, n*float64(size), 0, float64(maxMass), "is negative", "is above 1000 kg")
	return Mass(n), err
}
