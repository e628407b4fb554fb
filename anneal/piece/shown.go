package piece

import "lehr/glass/unit"

// Shown is where a piece is looked at between crossed polarizers, in a liquid of
// its own index: the one place and direction of which a retardation is told.
type Shown string

// The places. Their texts stand in records, too.
const (
	NotShown    Shown = ""                       // nothing is told of a dome, lens or drawn outline, of a width that nobody gave, of a flat piece more than half as thick as wide
	AtRing      Shown = "at the bright ring"     // of a sphere, from any side
	OnAxis      Shown = "on the axis"            // of a rod, looked at across, away from its ends
	ThroughEdge Shown = "through its edge"       // of a flat piece, in its middle plane along its first width, without what its rim adds
	AtBrightest Shown = "at its brightest place" // of a tube, across; of a hollow sphere
)

// Shown returns where the piece is looked at.
func (p *Piece) Shown() Shown {
	switch p.Shape {
	case SphereShape:
		if p.Wall > 0 {
			return AtBrightest
		}
		return AtRing
	case RodShape:
		return OnAxis
	case TubeShape:
		return AtBrightest
	case DiscShape, SlabShape, PendantShape:
		if _, ok := p.Edge(p.Path()); ok {
			return ThroughEdge
		}
	}
	return NotShown
}

// Edge returns the share of its slab that a flat piece shows through its edge along
// a path; ok is false where that is not known. See [plane.Outline.Edge].
func (p Piece) Edge(path unit.Length) (share float64, ok bool) {
	p.Textbook = false // it has an edge all the same
	o, ok := p.Outline()
	if !ok || p.Profile != nil {
		return 0, false
	}
	return o.Edge(float64(path))
}

// Path returns the length of glass that the light crosses in a flat piece.
func (p Piece) Path() unit.Length { return p.Across }
