package glass

import (
	"regexp"
	"strconv"
	"strings"

	"lehr/glass/strict"
	"lehr/glass/unit"
)

// quantity is a kind of number that a glass file states, with the spellings of
// its unit and the limits outside which it cannot be a glass.
type quantity struct {
	name      string
	units     map[string]float64 // spelling without blanks and dots -> SI
	low, high float64            // SI, both allowed
	limits    string             // the limits as text
	spellings []string           // of the unit, most usual first, for hints
}

var (
	fixedPoint = &quantity{name: "temperature"} // units are read by package unit

	expansivity = &quantity{name: "expansion", low: 1e-8, high: 1e-4, limits: "1e-8 /K to 1e-4 /K",
		spellings: []string{"/K"}, units: map[string]float64{"/K": 1, "1/K": 1, "K-1": 1}}
	density = &quantity{name: "density", low: 1000, high: 10000, limits: "1 g/cm³ to 10 g/cm³",
		spellings: []string{"g/cm³", "kg/m³"},
		units:     map[string]float64{"kg/m3": 1, "g/cm3": 1000, "g/cc": 1000, "g/ml": 1000, "kgm-3": 1, "gcm-3": 1000}}
	modulus = &quantity{name: "modulus", low: 1e9, high: 1e12, limits: "1 GPa to 1000 GPa",
		spellings: []string{"GPa", "psi"},
		units:     map[string]float64{"GPa": 1e9, "MPa": 1e6, "Pa": 1, "psi": float64(unit.PSI), "N/mm2": 1e6, "kN/mm2": 1e9}}
	ratio     = &quantity{name: "ratio", low: 0, high: 0.499, limits: "0 to 0.499", units: map[string]float64{"": 1}}
	index     = &quantity{name: "refractive index", low: 1, high: 3, limits: "1 to 3", units: map[string]float64{"": 1}}
	share     = &quantity{name: "emissivity", low: 0.01, high: 1, limits: "0.01 to 1", units: map[string]float64{"": 1}}
	log10     = &quantity{name: "log10 of viscosity", low: -10, high: 6, limits: "-10 to 6", units: map[string]float64{"": 1}}
	pace      = &quantity{name: "structural modulus", low: 1e8, high: 1e12, limits: "0.1 GPa to 1000 GPa", spellings: []string{"GPa"}, units: map[string]float64{"GPa": 1e9, "MPa": 1e6, "Pa": 1}}
	nonlinear = &quantity{name: "nonlinearity", low: 0.05, high: 1, limits: "0.05 to 1", units: map[string]float64{"": 1}}
	rise      = &quantity{name: "rise of log10 viscosity", low: 0, high: 10, limits: "0 to 10", units: map[string]float64{"": 1}}
	// 1 Brewster = 1e-12 /Pa = 10 nm/cm per MPa.
	optic = &quantity{name: "stress-optic coefficient", low: -1e-11, high: 1e-11, limits: "-10 Brewster to 10 Brewster",
		spellings: []string{"Brewster", "nm/cm/MPa"},
		units:     map[string]float64{"Brewster": 1e-12, "brewster": 1e-12, "B": 1e-12, "/Pa": 1, "1/Pa": 1, "/TPa": 1e-12, "1/TPa": 1e-12, "TPa-1": 1e-12, "nm/cm/MPa": 1e-13, "nm/cmperMPa": 1e-13, "mm2/N": 1e-6}}
	conductivity = &quantity{name: "conductivity", low: 0.01, high: 100, limits: "0.01 W/m/K to 100 W/m/K",
		spellings: []string{"W/m/K"}, units: map[string]float64{"W/m/K": 1, "W/mK": 1, "Wm-1K-1": 1}}
	heatCapacity = &quantity{name: "specific heat", low: 10, high: 10000, limits: "10 J/kg/K to 10000 J/kg/K",
		spellings: []string{"J/kg/K", "J/g/K"},
		units:     map[string]float64{"J/kg/K": 1, "J/kgK": 1, "Jkg-1K-1": 1, "J/g/K": 1000, "J/gK": 1000, "kJ/kg/K": 1000, "kJ/kgK": 1000}}
)

