package polariscope

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// Nanometer is the unit of retardation.
const Nanometer = unit.Length(1e-9)

// Disc is the retardation of one strain disc, and the width of one temper
// number: 565 nm · 7.26°/180°.
//
// Source: ASTM C148, method B: 7.26° of the analyzer in light of 565 nm per
// number [verified in catalog copies; the 22.8 nm of the discs agree].
const Disc = 565 * Nanometer * 7.26 / 180

// The bounds of what can be read.
const (
	// Faint is the retardation below which the bare crossed field shows
	// nothing beside the leak of the sheets.
	Faint = 10 * Nanometer
	// GrayEnds is the retardation below which there is no color to read.
	GrayEnds = 200 * Nanometer
	// FirstOrder is where the first order ends for a reading: beyond it the
	// order must be known.
	FirstOrder = 565 * Nanometer
	// Greatest is the largest retardation that is taken.
	Greatest = 20000 * Nanometer
)

// rotation returns the retardation for a rotation of the analyzer [degrees],
// beside whole orders: after one quarter-wave plate (Sénarmont), or between
// two (Tardy).
//
//	R = λ (n + θ/180°)
//
// Source: ASTM F218, analyzer rotation [corroborated: phase = 2 × rotation].
//
// Checked: testdata/cases/polariscope.toml
func rotation(degrees float64, light unit.Length, orders int) unit.Length {
	return light * unit.Length(float64(orders)+degrees/180)
}

// plateRotation returns the rotation of the analyzer [degrees] at which the
// place goes dark when the quarter-wave plate behind the piece is not exactly
// a quarter of the light.
//
//	θ = ½ atan2(sin δ cos ε, cos δ), δ = 2π R/λ, ε = 2π plate/λ − π/2
//
// Source: Jones calculus [derived in reading_test.go].
//
// Checked: testdata/cases/polariscope.toml
func plateRotation(retardation, plate, light unit.Length) float64 {
	δ := 2 * math.Pi * float64(retardation/light)
	ε := 2*math.Pi*float64(plate/light) - math.Pi/2
	return math.Atan2(math.Sin(δ)*math.Cos(ε), math.Cos(δ)) / 2 * 180 / math.Pi
}

// plateError returns the greatest error of a reading, either way, that comes
// from a plate that is not a quarter of the light.
//
//	ε²/8 of a radian, of λ/π each
//
// Source: the rotation law, to second order [derived in reading_test.go].
func plateError(plate, light unit.Length) unit.Length {
	ε := 2*math.Pi*float64(plate/light) - math.Pi/2
	return light * unit.Length(ε*ε/8/math.Pi)
}

// TemperNumber returns the apparent temper number of a retardation: the strain
// discs that are as bright or brighter, from 1. It is 0 above 10, beyond the
// method.
//
// Source: ASTM C148, method B [verified].
func TemperNumber(retardation unit.Length) int {
	n := int(math.Ceil(float64(retardation/Disc) - 1e-9))
	if n > 10 {
		return 0
	}
	return max(n, 1)
}

// RealTemper returns an apparent number reduced to 4.06 mm of glass.
//
//	T_R = T_A · 4.06 mm/t
//
// Source: ASTM C148 [verified]. It was written for the bottoms of containers.
func RealTemper(apparent float64, light unit.Length) float64 {
	return apparent * 4.06 / light.Millimeters()
}

// Reading is what was read, as retardation.
type Reading struct {
	Retardation unit.Length
	Error       unit.Length // either way
	How         string      // a clause: "analyzer turned by 20° in light of 546 nm"; "" for plain nm
	Below       bool        // it is at most this: too faint to tell
	Assumed     []string
}

// ReadingError is a reading that cannot be told from light.
type ReadingError struct {
	Reason, hint string
	lacks        lack
}

// lack is what else would have to be known for a reading to be told.
type lack int

const (
	lacksNothing lack = iota
	lacksLight
	lacksOrder
)

func (e *ReadingError) Error() string { return e.Reason }

// Hint returns one thing to do.
func (e *ReadingError) Hint() string { return e.hint }

func refuse(hint, format string, args ...any) (Reading, error) {
	return wants(lacksNothing, hint, format, args...)
}

// wants is [refuse] of a reading that something is lacking for.
func wants(what lack, hint, format string, args ...any) (Reading, error) {
	return Reading{}, &ReadingError{fmt.Sprintf(format, args...), hint, what}
}

// Known is what else the person knows of a reading; zero is not known.
type Known struct {
	Light unit.Length // wavelength, for degrees
	Order int         // 1 for the first, the dark field up to 551 nm
	Plate unit.Length // the quarter-wave plate, for degrees
	Error unit.Length // of the reading, either way
}

