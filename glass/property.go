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
}

// Check returns a *[RangeError] when t is outside Low..High, so that [Property.At]
// would return the value at the end of the range.
func (p Property) Check(t unit.Temp) error {
	if p.High.IsZero() || !t.Less(p.Low) && !p.High.Less(t) {
		return nil
	}
	return &RangeError{Quantity: "temperature", Value: t.Text(unit.Metric), Low: p.Low.Text(unit.Metric),
		High: p.High.Text(unit.Metric), Source: p.Source, What: p.Text}
}

// constant returns a property that does not change.
func constant(v Value, low, high unit.Temp) Property {
	n := v.Number
	return Property{At: func(float64) float64 { return n }, Low: low, High: high, Value: v}
}

// formula returns a property from a function of the temperature in kelvin.
// spread is a share of the value.
func formula(f func(kelvin float64) float64, low, high unit.Temp, text string, spread float64, v Value) Property {
	lo, hi := low.Kelvin(), high.Kelvin()
	p := Property{At: func(k float64) float64 { return f(math.Min(math.Max(k, lo), hi)) }, Low: low, High: high, Value: v}
	p.Number = p.At(unit.Celsius(25).Kelvin())
	p.Text = text
	p.Spread = spread * p.Number
	if spread > 0 {
		p.Text += fmt.Sprintf(" ± %g %%", spread*100)
	}
	return p
}

// celsius turns kelvin into degrees Celsius without rounding.
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

// polynomialText writes "1.106 + 0.000789 t + 1.23e-06 t² W/m/K, t in °C".
func polynomialText(k []float64, unitText string) string {
	powers := []string{"", " t", " t²", " t³", " t⁴"}
	var b strings.Builder
	for i, x := range k {
		if x == 0 && i > 0 {
			continue
		}
		num := strconv.FormatFloat(math.Abs(x), 'g', 6, 64)
		switch {
		case i == 0:
			num = strconv.FormatFloat(x, 'g', 6, 64)
		case x < 0:
			b.WriteString(" - ")
		default:
			b.WriteString(" + ")
		}
		b.WriteString(num + powers[i])
	}
	if b.Len() > 0 && len(k) > 1 {
		return b.String() + " " + unitText + ", t in °C"
	}
	return b.String() + " " + unitText
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
