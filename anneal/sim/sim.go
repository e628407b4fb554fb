// Package sim computes temperature and stress inside one piece of glass while the
// kiln around it follows a program: a slab, a long cylinder, the wall of a long
// tube or a sphere, heat conducted and, in clear glass, radiated ([Light]), glass
// viscoelastic with a fictive temperature. Equations, symbols, assumptions and the
// range in which they were checked stand in DEVELOPERS.md.
//
// Everything is SI, in float64: kelvin, meters, seconds, pascals, tension positive.
// The package knows no planning, no glass table and no limits of stress, keeps no
// state and starts no goroutines: on one machine a problem gives the same bits.
package sim

import (
	"errors"
	"fmt"
	"math"
)

// Form is the one-dimensional shape that is solved.
type Form int

const (
	Slab     Form = iota // flat, edges ignored
	Cylinder             // long, plane sections stay plane; a tube when Inner > 0
	Sphere               // solid; a closed shell when Inner > 0
)

func (f Form) String() string { return [...]string{"slab", "cylinder", "sphere"}[f] }

// Body is the shape and size of a piece.
type Body struct {
	Form Form
	// Outer is the distance from the innermost point to the cooled face [m]:
	// the half thickness of a slab cooled from both faces, the full thickness of
	// a slab cooled from one, the radius of a sphere or cylinder.
	Outer float64
	// Inner is the radius of the bore of a tube or of the cavity of a sphere [m]
	// (default 0, solid).
	Inner float64
	// OneFace says that a slab's far face passes no heat and the slab may bend
	// (default false: Outer is half the thickness and the middle is a plane of
	// symmetry).
	OneFace bool
	// Held keeps a OneFace slab flat (default false: it bends as its stress
	// wants, which takes most of the stress away).
	Held bool
	// InnerOpen says that a tube's bore exchanges heat as the outside does
	// (default false: the bore passes no heat).
	InnerOpen bool
}

// Term is one exponential of a relaxation function.
type Term struct {
	Weight float64 // share of the whole, the weights of a set sum to 1
	Time   float64 // relaxation time relative to the mean shear time η/G [-]
}

// Material is what a glass is to the simulation. All values are for the
// piece, constant unless given as a function.
type Material struct {
	Density      float64                      // [kg/m³]
	Conductivity func(kelvin float64) float64 // [W/mK]
	SpecificHeat func(kelvin float64) float64 // [J/kgK]
	Young        float64                      // [Pa]
	Poisson      float64                      // [-]
	Expansion    float64                      // below the transformation range [1/K]
	Shear        []Term                       // relaxation of shear (default one Maxwell term)
	Bulk         []Term                       // relaxation of bulk (default none: elastic)
	BulkLong     float64                      // long-time bulk modulus over the instant one, with Bulk [-]
	Structural   []Term                       // shape of structural relaxation, times relative to its mean (default Shear)
	// StructuralModulus K_s sets the mean structural time η/K_s [Pa]
	// (default 3.2e9, nine times slower than shear for soda-lime).
	StructuralModulus float64
	// Nonlinearity is x of the Tool-Narayanaswamy-Moynihan shift (default 0.5).
	Nonlinearity float64
}

// Variant is one choice of the properties that are uncertain: a viscosity
// curve, the expansion of the liquid and the pace of the structure. All variants
// of a problem share its temperatures; those that differ in expansion alone
// share their relaxation too.
type Variant struct {
	Name string
	// A, B, T0: log10(η/Pa·s) = A + B/(T−T0), T and T0 in kelvin.
	A, B, T0 float64
	// Straight is the temperature below which log10 η goes on as a straight line
	// in 1/T, with the slope it has there [K] (default 0: nowhere).
	Straight float64
	// ExpansionLiquid is the expansion above the transformation range [1/K]
	// (default 0: no structural relaxation).
	ExpansionLiquid float64
	// StructuralModulus stands in for that of the material [Pa] (default 0: it
	// does not).
	StructuralModulus float64
}

