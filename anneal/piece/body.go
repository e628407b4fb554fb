package piece

import (
	"math"

	"lehr/anneal/formula"
	"lehr/anneal/sim"
	"lehr/anneal/sim/plane"
	"lehr/glass/unit"
)

// Body is the one-dimensional shape that stands for a piece, and the factors that
// its computed stresses are raised by. How far they were found to bound a piece
// stands at each rule of package plane.
type Body struct {
	Sim sim.Body
	// Form, Size and OneFace are the same shape as the formulas and rules know
	// it: the full thickness of a slab, the diameter of a cylinder or sphere. A
	// tube is the slab of its wall there, and so is a hollow sphere of a thin one.
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
// with heat transfer 1.48, the surface-follows bound of a cap to the equator 2.80,
// left stress at most 1.10.
var restingFactors = map[Resting][2]float64{OnShelf: {1.5, 1.1}, Raised: {1, 1}, Bedded: {2.8, 1.1}}

// rimTension and rimLeft raise the closed forms of a flat piece to where its
// program is first looked for; what it carries is computed by its outline.
//
// Source: in-plane study, finite elements of a disc raised [derived].
const rimTension, rimResidual = 1.6, 1.55

// Body returns the idealization of the piece. A flat piece is computed by its
// [Piece.Outline] too, a rod and a tube with their ends; a textbook piece is its
// body and nothing more.
//
// Source: uneven-cooling study, finite elements [derived], for the bed of round
// pieces; plane.Dome for domes.
func (p Piece) Body() Body {
	bed := restingFactors[p.Resting]
	half := float64(p.Size) / 2
	b := Body{Size: p.Size, TensionFactor: bed[0], ResidualFactor: bed[1]}
	if p.Textbook {
		b.TensionFactor, b.ResidualFactor = 1, 1
	}
	switch p.Shape {
	case SphereShape:
		b.Form = formula.FormSphere
		b.Sim = sim.Body{Form: sim.Sphere, Outer: half}
		if p.Wall > 0 {
			b.Sim.Inner = half - float64(p.Wall)
			// Of the two bounds on the steady stress of its surface the lower: a wall
			// that cools from one face and cannot bend, l²/3, or the solid sphere, R²/15.
			if float64(p.Wall) < half/math.Sqrt(5) {
				b.Form, b.Size, b.OneFace = formula.FormSlab, p.Wall, true
			}
		}
	case RodShape:
		b.Form = formula.FormCylinder
		b.Sim = sim.Body{Form: sim.Cylinder, Outer: half}
	case TubeShape:
		b.Form, b.Size, b.OneFace = formula.FormSlab, p.Wall, !p.OpenEnded
		b.Sim = sim.Body{Form: sim.Cylinder, Outer: half, Inner: half - float64(p.Wall), InnerOpen: p.OpenEnded}
	case DomeShape:
		if p.Textbook {
			return p.slab(b)
		}
		r := plane.Dome(float64(p.Across), float64(p.Size), p.Resting != Raised)
		b.Sim, b.TensionFactor, b.ResidualFactor = r.Body, r.Tension, r.Residual
		b.Form, b.OneFace = formula.FormSlab, r.Body.OneFace
		if r.Body.Form == sim.Sphere {
			b.Form, b.Size = formula.FormSphere, 2*p.Size
		}
	default: // disc, slab, pendant
		return p.slab(b)
	}
	return b
}

// slab is the body of a flat piece: the slab of its thickness cooled from both
// faces, also on a shelf, where it is free to bend; its rim is computed by its
// outline. To the rules a piece on a shelf cools from one face.
func (p Piece) slab(b Body) Body {
	b.Form = formula.FormSlab
	b.Sim = sim.Body{Form: sim.Slab, Outer: float64(p.Size) / 2}
	if !p.Textbook {
		b.TensionFactor, b.ResidualFactor = rimTension, rimResidual
		b.OneFace = p.Resting != Raised && p.Shape != PendantShape
	}
	return b
}

// Outline is the shape of a flat piece in its plane. ok is false for a piece that
// is not flat, of which nobody gave the width, or whose surface follows the kiln
// as that of a textbook.
func (p Piece) Outline() (o plane.Outline, ok bool) {
	if p.Textbook || p.Across == 0 {
		return o, false
	}
	o = plane.Outline{Thickness: float64(p.Size), OnShelf: p.Resting != Raised}
	switch p.Shape {
	case DiscShape:
		o.Diameter = float64(p.Across)
	case PendantShape:
		o.Diameter, o.RimRadius = float64(max(p.Across, p.Wide)), float64(p.Size)/2
		if p.Lens {
			o.Profile, o.RimRadius = plane.Lens, 0
		}
	case SlabShape:
		o.Long, o.Wide = float64(p.Across), float64(p.Across)
		if p.Wide > 0 {
			o.Wide = float64(p.Wide)
		}
	default:
		return o, false
	}
	return o, true
}
