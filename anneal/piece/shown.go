package piece

import "lehr/glass/unit"

// Shown is where a piece is looked at between crossed polarizers, in a liquid of
// its own index: the one place and direction of which a retardation is told.
type Shown string

// The places. Their texts stand in records, too.
const (
	NotShown      Shown = ""                       // nothing is told of a dome, of a drawn outline, or of a width that nobody gave
	AtRing        Shown = "at the bright ring"     // of a sphere, from any side
	OnAxis        Shown = "on the axis"            // of a rod, looked at across, away from its ends
	InMiddlePlane Shown = "in the middle plane"    // of a flat piece, looked at through the edge along its first width
	AtBrightest   Shown = "at its brightest place" // of a tube, across; of a hollow sphere
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
		if p.Profile == nil && p.Across > 0 {
			return InMiddlePlane
		}
	}
	return NotShown
}

// Path returns the length of glass that the light crosses in a flat piece.
func (p Piece) Path() unit.Length { return p.Across }
