package glass

import (
	"fmt"
	"math"

	"lehr/glass/unit"
)

// The fixed points are temperatures of stated viscosity, here as log10 of the
// viscosity in Pa·s (in poise each number would be larger by one).
//
// Source: ASTM C336 and C338 (strain, annealing, softening point) and
// ISO 7884-2 (working point), read in a summary and in makers' pages
// [corroborated].
const (
	LogStrain = 13.5
	LogAnneal = 12.0
	logSoften = 6.6
	logWork   = 3.0
)

// Names of the curves.
const (
	strainAnnealSoften = "strain-anneal-soften"
	annealSoftenWork   = "anneal-soften-work"
	givenCurve         = "given"
)

// belowStrain is how far below the strain point a curve is used. The glass
// there is solid for days: its relaxation time at the end of the range is
// days to weeks.
const belowStrain unit.Delta = 80

// Curve is the viscosity of a glass as a function of temperature,
//
//	log10(η/Pa·s) = A + B / (T - T0)
//
// with T and T0 in kelvin (Vogel, Fulcher, Tammann). T0 can lie below absolute
// zero: it is a number that makes the curve fit, not a temperature to reach.
//
// No one curve passes through all four fixed points of a data sheet, because
// strain points are measured while cooling at a fixed rate and come out 5 to
// 12 K below the temperature at which rested glass has 10^13.5 Pa·s. So there
// are two. The curve through strain, annealing and softening point lets stress
// relax to lower temperatures, and falls too fast above the softening point,
// where it ends. The curve through annealing, softening and working point is
// stiffer below the annealing point, so stiff that it is not continued there:
// log10 η goes on as a straight line in 1/T with the slope of the annealing
// point. Compute with both and believe the worse.
//
// Source: Taylor, McNamara & Sherman (1937), J. Soc. Glass Technol. 21, T61,
// stabilized soda-lime fibers from 475 to 525 °C [verified, abstract]: H/R is
// 70,400 K there and does not rise; continued, the second curve would have
// 107,000 K, the straight line of float has 81,000 K.
type Curve struct {
	Name      string // [strainAnnealSoften], [annealSoftenWork] or [givenCurve]
	A, B, T0  float64
	Straight  unit.Temp // below it log10 η is a straight line in 1/T; zero: nowhere
	Low, High unit.Temp // where the curve may be used
}

// line returns log10 of the viscosity at Straight and its slope with 1/T below.
func (c Curve) line() (at, slope float64) {
	k := c.Straight.Kelvin()
	return c.A + c.B/(k-c.T0), c.B * k * k / ((k - c.T0) * (k - c.T0))
}

// Log10 returns log10 of the viscosity [Pa·s].
//
// Errors: *[RangeError] outside Low..High.
func (c Curve) Log10(t unit.Temp) (float64, error) {
	if t.Less(c.Low) || c.High.Less(t) {
		return 0, &RangeError{Quantity: "temperature", Value: t, Low: c.Low,
			High: c.High, What: "viscosity curve " + c.Name}
	}
	return c.log10(t.Kelvin()), nil
}

func (c Curve) log10(kelvin float64) float64 {
	switch {
	case c.B == 0:
		return c.A
	case kelvin < c.Straight.Kelvin():
		at, slope := c.line()
		return at + slope*(1/kelvin-1/c.Straight.Kelvin())
	}
	return c.A + c.B/(kelvin-c.T0)
}

// Reach returns the temperature of a viscosity of 10^log10 Pa·s by the law of the
// curve, also beyond the range it is known for: for where a glass stops giving
// way, not for where it is soaked. ok is false where the curve has none.
func (c Curve) Reach(log10 float64) (t unit.Temp, ok bool) {
	if c.B <= 0 || log10 <= c.A {
		return t, false
	}
	return unit.Kelvin(c.kelvin(log10)), true
}

// kelvin returns the temperature of a viscosity above 10^A, wherever it lies.
func (c Curve) kelvin(log10 float64) float64 {
	if !c.Straight.IsZero() {
		if at, slope := c.line(); log10 > at {
			return 1 / (1/c.Straight.Kelvin() + (log10-at)/slope)
		}
	}
	return c.T0 + c.B/(log10-c.A)
}

