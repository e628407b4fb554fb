package piece

// RimUnknown reports whether a piece is flat and its rim cannot be computed:
// nobody gave its width. A rim cools ahead of its middle in the plane, which no
// body of one dimension shows; in finite elements it carries two to six times the
// tension of the slab.
//
// Source: uneven cooling of flat pieces, finite elements [derived].
func (p Piece) RimUnknown() bool {
	flat := p.Shape == DiscShape || p.Shape == SlabShape || p.Shape == PendantShape
	return flat && !p.Textbook && p.Across == 0
}
