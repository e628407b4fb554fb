package piece

import (
	"lehr/anneal/formula"
	"lehr/anneal/sim"
	"lehr/glass/unit"
)

// Body is the one-dimensional shape that stands for a piece, chosen to err on
// the slow side, and the factors that its computed stresses are raised by.
type Body struct {
	Sim sim.Body
	// Form, Size and OneFace are the same shape as the formulas and rules know
	// it: the full thickness of a slab, the diameter of a cylinder or sphere. A
	// tube is the slab of its wall there.
	Form    formula.Form
	Size    unit.Length
	OneFace bool
	// Tension raises the tension while cooling, Left the tension left.
	TensionFactor, ResidualFactor float64
}

// restingFactors are what an uneven bed does to a round piece: to the tension
// while it cools and to the tension left.
//
// Source: uneven-cooling study, finite elements [derived]: a shaded cap of 45°
// with a film 1.48, the surface-follows bound of a cap to the equator 2.80,
// left stress at most 1.10.
var restingFactors = map[Resting][2]float64{OnShelf: {1.5, 1.1}, Raised: {1, 1}, Bedded: {2.8, 1.1}}

// The rim of a disc that is free on both faces cools first.
//
// Source: uneven-cooling study [derived]: finite elements with a film 0.596 and
// 0.320 MPa, this package's slab with the same film 0.384 and 0.207.
//
// Deviates: the study gives 1.45 and 1.5, taken against a slab whose surface
// follows the kiln; against the film that is simulated here they would not
// bound it.
const rimTension, rimLeft = 1.6, 1.55

// Body returns the idealization of the piece.
//
// Source: uneven-cooling study, finite elements [derived], for sphere, disc,
// lens and short cylinder; a dome counts as a slab of its height.
func (p Piece) Body() Body {
	bed := restingFactors[p.Resting]
	half := float64(p.Size) / 2
	b := Body{Size: p.Size, TensionFactor: bed[0], ResidualFactor: bed[1]}
	// A slab free to bend would miss half of the stress that finite elements
	// find in a disc on a shelf; one held flat bounds it about twice over.
	flat := func() {
		b.Form = formula.FormSlab
		if p.Resting == Raised {
			b.Sim = sim.Body{Form: sim.Slab, Outer: half}
			b.TensionFactor, b.ResidualFactor = rimTension, rimLeft
			return
		}
		b.OneFace = true
		b.Sim = sim.Body{Form: sim.Slab, Outer: float64(p.Size), OneFace: true, Held: true}
		b.TensionFactor, b.ResidualFactor = 1, 1
	}
	switch p.Shape {
	case SphereShape:
		b.Form = formula.FormSphere
		b.Sim = sim.Body{Form: sim.Sphere, Outer: half}
	case RodShape:
		b.Form = formula.FormCylinder
		b.Sim = sim.Body{Form: sim.Cylinder, Outer: half}
	case TubeShape:
		b.Form, b.Size, b.OneFace = formula.FormSlab, p.Wall, !p.OpenEnded
		b.Sim = sim.Body{Form: sim.Cylinder, Outer: half, Inner: half - float64(p.Wall), InnerOpen: p.OpenEnded}
	case PendantShape:
		b.Form = formula.FormSlab
		b.ResidualFactor *= 1.15
		b.Sim = sim.Body{Form: sim.Slab, Outer: half}
	default: // disc, slab, dome
		flat()
	}
	return b
}

// Path returns how far light travels through a flat piece seen at its edge.
func (p Piece) Path() unit.Length {
	if p.Across > 0 {
		return p.Across
	}
	return p.Size
}