// usual errors of a reading by a practiced eye, when none is stated.
const (
	usualNanometers = 10 * Nanometer
	usualDegrees    = 2.0 // of the analyzer
	usualDiscs      = 0.5
)

const readingHint = `write "60 nm", "60 ± 15 nm", "20 deg", "2.5 discs" or a color such as "yellow"`

// ParseReading reads a retardation ("60 nm", "60 ± 15 nm"), a rotation of the
// analyzer ("20 deg"), strain discs ("2.5 discs") or a color by its name.
//
// Errors: *[ReadingError] for what cannot be read, and why.
func ParseReading(text string, k Known) (Reading, error) {
	text = strings.Join(strings.Fields(text), " ")
	value, spread, hasSpread := strings.Cut(strings.NewReplacer("+/-", "±", "+-", "±").Replace(text), "±")
	value, spread = strings.TrimSpace(value), strings.TrimSpace(spread)
	if text == "" {
		return refuse(readingHint, "is empty")
	}
	if text[0] < '0' || text[0] > '9' {
		if hasSpread {
			return refuse(readingHint, "%s: is no reading", text)
		}
		return colorReading(text, k)
	}
	number, word := split(value)
	if hasSpread && word == "" {
		_, word = split(spread) // "60 ± 15 nm"
	}
	x, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsInf(x, 0) {
		return refuse(readingHint, "%s: is no reading", text)
	}
	e := -1.0
	if hasSpread {
		number, own := split(spread)
		if e, err = strconv.ParseFloat(number, 64); err != nil || !(e > 0) || own != "" && own != word {
			return refuse(`write "60 ± 15 nm"`, "%s: the error is not understood", text)
		}
		if k.Error > 0 {
			return refuse("give the error once", "%s: has an error already", text)
		}
	}
	var r Reading
	switch strings.ToLower(word) {
	case "nm":
		r, err = nanometers(x, k)
		if e > 0 {
			r.Error = unit.Length(e) * Nanometer
		}
	case "deg", "°", "degree", "degrees":
		r, err = degrees(x, e, k)
	case "disc", "discs", "disk", "disks":
		r.Retardation, r.How = unit.Length(x)*Disc, fmt.Sprintf("%g strain discs of 22.8 nm", x)
		r.Error = usualDiscs * Disc
		if e > 0 {
			r.Error = unit.Length(e) * Disc
		}
		if r.Retardation > FirstOrder {
			return refuse("read the order with white light, and give it in nm", "%s: beyond 565 nm discs cannot be told", text)
		}
	case "":
		return refuse(`write "`+text+` nm" or "`+text+` deg"`, "%s: has no unit", text)
	default:
		return refuse(readingHint, "%s: %q is no unit of a reading", text, word)
	}
	if err != nil {
		return Reading{}, err
	}
	if k.Error > 0 {
		r.Error = k.Error
	}
	if r.Retardation > Greatest {
		return refuse(readingHint, "%s: must be at most %.0f nm", text, float64(Greatest/Nanometer))
	}
	if r.Retardation < Faint {
		r.Retardation, r.Error, r.Below = Faint, 0, true
	}
	return r, nil
}

// split parts a number from the word behind it.
func split(s string) (number, word string) {
	i := strings.IndexFunc(s, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != 'e' })
	if i < 0 {
		return s, ""
	}
	return s[:i], strings.TrimSpace(s[i:])
}

func nanometers(x float64, k Known) (Reading, error) {
	r := Reading{Retardation: unit.Length(x) * Nanometer, Error: usualNanometers}
	if r.Retardation <= FirstOrder {
		return r, nil
	}
	if k.Order == 0 {
		return wants(lacksOrder, fmt.Sprintf("give the order seen in white light: --order %d", orderOf(r.Retardation)),
			"%g nm: above 565 nm a reading is worth nothing without its order", x)
	}
	if k.Order != orderOf(r.Retardation) {
		return refuse("", "%g nm is of order %d, not %d", x, orderOf(r.Retardation), k.Order)
	}
	return r, nil
}

// orderOf is the order of the color of a retardation.
func orderOf(r unit.Length) int {
	return max(1, int(math.Ceil(float64(r/(orderEnds*Nanometer))-1e-9)))
}

