package polariscope

import (
	_ "embed"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"lehr/glass/unit"
)

//go:embed cie.csv
var cieTable string

// band is one line of the table: what the standard observer sees of one
// wavelength, under daylight D65.
type band struct{ nm, x, y, z, light float64 }

var bands = sync.OnceValue(func() []band {
	var out []band
	for line := range strings.Lines(cieTable) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		var v [5]float64
		for i, field := range strings.Split(line, ",") {
			x, err := strconv.ParseFloat(field, 64)
			if err != nil {
				panic("polariscope: " + err.Error())
			}
			v[i] = x
		}
		out = append(out, band{v[0], v[1], v[2], v[3], v[4]})
	}
	return out
})

// orderEnds is the retardation [nm] of the darkest violet at which the first
// order ends; the second ends at twice that.
const orderEnds = 551

// Color is a color as tristimulus values of the CIE 1931 observer, with Y = 1
// for the light between parallel ideal polarizers.
type Color struct{ X, Y, Z float64 }

// Color returns the color that a retardation shows between crossed ideal
// polarizers in daylight.
//
//	X = k Σ S(λ) x̄(λ) sin²(π R/λ), and so for Y and Z
//
// Valid: no dispersion of the stress-optic coefficient, ideal sheets.
//
// Source: Sørensen (2013), Eur. J. Mineral. 25, 5-10, for the method [verified
// in part]; the CIE tables of cie.csv [corroborated].
//
// Checked: testdata/cases/polariscope.toml
func ColorOf(retardation unit.Length) Color {
	return colorBy(func(nm float64) float64 {
		s := math.Sin(math.Pi * float64(retardation/Nanometer) / nm)
		return s * s
	})
}

func colorBy(passes func(nm float64) float64) Color {
	var c Color
	open := 0.0
	for _, b := range bands() {
		t := b.light * passes(b.nm)
		c.X += t * b.x
		c.Y += t * b.y
		c.Z += t * b.z
		open += b.light * b.y
	}
	return Color{c.X / open, c.Y / open, c.Z / open}
}

// white is the open light.
func white() Color { return colorBy(func(float64) float64 { return 1 }) }

// Chromaticity returns x and y; both are 0 for black.
func (c Color) Chromaticity() (x, y float64) {
	sum := c.X + c.Y + c.Z
	if sum == 0 {
		return 0, 0
	}
	return c.X / sum, c.Y / sum
}

// screen returns the color for a screen, 0 to 255 each, clipped to what sRGB
// can show. A screen is not the light: the hue of strong colors is lost.
//
// Source: IEC 61966-2-1 [memory; the matrix and curve are reproduced by the
// cases to one part of 255].
func (c Color) screen() (r, g, b int) {
	curve := func(x float64) int {
		x = min(max(x, 0), 1)
		if x <= 0.0031308 {
			x *= 12.92
		} else {
			x = 1.055*math.Pow(x, 1/2.4) - 0.055
		}
		return int(math.Round(255 * x))
	}
	return curve(3.2406*c.X - 1.5372*c.Y - 0.4986*c.Z),
		curve(-0.9689*c.X + 1.8758*c.Y + 0.0415*c.Z),
		curve(0.0557*c.X - 0.2040*c.Y + 1.0570*c.Z)
}

// Hex returns the color for a screen as #rrggbb.
func (c Color) Hex() string {
	r, g, b := c.screen()
	return fmt.Sprintf("#%02x%02x%02x", r, g, b)
}

// difference returns the CIELAB difference of two colors, with the open light
// as white. About 2 to 3 is just seen side by side.
//
// Source: CIE 015, CIELAB [memory; reproduced by the cases].
//
// Checked: testdata/cases/polariscope.toml
func difference(a, b Color) float64 {
	w := white()
	f := func(t float64) float64 {
		if t > 216./24389 {
			return math.Cbrt(t)
		}
		return (24389./27*t + 16) / 116
	}
	lab := func(c Color) (l, a, b float64) {
		x, y, z := f(c.X/w.X), f(c.Y/w.Y), f(c.Z/w.Z)
		return 116*y - 16, 500 * (x - y), 200 * (y - z)
	}
	l1, a1, b1 := lab(a)
	l2, a2, b2 := lab(b)
	return math.Sqrt((l1-l2)*(l1-l2) + (a1-a2)*(a1-a2) + (b1-b2)*(b1-b2))
}

// Name is a color of the table between crossed polarizers.
type Name struct {
	Retardation unit.Length
	Name        string
}

// names is the classic sequence of colors in white light.
//
// Source: the nineteenth-century table of colors between crossed prisms, as
// petrography textbooks give it [memory; the ends of the orders at 551 and 1101
// nm agree with the darkest computed colors].
var names = []struct {
	nm   float64
	name string
}{
	{0, "black"}, {40, "iron gray"}, {97, "lavender gray"}, {158, "grayish blue"}, {218, "clear gray"},
	{234, "greenish white"}, {259, "almost pure white"}, {267, "yellowish white"}, {281, "pale straw yellow"},
	{306, "light yellow"}, {332, "bright yellow"}, {430, "brownish yellow"}, {505, "reddish orange"},
	{536, "red"}, {551, "deep red"}, {565, "purple"}, {575, "violet"}, {589, "indigo"}, {664, "sky blue"},
	{728, "greenish blue"}, {747, "green"}, {826, "lighter green"}, {843, "yellowish green"},
	{866, "greenish yellow"}, {910, "pure yellow"}, {948, "orange"}, {998, "bright orange red"},
	{1101, "dark violet red"}, {1128, "light bluish violet"}, {1151, "indigo"}, {1258, "greenish blue"},
	{1334, "sea green"}, {1376, "brilliant green"}, {1426, "greenish yellow"}, {1495, "flesh color"},
	{1534, "carmine"}, {1621, "dull purple"}, {1652, "violet gray"},
}

// Names returns the colors of the table in the order of their retardation.
func Names() []Name {
	out := make([]Name, len(names))
	for i, n := range names {
		out[i] = Name{unit.Length(n.nm) * Nanometer, n.name}
	}
	return out
}

// NameOf returns the name of the color nearest to a retardation, and its order.
// The name is "white of a higher order" beyond the table.
func NameOf(retardation unit.Length) (name string, order int) {
	nm := float64(retardation / Nanometer)
	order = orderOf(retardation)
	if nm > names[len(names)-1].nm+30 {
		return "white of a higher order", order
	}
	best := 0
	for i, n := range names {
		if math.Abs(n.nm-nm) < math.Abs(names[best].nm-nm) {
			best = i
		}
	}
	return names[best].name, order
}