// At returns the temperature at which the viscosity is 10^log10 Pa·s, the
// isokom.
//
// Errors: *[RangeError] when it lies outside Low..High.
func (c Curve) At(log10 float64) (unit.Temp, error) {
	if c.B > 0 && log10 > c.A {
		if t := unit.Kelvin(c.kelvin(log10)); near(t, c.Low, c.High) {
			return t, nil
		}
	}
	stiff, thin := c.log10(c.Low.Kelvin()), c.log10(c.High.Kelvin())
	return unit.Temp{}, &RangeError{Quantity: "log10 of the viscosity in Pa·s", Value: Log10(log10),
		Low: Log10(thin), High: Log10(stiff), What: "viscosity curve " + c.Name}
}

// near reports whether t lies in a range, up to the rounding of its ends.
func near(t, low, high unit.Temp) bool {
	const slack unit.Delta = 1e-6
	return !t.Less(low.Add(-slack)) && !high.Add(slack).Less(t)
}

// activationTemp returns the local slope of the curve as H/R [K], the
// activation enthalpy of flow over the gas constant:
//
//	H/R = ln(10) B T² / (T - T0)²
//
// It does not change where the curve is a straight line.
func (c Curve) activationTemp(t unit.Temp) float64 {
	k := t.Kelvin()
	if t.Less(c.Straight) {
		k = c.Straight.Kelvin()
	}
	return math.Ln10 * c.B * k * k / ((k - c.T0) * (k - c.T0))
}

// Curves returns the viscosity curves of the glass, the strain-anneal-soften
// curve first. There is one when only one can be computed, or when the glass
// names the one to use.
//
// The curves are solved from the fixed points each time, not stored. Where no
// working point is published, the second curve passes through annealing and
// softening point with A held at the glass's ViscosityLimit, and ends at the
// softening point.
//
// Errors: *[MissingError] when fixed points are missing, and an error that
// names them when no falling curve passes through them.
func (g *Glass) Curves() ([]Curve, error) {
	if g.Viscosity == givenCurve && g.Pin != nil {
		return []Curve{*g.Pin}, nil
	}
	var curves []Curve
	if g.Viscosity != annealSoftenWork && g.Strain.Known() && g.Anneal.Known() && g.Soften.Known() {
		c, err := throughThree(strainAnnealSoften, LogStrain, g.Strain.Temp(), LogAnneal, g.Anneal.Temp(), logSoften, g.Soften.Temp())
		if err != nil {
			return nil, fmt.Errorf("glass %q: %w", g.Name, err)
		}
		curves = append(curves, c.from(c.Low.Add(-belowStrain)))
	}
	if g.Viscosity != strainAnnealSoften && g.Anneal.Known() && g.Soften.Known() && (g.Work.Known() || g.ViscosityLimit.Known()) {
		c, err := g.fluidCurve()
		if err != nil {
			return nil, fmt.Errorf("glass %q: %w", g.Name, err)
		}
		curves = append(curves, c)
	}
	if len(curves) > 0 {
		return curves, nil
	}
	keys := []string{"strain_point", "annealing_point", "softening_point"}
	if g.Viscosity == annealSoftenWork {
		keys = []string{"annealing_point", "softening_point", "working_point"}
	}
	return nil, g.Need(keys...)
}

// Moved returns the first curve that changes when one fixed point alone is moved,
// and which of [Glass.Curves] it is; ok is false where none does or none passes
// through the points then.
func (g *Glass) Moved(key string, by unit.Delta) (c Curve, which int, ok bool) {
	other := *g
	other.value(key).Number += float64(by)
	before, err := g.Curves()
	after, err2 := other.Curves()
	if err != nil || err2 != nil {
		return c, 0, false
	}
	for i := range after {
		if after[i].T0 != before[i].T0 {
			return after[i], i, true
		}
	}
	return c, 0, false
}

// moves reports whether there are curves with a point moved by so many kelvin
// either way.
func (g *Glass) moves(key string, by float64) bool {
	_, _, down := g.Moved(key, unit.Delta(-by))
	_, _, up := g.Moved(key, unit.Delta(by))
	return down && up
}