// quantities tells which kind each key is.
var quantities = map[string]*quantity{
	"strain_point": fixedPoint, "annealing_point": fixedPoint, "softening_point": fixedPoint, "working_point": fixedPoint,
	"expansion": expansivity, "expansion_liquid": expansivity, "density": density, "young_modulus": modulus,
	"poisson": ratio, "stress_optic": optic, "refractive_index": index, "emissivity": share,
	"phase_separation": rise, "structural_modulus": pace, "nonlinearity": nonlinear, "infrared_index": index, "viscosity_limit": log10, "conductivity": conductivity, "conductivity_phonon": conductivity, "specific_heat": heatCapacity,
}

// ParseProperty reads a property as a glass file writes it, by its key there
// ("expansion", "young_modulus", "poisson"): the number in SI units, and how far
// it may be off, 0 if that is not said.
//
// Errors: *[unit.ParseError], among them for a missing unit. It panics on a key
// that has no number.
func ParseProperty(key, text string) (number, spread float64, err error) {
	q, ok := quantities[key]
	if !ok {
		panic("glass: no property " + key)
	}
	return q.parse(text)
}

const numberPattern = `[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?`

var (
	// 3.3e-6 /K; 510 ± 10 °C; (3.3 ± 0.1) x 10-6 /K
	quantityPattern = regexp.MustCompile(`^\(?\s*(` + numberPattern + `)\s*(?:(?:±|\+/-|\+-)\s*(` + numberPattern + `))?\s*\)?\s*(?:[×x*]\s*10([+-]?\d+))?\s*(.*)$`)
	unitBlanks      = strings.NewReplacer(" ", "", "·", "", "⋅", "", "*", "", "(", "", ")", "", "°C", "K", "°K", "K")
	// Typographic spellings to plain ones.
	plain = strings.NewReplacer("⁻", "-", "⁺", "+", "⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6",
		"⁷", "7", "⁸", "8", "⁹", "9", "−", "-", "^", "", "\u00a0", " ", "\u202f", " ")
)

// parse reads a number with its unit and, after ±, its spread.
//
// Errors: *[unit.ParseError].
func (q *quantity) parse(text string) (number, spread float64, err error) {
	refuse := func(reason string, hints ...string) (float64, float64, error) {
		return 0, 0, &unit.ParseError{Quantity: q.name, Input: strict.Short(text, 40), Reason: reason, Hints: hints}
	}
	m := quantityPattern.FindStringSubmatch(plain.Replace(strings.TrimSpace(text)))
	if m == nil {
		article := "a "
		if strings.ContainsAny(q.name[:1], "aeiou") {
			article = "an "
		}
		return refuse("is not " + article + q.name)
	}
	num, pm, unitText := m[1], m[2], strings.TrimSpace(m[4])
	if m[3] != "" {
		if strings.ContainsAny(num+pm, "eE") {
			return refuse("has two powers of ten")
		}
		num += "e" + m[3]
		if pm != "" {
			pm += "e" + m[3]
		}
	}
	if strings.HasPrefix(unitText, ",") {
		return refuse("has a comma; decimals take a point")
	}
	if q == fixedPoint {
		return parseFixedPoint(text, num, pm, unitText)
	}
	factor, ok := q.units[unitBlanks.Replace(unitText)]
	switch {
	case !ok && unitText == "":
		var hints []string
		for _, s := range q.spellings {
			hints = append(hints, strings.TrimSpace(text)+" "+s)
		}
		if q == expansivity {
			hints = expansions(strings.TrimSpace(text), num, pm)
		}
		return refuse("has no unit", hints...)
	case !ok && len(q.spellings) == 0:
		return refuse("has a unit, and "+q.name+" has none", num)
	case !ok:
		return refuse("has an unknown unit "+unitText, num+" "+q.spellings[0])
	}
	n, err := strconv.ParseFloat(num, 64)
	if err != nil {
		return refuse("is too large")
	}
	if n *= factor; n < q.low || n > q.high {
		var hints []string
		if q == expansivity && n > q.high {
			hints = expansions("", num, pm)
		}
		return refuse("must be from "+q.limits, hints...)
	}
	if pm != "" {
		d, err := strconv.ParseFloat(pm, 64)
		if err != nil || d < 0 || d*factor > q.high {
			return refuse("has a spread that is too large or negative")
		}
		spread = d * factor
	}
	return n, spread, nil
}