// Log10 returns the equilibrium viscosity as log10(η/Pa·s), infinite at T0 and
// below.
func (v Variant) Log10(kelvin float64) float64 {
	switch {
	case kelvin < v.Straight:
		at, slope := v.line()
		return at + slope*(1/kelvin-1/v.Straight)
	case kelvin <= v.T0+1:
		return math.Inf(1)
	}
	return v.A + v.B/(kelvin-v.T0)
}

// line returns log10 of the viscosity at Straight and its slope with 1/T below.
func (v Variant) line() (at, slope float64) {
	d := v.Straight - v.T0
	return v.A + v.B/d, v.B * v.Straight * v.Straight / (d * d)
}

// isokom returns the temperature at which the viscosity is 10^log10 Pa·s [K].
func (v Variant) isokom(log10 float64) float64 {
	if v.Straight > 0 {
		if at, slope := v.line(); log10 > at {
			return 1 / (1/v.Straight + (log10-at)/slope)
		}
	}
	return v.T0 + v.B/(log10-v.A)
}

// Surface is how heat passes between kiln and glass.
type Surface struct {
	Follows      bool    // the surface has the kiln's temperature
	HeatTransfer float64 // convection [W/m²K], when it does not follow
	Emissivity   float64 // radiation between gray surfaces [-], when it does not follow
}

// Kiln is the furnace temperature as a function of time.
type Kiln struct {
	At    func(seconds float64) float64 // [K], continuous between kinks
	Kinks []float64                     // rising times at which a slope changes; the last is the end [s]
}

// Problem is one piece in one firing.
type Problem struct {
	Body     Body
	Material Material
	Variants []Variant
	Surface  Surface
	// Light is how heat radiates inside the piece (default nil: it does not, or
	// the conductivity already contains it, and the surface is opaque). With it
	// Material.Conductivity is that of the glass without radiation, and
	// Surface.Emissivity counts only for the wavelengths beyond its last band.
	// It brings its own cells.
	Light *Light
	Kiln  Kiln
	// Start gives the temperature [K] at relative depth rho (0 innermost, 1 the
	// cooled face) when the program begins. Stress is zero then.
	Start func(rho float64) float64
	// StartFictive is the least fictive temperature at the start [K] (default
	// 0: the temperature at which η = 10^13.5 Pa·s). Glass that starts hotter
	// is in equilibrium.
	StartFictive float64
	// Mark is the end of the soak [s] (default 0: not asked).
	Mark float64
	// Room is the temperature at which the left stress is reported [K]
	// (default 293.15 from the caller; 0 means the kiln's last temperature).
	Room float64
}

// Settings control accuracy. The zero value is good to 0.5 % of peak and left
// stress, those of the worst variant and no less than 0.1 MPa, over forms,
// glasses, sizes of 3 to 300 mm and ramps of 1 to 2000 °C/h (to 0.75 % in three of
// a hundred), and to 2.5 % where the piece starts with a core 100 K hotter than
// its surface (accuracy_test.go).
type Settings struct {
	Cells     int          // between innermost point and surface (default 16; 32 where heat goes less deep in the shortest ramp than is seen with these)
	Tolerance float64      // local error of temperature [K] (default 0.1; 0.05 in programs with ramps above 300 °C/h)
	MaxChange float64      // change of any temperature in a step while glass relaxes [K], ten times that when none does (default 8)
	FixedStep float64      // one step length for tests of order [s] (default 0: adaptive)
	MaxSteps  int          // (default 20000)
	Record    func(Sample) // called after each step with the stresses of the first variant
	RecordAll bool         // call Record for every variant, in their order (default false)
	Lags      bool         // keep Result.Lags (default false)
}

// Sample is the state after one step, for a history.
type Sample struct {
	Time, Kiln      float64 // [s], [K]
	Surface, Center float64 // [K]
	Variant         int     // whose stresses these are: index of Problem.Variants
	SurfaceStress   float64 // in the plane of the surface, the larger component [Pa]
	CenterStress    float64 // greatest component [Pa]
	Tension         float64 // greatest tension anywhere [Pa]
}

