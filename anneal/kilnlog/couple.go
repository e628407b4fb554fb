package kilnlog

import (
	"fmt"
	"math"
	"strings"

	"lehr/glass/unit"
)

// Couple is a type of thermocouple, by its letter.
type Couple byte

// The types whose millivolts are read: nickel alloys K and N, platinum with
// rhodium S and R.
const (
	TypeK Couple = 'K'
	TypeN Couple = 'N'
	TypeS Couple = 'S'
	TypeR Couple = 'R'
)

// UnmarshalText reads the letter of a thermocouple, "K" or "type K".
func (c *Couple) UnmarshalText(text []byte) error {
	letter := strings.ToUpper(strings.TrimSpace(string(text)))
	letter = strings.TrimSpace(strings.TrimPrefix(letter, "TYPE"))
	if len(letter) == 1 {
		if named := Couple(letter[0]); named.known() {
			*c = named
			return nil
		}
	}
	return &Error{Message: fmt.Sprintf("%s: is no thermocouple whose millivolts are read: must be K, N, R or S", shown(string(text))), Next: "have the logger write degrees instead"}
}

func (c Couple) known() bool { _, ok := couples[c]; return ok }

// reach is one range of a reference function: millivolts as a polynomial of
// °C from one temperature to another, and for type K above 0 °C a bell more.
type reach struct {
	low, high float64    // [°C]
	c         []float64  // [mV/°Cⁱ], lowest power first
	a         [3]float64 // a₀ exp(a₁ (t − a₂)²) [mV, 1/°C², °C]
}

func (r reach) at(t float64) (mV float64) {
	for i := len(r.c) - 1; i >= 0; i-- {
		mV = mV*t + r.c[i]
	}
	if r.a[0] != 0 {
		d := t - r.a[2]
		mV += r.a[0] * math.Exp(r.a[1]*d*d)
	}
	return mV
}

func (r reach) slope(t float64) (mVPerK float64) {
	for i := len(r.c) - 1; i >= 1; i-- {
		mVPerK = mVPerK*t + float64(i)*r.c[i]
	}
	if r.a[0] != 0 {
		d := t - r.a[2]
		mVPerK += r.a[0] * math.Exp(r.a[1]*d*d) * 2 * r.a[1] * d
	}
	return mVPerK
}

// couples are the reference functions, junction at 0 °C, rising ranges.
//
// Source: ITS-90 reference functions, NIST Monograph 175 (1993). K above 0 °C,
// S up to 1064.18 °C: [corroborated], every digit, by the case file. The
// others: [memory]; their sums reproduce the printed tables of all four types
// to the microvolt (couple_test.go), and the ranges meet at their ends.
var couples = map[Couple][]reach{
	TypeK: {
		{low: -270, high: 0, c: []float64{0, 0.394501280250e-1, 0.236223735980e-4, -0.328589067840e-6, -0.499048287770e-8,
			-0.675090591730e-10, -0.574103274280e-12, -0.310888728940e-14, -0.104516093650e-16, -0.198892668780e-19, -0.163226974860e-22}},
		{low: 0, high: 1372, c: []float64{-0.176004136860e-1, 0.389212049750e-1, 0.185587700320e-4, -0.994575928740e-7, 0.318409457190e-9,
			-0.560728448890e-12, 0.560750590590e-15, -0.320207200030e-18, 0.971511471520e-22, -0.121047212750e-25},
			a: [3]float64{0.118597600000, -0.118343200000e-3, 0.126968600000e3}},
	},
	TypeN: {
		{low: -270, high: 0, c: []float64{0, 0.261591059620e-1, 0.109574842280e-4, -0.938411115540e-7, -0.464120397590e-10,
			-0.263033577160e-11, -0.226534380030e-13, -0.760893007910e-16, -0.934196678350e-19}},
		{low: 0, high: 1300, c: []float64{0, 0.259293946010e-1, 0.157101418800e-4, 0.438256272370e-7, -0.252611697940e-9,
			0.643118193390e-12, -0.100634715190e-14, 0.997453389920e-18, -0.608632456070e-21, 0.208492293390e-24, -0.306821961510e-28}},
	},
	TypeS: {
		{low: -50, high: 1064.18, c: []float64{0, 0.540313308631e-2, 0.125934289740e-4, -0.232477968689e-7, 0.322028823036e-10,
			-0.331465196389e-13, 0.255744251786e-16, -0.125068871393e-19, 0.271443176145e-23}},
		{low: 1064.18, high: 1664.5, c: []float64{0.132900444085e1, 0.334509311344e-2, 0.654805192818e-5, -0.164856259209e-8, 0.129989605174e-13}},
	},
	TypeR: {
		{low: -50, high: 1064.18, c: []float64{0, 0.528961729765e-2, 0.139166589782e-4, -0.238855693017e-7, 0.356916001063e-10,
			-0.462347666298e-13, 0.500777441034e-16, -0.373105886191e-19, 0.157716482367e-22, -0.281038625251e-26}},
		{low: 1064.18, high: 1664.5, c: []float64{0.295157925316e1, -0.252061251332e-2, 0.159564501865e-4, -0.764085947576e-8, 0.205305291024e-11, -0.293359668173e-15}},
	},
}

