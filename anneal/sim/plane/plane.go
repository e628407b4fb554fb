package plane

import (
	"fmt"
	"math"

	"lehr/anneal/sim"
)

// Profile is how the thickness of a piece goes over its radius.
type Profile int

const (
	Flat Profile = iota // the same everywhere
	Lens                // two spherical caps on a rim band of 0.12 of the thickness
)

// lensBand is the height of a lens's rim, of its greatest thickness.
const lensBand = 0.12

// Outline is the shape of a flat piece.
type Outline struct {
	Diameter float64 // of a disc, pendant or lens [m]; 0 for a rectangular slab
	// Long and Wide are the sides of a rectangular slab [m], in any order.
	Long, Wide float64
	Thickness  float64 // the greatest [m]
	Profile    Profile
	// RimRadius is the radius to which the edge of the rim is rounded [m]. From a
	// third of the thickness on the rim counts as round, below as sharp.
	RimRadius float64
	OnShelf   bool // the base passes no heat; the piece is free to bend
}

func bad(format string, args ...any) error {
	return fmt.Errorf("%w: %s", sim.ErrProblem, fmt.Sprintf(format, args...))
}

func positive(x float64) bool { return x > 0 && !math.IsInf(x, 1) }

func (o Outline) check() error {
	switch {
	case !positive(o.Thickness):
		return bad("thickness %g m must be positive and finite", o.Thickness)
	case o.Diameter != 0 && (o.Long != 0 || o.Wide != 0):
		return bad("a flat piece has either a diameter or two sides")
	case o.Diameter == 0 && !(positive(o.Long) && positive(o.Wide)):
		return bad("a flat piece needs a diameter, or two sides that are positive and finite: %g m and %g m", o.Long, o.Wide)
	case o.Diameter != 0 && !positive(o.Diameter):
		return bad("diameter %g m must be positive and finite", o.Diameter)
	case o.Profile != Flat && o.Profile != Lens:
		return bad("profile %d unknown", o.Profile)
	case o.Profile == Lens && o.Diameter == 0:
		return bad("a lens needs a diameter")
	case o.Profile == Lens && o.Thickness > o.Diameter:
		return bad("a lens %g m thick and %g m wide is none: it must be wider than thick", o.Thickness, o.Diameter)
	case !(o.RimRadius >= 0 && o.RimRadius <= o.Thickness):
		return bad("rim radius %g m must lie between 0 and the thickness %g m", o.RimRadius, o.Thickness)
	}
	return nil
}

// rectangular says that the outline has sides, not a diameter.
func (o Outline) rectangular() bool { return o.Diameter == 0 }

func (o Outline) round() bool { return o.RimRadius > o.Thickness/3 }

// at returns the thickness at radius r [m] and the area of a face per area of
// plan.
func (o Outline) at(r float64) (thickness, slant float64) {
	if o.Profile == Flat {
		return o.Thickness, 1
	}
	radius, band := o.Diameter/2, lensBand*o.Thickness
	h := (o.Thickness - band) / 2
	rc := (radius*radius + h*h) / (2 * h)
	rise := math.Sqrt(math.Max(rc*rc-r*r, 0))
	return band + 2*(rise-rc+h), rc / rise
}

// Slab returns the body of sim that goes with the outline: the slab of its
// greatest thickness cooled from both faces, on a shelf too. One cooled from a
// single face and free to bend has the same parabola once the part that bends
// it is taken off.
func (o Outline) Slab() sim.Body { return sim.Body{Form: sim.Slab, Outer: o.Thickness / 2} }

// Place is where a stress is greatest.
type Place int

const (
	RimFace Place = iota // the edge of the rim, at the free face
	RimBase              // the edge of the rim, at the base on the shelf
	Face                 // the middle of the face
	Inside               // the middle, inside
	Side                 // the side of a rod, near its middle
	End                  // the end of a tube
)

func (p Place) String() string {
	return [...]string{"the rim's edge", "the rim's edge on the shelf", "the face", "the center, inside", "the side", "the end"}[p]
}

// Outcome is what one variant gives in the plane, without the slab's part and
// without any factor.
type Outcome struct {
	Variant sim.Variant
	// Edge is the greatest tension at the edge of the rim [Pa], EdgeTime when
	// [s], EdgePlace RimFace or RimBase.
	Edge, EdgeTime float64
	EdgePlace      Place
	// EdgeBySpan is the greatest in each span between kinks [Pa]; InsideBySpan
	// the greatest radial tension of the membrane, which is that of the middle
	// while the piece is heated; neither is negative.
	EdgeBySpan, InsideBySpan []float64
	insideTime               []float64 // when InsideBySpan was reached [s]
	// Residual is the greatest tension of the membrane once the piece is at room
	// temperature [Pa].
	Residual float64
	// Radius, Radial and Hoop are the membrane that is left, center first, one
	// value per cell [m, Pa].
	Radius, Radial, Hoop []float64
}

// Result is the answer to a run.
type Result struct {
	Outcomes []Outcome // in the order of Problem.Variants
	// MaxLag is the greatest difference between the hottest and the coldest
	// place in the plane [K], MarkLag the difference at Mark.
	MaxLag, MarkLag float64
	Lags            sim.Lags // see sim.Result
	Stats           sim.Stats
}

// Run computes the plane of an outline with a diameter. The problem is that of
// the slab; its Body is not used and its Start counts with its mean over the
// depth. Settings.Cells are those of the radius (default 16). An error means
// that there is no answer; it wraps sim.ErrProblem or sim.ErrNotConverged.
//
// Valid: up to a third as thick as wide; a disc half as thick as wide comes out
// 5 % high in tension and 15 % in what is left, a lens 4 to 21 % and 6 to 31 %.
// With structural relaxation and conductivity that changes
// with temperature it was compared with package axial, which it meets within 6 %
// in tension.
//
// Source: in-plane study, secs 1 and 2 [derived].
//
// Checked: testdata/cases/flat-pieces.toml
func Run(p sim.Problem, s sim.Settings, o Outline) (Result, error) {
	if err := o.check(); err != nil {
		return Result{}, err
	}
	if o.rectangular() {
		return Result{}, bad("a rectangular slab is not one disc: use Bounds, or Needs and CombineSides")
	}
	if s.Cells == 0 {
		s.Cells = 16
	}
	p.Body = o.Slab()
	d := newDisc(o, s.Cells, p)
	r, err := sim.RunShape(p, s, d)
	if err != nil {
		return Result{}, err
	}
	for i, v := range r.Outcomes {
		f := &d.out[i]
		f.Variant, f.Edge, f.EdgeTime, f.EdgePlace, f.EdgeBySpan = v.Variant, v.Peak, v.PeakTime, Place(v.PeakRho), v.PeakBySpan
	}
	return Result{Outcomes: d.out, MaxLag: r.MaxLag, MarkLag: r.MarkLag, Lags: r.Lags, Stats: r.Stats}, nil
}