// fluidCurve returns the curve through annealing, softening and working point.
func (g *Glass) fluidCurve() (Curve, error) {
	anneal, soften := g.Anneal.Temp(), g.Soften.Temp()
	c, err := Curve{}, error(nil)
	if g.Work.Known() {
		c, err = throughThree(annealSoftenWork, LogAnneal, anneal, logSoften, soften, logWork, g.Work.Temp())
	} else {
		c, err = throughTwo(annealSoftenWork, g.ViscosityLimit.Number, LogAnneal, anneal, logSoften, soften)
	}
	if err != nil {
		return c, err
	}
	// Same lower end as the other curve, so that the two can be compared.
	c.Straight = anneal
	strain := unit.Kelvin(c.kelvin(LogStrain))
	if g.Strain.Known() {
		strain = g.Strain.Temp()
	}
	return c.from(strain.Add(-belowStrain)), nil
}

// from returns the curve with a new lower end, kept above T0.
func (c Curve) from(low unit.Temp) Curve {
	if c.Low = low; !c.Straight.IsZero() {
		return c
	}
	if floor := unit.Kelvin(max(c.T0, 0) + 1); low.Less(floor) {
		c.Low = floor
	}
	return c
}

// throughThree returns the curve through three points, given as log10 of the
// viscosity [Pa·s] and temperature, from stiff and cold to fluid and hot. Its
// range is from the first point to the last.
//
// With L1 > L2 > L3 and T1 < T2 < T3 the three equations
// (Li - A)(Ti - T0) = B give
//
//	s = (L1-L2)(T3-T2) / ((L2-L3)(T2-T1))
//	T0 = (s T1 - T3) / (s - 1),  A = L1 - (L1-L2)(T2-T0)/(T2-T1),  B = (L1-A)(T1-T0)
//
// Errors: when the points are out of order, or lie on no curve that falls and
// levels off (s must be above 1).
func throughThree(name string, l1 float64, t1 unit.Temp, l2 float64, t2 unit.Temp, l3 float64, t3 unit.Temp) (Curve, error) {
	if !t1.Less(t2) || !t2.Less(t3) || l1 <= l2 || l2 <= l3 {
		return Curve{}, fmt.Errorf("viscosity curve %s: temperatures %s, %s, %s must rise as the glass softens", name,
			t1.Text(unit.Metric), t2.Text(unit.Metric), t3.Text(unit.Metric))
	}
	k1, k2, k3 := t1.Kelvin(), t2.Kelvin(), t3.Kelvin()
	s := (l1 - l2) * (k3 - k2) / ((l2 - l3) * (k2 - k1))
	if s <= 1+1e-9 {
		return Curve{}, fmt.Errorf("viscosity curve %s: no falling curve passes through %s, %s and %s; the middle one is too high", name,
			t1.Text(unit.Metric), t2.Text(unit.Metric), t3.Text(unit.Metric))
	}
	t0 := (s*k1 - k3) / (s - 1)
	a := l1 - (l1-l2)*(k2-t0)/(k2-k1)
	return Curve{Name: name, A: a, B: (l1 - a) * (k1 - t0), T0: t0, Low: t1, High: t3}, nil
}

// throughTwo returns the curve through two points that tends to a in very hot
// glass: (L1 - A)(T1 - T0) = (L2 - A)(T2 - T0).
func throughTwo(name string, a, l1 float64, t1 unit.Temp, l2 float64, t2 unit.Temp) (Curve, error) {
	if !t1.Less(t2) || l1 <= l2 || a >= l2 {
		return Curve{}, fmt.Errorf("viscosity curve %s: temperatures %s and %s must rise as the glass softens", name,
			t1.Text(unit.Metric), t2.Text(unit.Metric))
	}
	t0 := ((l1-a)*t1.Kelvin() - (l2-a)*t2.Kelvin()) / (l1 - l2)
	return Curve{Name: name, A: a, B: (l1 - a) * (t1.Kelvin() - t0), T0: t0, Low: t1, High: t2}, nil
}