// span returns the temperatures for which the type has a reference function
// here, and in which its millivolts rise.
func (c Couple) span() (low, high float64) {
	r := couples[c]
	low = r[0].low
	if low < -200 { // flat and of no use near the lower end
		low = -200
	}
	return low, r[len(r)-1].high
}

// millivolts returns what a thermocouple gives between a hot place and a
// junction at 0 °C.
//
// Valid: K -200 to 1372 °C, N -200 to 1300 °C, R and S -50 to 1664.5 °C; NaN
// outside.
//
// Source: ITS-90 reference functions, NIST Monograph 175 [corroborated by the
// printed tables].
//
// Checked: testdata/cases/thermocouples.toml
func (c Couple) millivolts(t unit.Temp) float64 {
	x := t.Celsius()
	if low, high := c.span(); !(x >= low && x <= high) {
		return math.NaN()
	}
	return c.in(x).at(x)
}

func (c Couple) in(celsius float64) reach {
	ranges := couples[c]
	for _, r := range ranges {
		if celsius <= r.high {
			return r
		}
	}
	return ranges[len(ranges)-1]
}

// sensitivity returns by how much the millivolts rise per kelvin.
//
// Valid: as Millivolts.
//
// Checked: testdata/cases/thermocouples.toml
func (c Couple) sensitivity(t unit.Temp) (mVPerK float64) {
	x := t.Celsius()
	if low, high := c.span(); !(x >= low && x <= high) {
		return math.NaN()
	}
	return c.in(x).slope(x)
}

// temperature returns the temperature of the hot place from what the meter
// read and the temperature of the junction where the wires end. Millivolts are
// added, never degrees: 4.700 mV of type S at a junction of 25 °C is 561.0 °C,
// while adding 25 K to what 4.700 mV means at 0 °C would give 571.8.
//
// The reference function itself is inverted, not an approximation of it.
// ok is false outside its range.
//
// Checked: testdata/cases/thermocouples.toml
func (c Couple) temperature(mV float64, junction unit.Temp) (t unit.Temp, ok bool) {
	e := mV + c.millivolts(junction)
	low, high := c.span()
	if !(e >= c.in(low).at(low)-1e-9 && e <= c.in(high).at(high)+1e-9) {
		return unit.Temp{}, false
	}
	// Newton's steps, kept between bounds that close in: it rises everywhere.
	x := math.Min(math.Max(e/0.04, low), high)
	for range 60 {
		r := c.in(x)
		miss := r.at(x) - e
		if miss > 0 {
			high = x
		} else {
			low = x
		}
		next := x - miss/r.slope(x)
		if !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if math.Abs(next-x) < 1e-9 {
			x = next
			break
		}
		x = next
	}
	return unit.Celsius(x), true
}

// tolerance returns how far new wire may be off, of standard and of special
// grade; used base metal drifts beyond it.
//
// Valid: from 0 °C up, to 1260 °C for K and N and 1480 °C for R and S.
//
// Source: ASTM E230, initial tolerances [corroborated].
//
// Checked: testdata/cases/thermocouples.toml
func (c Couple) tolerance(t unit.Temp) (standard, special unit.Delta) {
	x := math.Abs(t.Celsius()) // the percentages are of °C
	if c == TypeK || c == TypeN {
		return unit.Delta(math.Max(2.2, 0.0075*x)), unit.Delta(math.Max(1.1, 0.004*x))
	}
	return unit.Delta(math.Max(1.5, 0.0025*x)), unit.Delta(math.Max(0.6, 0.001*x))
}
