package piece

import "lehr/anneal/sim/axial"

// longRod is the length over the diameter from which a rod or a tube is endless
// but for its ends.
const longRod = 4

// roundRim is the radius of the rim of a flat pendant, in its thickness: nearly
// half of it, as no mesh of four sides ends in a point.
const roundRim = 0.44

// Revolved returns the piece as it is, a body of revolution in its section. ok is
// false for a sphere and a long rod, which their one-dimensional body is; for a
// rectangular slab; where a measure was not given; for a textbook piece; and for a
// short rod or a dome of clear glass, whose section knows no light inside. bed
// says that the piece lies on its side, so that its bed is no part of the body.
func (p Piece) Revolved() (b axial.Body, bed, ok bool) {
	shelf := p.Resting != Raised
	size, across := float64(p.Size), float64(p.Across)
	switch {
	case p.Textbook || across == 0 || p.Glass != nil && p.Glass.SurfaceFollows:
		return b, false, false
	case p.Light == Clear && (p.Shape == RodShape || p.Shape == DomeShape): // its bound has light inside, its section has none
		return b, false, false
	case p.Profile != nil:
		return axial.Profile(p.Profile.Points, shelf), false, true
	case p.Shape == DiscShape:
		return axial.Disc(across, size, 0, shelf), false, true
	case p.Shape == PendantShape && p.Wide != 0 && p.Wide != p.Across:
		return b, false, false
	case p.Shape == PendantShape && p.Lens:
		return axial.Lens(across, size, shelf), false, true
	case p.Shape == PendantShape:
		return axial.Disc(across, size, roundRim*size, shelf), false, true
	case p.Shape == DomeShape:
		return axial.Dome(across, size, shelf), false, true
	case p.Shape == RodShape && across < longRod*size:
		return axial.Rod(size, across), true, true
	case p.Shape == TubeShape:
		return axial.Tube(size, float64(p.Wall), min(across, longRod*size), p.OpenEnded), true, true
	}
	return b, false, false
}
