package piece

// RimUnknown reports whether a piece is flat: its rim cools ahead of its middle
// in the plane, which no body of one dimension shows. In finite elements the
// rim then carries two to six times the tension of the slab. A surface that
// follows the kiln has no such rim, and a dome at least as high as half its
// width counts as the round it is part of.
//
// Source: uneven cooling of flat pieces, finite elements [derived].
func (p Piece) RimUnknown() bool {
	switch {
	case p.Glass != nil && p.Glass.SurfaceFollows:
		return false
	case p.Shape == DomeShape:
		return p.Across > 2*p.Size*1.001
	}
	return p.Shape == DiscShape || p.Shape == SlabShape || p.Shape == PendantShape
}