// expansions returns what a coefficient of expansion without its unit most
// likely means: data sheets print 33 for 33e-7 /K, and 3.3 for 3.3e-6 /K. A
// number that is a coefficient as it stands only lacks the unit.
func expansions(text, num, pm string) (hints []string) {
	n, err := strconv.ParseFloat(num, 64)
	if err != nil {
		return nil
	}
	likely := func(x float64) bool { return x >= 2e-6 && x <= 2e-5 } // hard glass to the softest
	if text != "" && n >= expansivity.low && n <= expansivity.high {
		return []string{text + " /K"}
	}
	if pm != "" {
		pm = " ± " + pm
	}
	for _, power := range []struct {
		size float64
		text string
	}{{1e-7, "e-7"}, {1e-6, "e-6"}} {
		if !likely(n*power.size) || strings.ContainsAny(num, "eE") {
			continue
		}
		value := num + power.text
		if pm != "" {
			value += pm + power.text
		}
		hints = append(hints, value+" /K")
	}
	return hints
}

// parseFixedPoint reads a temperature and its spread in degrees of the same
// scale.
func parseFixedPoint(text, num, pm, unitText string) (float64, float64, error) {
	t, err := unit.ParseTemp(strings.TrimSpace(num + " " + unitText))
	if err != nil {
		return 0, 0, err
	}
	if pm == "" {
		return t.Kelvin(), 0, nil
	}
	refused := &unit.ParseError{Quantity: "temperature", Input: text, Reason: "must have a range from 0 K to 60 K (108 °F) behind ±"}
	hi, err1 := strconv.ParseFloat(num, 64)
	d, err2 := strconv.ParseFloat(pm, 64)
	if err1 != nil || err2 != nil || d < 0 {
		return 0, 0, refused
	}
	// The difference of two temperatures on one scale, whatever the scale.
	up, err := unit.ParseTemp(strconv.FormatFloat(hi+d, 'f', -1, 64) + " " + unitText)
	if err != nil {
		return 0, 0, refused
	}
	if spread := float64(up.Sub(t)); spread <= widestPoint+1e-9 {
		return t.Kelvin(), spread, nil
	}
	return 0, 0, refused
}

// widestPoint is how far another rod's fixed point may be said to lie off [K]:
// four times the widest tolerance of makers' sheets. What differs more is
// another glass.
const widestPoint = 60

var rangePattern = regexp.MustCompile(`^(-?[\d.]+)\s*(?:-|–|\.\.|to)\s*(-?[\d.]+)\s*(\D+)$`)

// parseRange reads "20-300 °C".
func parseRange(text string) (low, high unit.Temp, err error) {
	refuse := func(reason string) (unit.Temp, unit.Temp, error) {
		return low, high, &unit.ParseError{Quantity: "temperature range", Input: text, Reason: reason, Hints: []string{"20-300 °C"}}
	}
	m := rangePattern.FindStringSubmatch(plain.Replace(strings.TrimSpace(text)))
	if m == nil {
		return refuse("is not a range of temperatures")
	}
	if low, err = unit.ParseTemp(m[1] + " " + m[3]); err != nil {
		return low, high, err
	}
	if high, err = unit.ParseTemp(m[2] + " " + m[3]); err != nil {
		return low, high, err
	}
	if !low.Less(high) {
		return refuse("must run from cold to hot")
	}
	return low, high, nil
}