func degrees(x, e float64, k Known) (Reading, error) {
	switch {
	case k.Light == 0:
		return wants(lacksLight, `give the light: --light 546nm (green mercury line), 589nm (sodium), 565nm (white, by eye)`, "%g°: degrees without the wavelength tell nothing", x)
	case k.Light < 380*Nanometer || k.Light > 780*Nanometer:
		return refuse("", "light of %.4g nm: must be from 380 nm to 780 nm", float64(k.Light/Nanometer))
	case x > 180:
		return refuse("take off whole half turns and give the order", "%g°: must be from 0° to 180°", x)
	case k.Order < 0 || k.Order > 20:
		return refuse("", "order %d: must be from 1 to 20", k.Order)
	}
	orders := max(k.Order-1, 0)
	r := Reading{Retardation: rotation(x, k.Light, orders), How: fmt.Sprintf("analyzer turned by %g° in light of %.4g nm", x, float64(k.Light/Nanometer))}
	if e < 0 {
		e = usualDegrees
	}
	r.Error = k.Light * unit.Length(e/180)
	if k.Order == 0 {
		r.Assumed = append(r.Assumed, "less than one whole wave: in white light the place must be gray, white or yellow, in the first order")
	}
	if k.Plate > 0 {
		if off := k.Plate*4/k.Light - 1; math.Abs(float64(off)) > 0.3 {
			return refuse("the plate of a quarter of green light is near 137 nm", "plate of %.4g nm: is no quarter of light of %.4g nm", float64(k.Plate/Nanometer), float64(k.Light/Nanometer))
		}
		p := plateError(k.Plate, k.Light)
		r.Error = unit.Length(math.Hypot(float64(r.Error), float64(p)))
		r.How += fmt.Sprintf(", plate %.4g nm (at most %.2g nm off)", float64(k.Plate/Nanometer), float64(p/Nanometer))
	}
	return r, nil
}

// colorReading reads the name of a color with its order.
func colorReading(text string, k Known) (Reading, error) {
	var at []int
	names := Names()
	var all []string
	for i, n := range names {
		all = append(all, n.Name)
		if strings.EqualFold(n.Name, text) && (k.Order == 0 || orderOf(n.Retardation) == k.Order) {
			at = append(at, i)
		}
	}
	if len(at) == 0 {
		if k.Order > 0 && slices.ContainsFunc(all, func(s string) bool { return strings.EqualFold(s, text) }) {
			return refuse("list the colors with: lehr polariscope --colors", "%s: is no color of order %d", text, k.Order)
		}
		hint := strict.DidYouMean(strings.ToLower(text), all, "list the colors with: lehr polariscope --colors")
		return refuse(hint, "%s: is no color of the table", text)
	}
	first := names[at[0]]
	if first.Retardation < GrayEnds {
		return refuse("turn the analyzer, hold strain discs beside it, or use a full-wave plate",
			"%s: gray has no color to read; by eye nothing can be told below 200 nm", first.Name)
	}
	if k.Order == 0 && (len(at) > 1 || first.Retardation > FirstOrder) {
		return wants(lacksOrder, "count the dark violet bands from a place that is black, and write --order 1, 2 or 3", "%s: the color is of more than one order, or above 565 nm; its order is not known", first.Name)
	}
	i := at[0]
	r := Reading{Retardation: names[i].Retardation, How: fmt.Sprintf("%s, order %d", names[i].Name, orderOf(names[i].Retardation)),
		Assumed: []string{"white light and a practiced eye: a color is read to the next name on either side"}}
	below, above := names[max(i-1, 0)].Retardation, names[min(i+1, len(names)-1)].Retardation
	r.Error = max(r.Retardation-below, above-r.Retardation, 15*Nanometer)
	if k.Error > 0 {
		r.Error = k.Error
	}
	return r, nil
}

// ParseNoted reads a reading as it stands in a note: what [ParseReading] takes,
// and behind it the light and the order if they are needed: "20 deg at 546nm",
// "sky blue order 2".
//
// Errors: those of [ParseReading].
func ParseNoted(text string) (Reading, error) {
	var k Known
	rest, order, found := strings.Cut(text, " order ")
	if found {
		n, err := strconv.Atoi(strings.TrimSpace(order))
		if err != nil || n < 1 || n > 20 {
			return refuse(`write "sky blue order 2"`, "%s: the order is not understood", text)
		}
		k.Order = n
	}
	rest, light, found := strings.Cut(rest, " at ")
	if found {
		number, ok := strings.CutSuffix(strings.TrimSpace(light), "nm")
		x, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
		if !ok || err != nil {
			return refuse(`write "20 deg at 546nm"`, "%s: the light is not understood", text)
		}
		k.Light = unit.Length(x) * Nanometer
	}
	r, err := ParseReading(rest, k)
	var wrong *ReadingError
	if errors.As(err, &wrong) {
		switch wrong.lacks {
		case lacksLight:
			wrong.hint = `write the light behind it: "20 deg at 546nm"`
		case lacksOrder:
			wrong.hint = `write the order behind it: "sky blue order 2"`
		}
	}
	return r, err
}