// Outcome is what one variant gives.
type Outcome struct {
	Variant Variant
	// Peak is the greatest tension at any time and place [Pa], never negative;
	// PeakTime [s]; PeakRho its relative depth, 1 the surface. It is the
	// greater of Surface and Inside.
	Peak, PeakTime, PeakRho float64
	// PeakBySpan is the greatest tension in each span between kinks [Pa], one
	// value per kink, in order.
	PeakBySpan []float64
	// Inside is the greatest tension in the core of the piece, Surface that in
	// the shell around it. The core is where the stress of steady cooling
	// presses: the inner 0.577 of a slab or of a tube's wall (of an open tube
	// its middle 0.577), the inner 0.707 of a sphere or cylinder.
	Inside, Surface Top
	// AtPeak is the state of the step nearest the peak.
	AtPeak Moment
	// Residual is the stress that stays once the piece is at room temperature, and
	// ResidualInside and ResidualSurface are its greatest tensions in core and shell
	// [Pa], negative where all is pressed.
	Residual                        Profile
	ResidualInside, ResidualSurface float64
	// Unrelaxed is the share of a stress present at the start that is left at
	// Mark, where it relaxes slowest; 1 if Mark is 0.
	Unrelaxed float64
	// Fictive temperature left [K]: surface and innermost point.
	FictiveSurface, FictiveCenter float64
}

// Top is the greatest tension of a part of the piece while the program runs.
type Top struct {
	Tension, Time, Rho float64   // [Pa], never negative; [s]; relative depth, 1 the surface
	BySpan             []float64 // the greatest in each span between kinks [Pa]
}

// Moment is the piece at one time.
type Moment struct {
	Time, Kiln  float64   // [s], [K]
	Temperature []float64 // at the depths of Stress [K]
	Stress      Profile
}

// Profile is stress by depth, innermost point first, n+1 values. The depths are
// closer together toward the surface where the program asks for it.
type Profile struct {
	Depth  []float64 // distance from the innermost point (radius; tube: from the bore) [m]
	Plane  []float64 // hoop, or in-plane for a slab [Pa]
	Axial  []float64 // along the axis of a cylinder; equals Plane otherwise [Pa]
	Radial []float64 // across: zero in a slab [Pa]
}

// Result is the answer to a Problem.
type Result struct {
	Outcomes []Outcome // in the order of Problem.Variants
	// MaxLag is the greatest difference between the hottest and the coldest
	// place [K], MarkLag the difference at Mark.
	MaxLag, MarkLag float64
	Lags            Lags      // that difference by time, if Settings.Lags asks for it
	Temperature     []float64 // at the end, innermost point first [K]
	Stats           Stats
}

// Stats counts the work.
type Stats struct {
	Steps, Rejected int
	Exponentials    int     // e^−a formed in the relaxation update
	LargestChange   float64 // of a temperature in one step [K]
	HeatIn          float64 // through the surfaces, per unit of angle or area [J/(sr), J/(m·rad), J/m²]
	HeatStored      float64 // gained by the glass, same unit
}

// What the errors wrap: of a run that could not go on, and of one whose problem
// cannot be, as it was put.
var (
	ErrNotConverged = errors.New("simulation did not converge")
	ErrProblem      = errors.New("cannot simulate")
)

// StopError says when a run could not go on, and why. It wraps ErrNotConverged.
type StopError struct {
	Time float64 // [s]
	Why  string
}

func (e *StopError) Error() string {
	return fmt.Sprintf("%v at %.2f h: %s", ErrNotConverged, e.Time/3600, e.Why)
}

func (e *StopError) Unwrap() error { return ErrNotConverged }

// StefanBoltzmann is the constant of radiation [W/m²K⁴], CODATA 2018, exact
// since the SI of 2019.
const StefanBoltzmann = 5.670374419e-8

const (
	runnyLog10    = 5.0 // runnier glass relaxes everything in any step
	liquidReduced = 1e3 // a step of this reduced time leaves nothing of the stress before it
)
