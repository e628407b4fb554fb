package unit

import "strings"

// Length is a length in meters.
//
// Half or full thickness is the classic trap: stress and lag grow with the
// square of the distance to the middle, so that taking one for the other is
// wrong by a factor of 4. A Length does not know which it is. Where it is
// used, the name says so: thickness, halfThickness, diameter, radius.
type Length float64

// The units of length. An inch is exactly 25.4 mm.
//
// Source: international yard and pound agreement (1959), in NIST SP 811,
// appendix B [memory].
const (
	Meter      Length = 1
	Centimeter        = Meter / 100
	Millimeter        = Meter / 1000
	Micrometer        = Meter / 1000000
	Inch              = 25.4 * Millimeter
	Foot              = 12 * Inch
)

// maxLength is the longest length ParseLength reads.
const maxLength = 1000 * Meter

// Meters returns the length in m.
func (l Length) Meters() float64 { return float64(l) }

// Millimeters returns the length in mm, free of conversion noise.
func (l Length) Millimeters() float64 { return snap(float64(l/Millimeter), 0) }

// Inches returns the length in inches, free of conversion noise.
func (l Length) Inches() float64 { return snap(float64(l/Inch), 0) }

// In returns the number and the unit of l in a display system: mm or in.
func (l Length) In(s System) (float64, string) {
	if s == US {
		return l.Inches(), "in"
	}
	return l.Millimeters(), "mm"
}

// Text writes l with one decimal of a millimeter, or with up to three
// decimals of an inch: "63.5 mm" or "2.5 in".
func (l Length) Text(s System) string {
	x, u := l.In(s)
	if s == US {
		return trimZeros(fixed(x, 3)) + " " + u
	}
	return fixed(x, 1) + " " + u
}

// String writes l in mm so that it parses back.
func (l Length) String() string { return exact(l.Millimeters()) + " mm" }

// MarshalText returns String; a length that is not finite is an error.
func (l Length) MarshalText() ([]byte, error) { return marshaled(float64(l), l.String()) }

// UnmarshalText reads what ParseLength reads.
func (l *Length) UnmarshalText(text []byte) error { return parsed(l, text, ParseLength) }

// Set reads the value of a command-line flag.
func (l *Length) Set(text string) error { return l.UnmarshalText([]byte(text)) }

// Type names the value in the help of a flag.
func (l Length) Type() string { return "length" }

var length = quantity{"length", "mm", "in", [2]string{"6 mm", "1/4 in"}, 0, 30000,
	func(u string) bool { return lengthUnits[strings.ToLower(u)] > 0 }}

var lengthUnits = map[string]Length{
	"µm": Micrometer, "um": Micrometer, "micrometer": Micrometer, "micrometers": Micrometer,
	"mm": Millimeter, "millimeter": Millimeter, "millimeters": Millimeter, "millimetre": Millimeter, "millimetres": Millimeter,
	"cm": Centimeter, "centimeter": Centimeter, "centimeters": Centimeter, "centimetre": Centimeter, "centimetres": Centimeter,
	"m": Meter, "meter": Meter, "meters": Meter, "metre": Meter, "metres": Meter,
	"in": Inch, "in.": Inch, "inch": Inch, "inches": Inch, `"`: Inch,
	"ft": Foot, "ft.": Foot, "foot": Foot, "feet": Foot,
}

// ParseLength reads a length in µm, mm, cm, m, in or ft. Inches may be marked
// by ″, " or ”; fractions are read in every usual form: "2 1/2 in",
// "2-1/2 in", "1¼ in", ½", "1/8 in". Feet may be followed by inches: 1' 2",
// "1 ft 2 in". A single ' alone is refused, since it is too easily one half
// of an inch mark. Zero is read.
//
// Errors: *ParseError for a missing or unknown unit, a negative length, a
// broken fraction, above 1000 m, and what every parser refuses.
func ParseLength(s string) (Length, error) {
	text, err := length.clean(s)
	if err != nil {
		return 0, err
	}
	text = strings.ToLower(text)
	n, lit, unit, rest, err := lengthPart(s, text)
	if err != nil {
		return 0, err
	}
	size, known := lengthUnits[unit]
	isFeet := size == Foot || unit == "'"
	switch {
	case unit == "" && rest == "":
		return 0, length.bare(s, n, lit)
	case rest != "" && isFeet:
		m, _, unit, rest, err := lengthPart(s, rest)
		if err != nil {
			return 0, err
		}
		if lengthUnits[unit] != Inch || rest != "" || m >= 12 || strings.ContainsAny(lit, "./") {
			e := length.fail(s, "is not whole feet and less than 12 inches", 0, "")
			e.Hints = []string{"1 ft 2 in", "14 in"}
			return 0, e
		}
		return lengthWithin(s, Length(n)*Foot+Length(m)*Inch)
	case rest != "":
		return 0, length.fail(s, "goes on after the unit", n, lit)
	case unit == "'":
		e := length.fail(s, "has a single mark, which can mean feet or half an inch mark", n, lit)
		if length.offers(12*n, lit) {
			e.Hints = []string{lit + " ft", lit + " in"}
		}
		return 0, e
	case !known:
		return 0, length.unknown(s, unit, n, lit)
	}
	return lengthWithin(s, Length(n)*size)
}

func lengthWithin(input string, l Length) (Length, error) {
	x, err := length.limit(input, float64(l), 0, float64(maxLength), "is negative", "is above 1000 m")
	return Length(x), err
}

// lengthPart reads one amount and its unit, and returns what follows them.
func lengthPart(input, s string) (n float64, lit, unit, rest string, err error) {
	negative := strings.HasPrefix(s, "-")
	if negative {
		s = s[1:]
		if strings.HasPrefix(s, "-") || strings.HasPrefix(s, "+") {
			return 0, "", "", "", length.fail(input, "does not start with a number", 0, "")
		}
	}
	n, rest, err = amount(input, s)
	if err != nil {
		return 0, "", "", "", err
	}
	lit = strings.TrimSpace(strings.TrimPrefix(s[:len(s)-len(rest)], "+"))
	if negative {
		if n == 0 {
			lit = "" // without its sign it is refused next
		}
		return 0, "", "", "", length.fail(input, "is negative", n, lit)
	}
	end := strings.IndexFunc(rest, func(r rune) bool { _, ok := vulgar[r]; return ok || r >= '0' && r <= '9' })
	if end < 0 {
		end = len(rest)
	}
	unit, rest = strings.TrimSpace(rest[:end]), rest[end:]
	if rest != "" {
		unit = strings.TrimRight(unit, " -")
	}
	return n, lit, unit, rest, nil
}
