package glass

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"lehr/glass/unit"
)

// Property is something that depends on temperature.
//
// The Value inside is the property at 25 °C, or at the end of Low..High nearest
// to that, for a table of properties; its Text is the formula.
type Property struct {
	// At returns the property in SI units at a temperature in kelvin. Outside
	// Low..High it returns what it is at the nearer end, never a continuation
	// of the formula. [Property.Check] tells whether that happens.
	At func(kelvin float64) float64

	Low, High unit.Temp // where the formula holds; both zero for a constant without a stated range
	Value

	name string // as a reader calls it
}

// Check returns a *[RangeError] when t is outside Low..High, so that [Property.At]
// would return the value at the end of the range.
func (p Property) Check(t unit.Temp) error {
	if p.High.IsZero() || !t.Less(p.Low) && !p.High.Less(t) {
		return nil
	}
	return &RangeError{Quantity: "temperature", Value: t, Low: p.Low,
		High: p.High, Source: p.Source, What: p.name}
}

// constant completes a property that does not change.
func constant(p Property) Property {
	n := p.Number
	p.At = func(float64) float64 { return n }
	return p
}

// formula completes a property from a function of the temperature in kelvin
// and the text of that function. spread is a share of the value.
func formula(p Property, f func(kelvin float64) float64, text string, spread float64) Property {
	low, high := p.Low.Kelvin(), p.High.Kelvin()
	p.At = func(k float64) float64 { return f(math.Min(math.Max(k, low), high)) }
	p.Number = p.At(unit.Celsius(25).Kelvin())
	p.Spread = spread * p.Number
	if p.Text = text; spread > 0 {
		p.Text += fmt.Sprintf(", ± %g %%", spread*100)
	}
	return p
}

// zeroCelsius is 0 °C in kelvin.
var zeroCelsius = unit.Celsius(0).Kelvin()

// polynomial returns k0 + k1 t + k2 t² + ..., t in °C.
func polynomial(k []float64) func(float64) float64 {
	return func(kelvin float64) float64 {
		t, sum := kelvin-zeroCelsius, 0.0
		for i := len(k) - 1; i >= 0; i-- {
			sum = sum*t + k[i]
		}
		return sum
	}
}

// polynomialText writes "1.106 + 0.000789 t + 1.23e-6 t²".
func polynomialText(k []float64) string {
	powers := []string{"", " t", " t²", " t³", " t⁴"}
	text := figure(k[0])
	for i, x := range k[1:] {
		if x != 0 {
			text += signed(x) + powers[i+1]
		}
	}
	return text
}

// signed writes " + 2" or " - 2", to be added to a formula.
func signed(x float64) string {
	if x < 0 {
		return " - " + figure(-x)
	}
	return " + " + figure(x)
}

// figure writes a coefficient: "722", "0.000789", "1.23e-6".
func figure(x float64) string {
	return strings.NewReplacer("e-0", "e-", "e+0", "e").Replace(strconv.FormatFloat(x, 'g', 6, 64))
}

// sharpGinther returns the true specific heat that belongs to a mean specific
// heat of (a t + c)/(1 + b t) between 0 °C and t:
//
//	c_p = (a b t² + 2 a t + c) / (1 + b t)²
//
// Source: Sharp & Ginther (1951), J. Am. Ceram. Soc. 34, 260, for the form of
// the mean [memory]; the derivative is checked in the tests.
func sharpGinther(a, b, c float64) func(float64) float64 {
	return func(kelvin float64) float64 {
		t := kelvin - zeroCelsius
		d := 1 + b*t
		return (a*b*t*t + 2*a*t + c) / (d * d)
	}
}

// molarHeat returns (c0 + c1 T + c2/T² + c3/√T) / molarMass, T in kelvin.
func molarHeat(c []float64, molarMass float64) func(float64) float64 {
	return func(T float64) float64 {
		return (c[0] + c[1]*T + c[2]/(T*T) + c[3]/math.Sqrt(T)) / molarMass
	}
}
