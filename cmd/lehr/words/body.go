package words

import (
	"fmt"

	"lehr/anneal/piece"
)

// Body says which one-dimensional body stands for a piece, in clauses, and what
// is uncertain about it, "" if nothing.
func (w Words) Body(p piece.Piece) (text []string, doubt string) {
	b := p.Body()
	factors := func(lead string) string {
		return fmt.Sprintf("%s: tension × %.3g, left × %.3g", lead, b.TensionFactor, b.ResidualFactor)
	}
	bed := factors(string(p.Resting))
	switch p.Shape {
	case piece.SphereShape:
		return []string{"sphere of " + w.length(p.Size), bed}, ""
	case piece.RodShape:
		return []string{"long cylinder of " + w.length(p.Size), bed}, "a rod takes the resting factors of a sphere, for want of a study of its own"
	case piece.TubeShape:
		from := "its outside only, the bore closed"
		if p.OpenEnded {
			from = "both sides, the bore open to the kiln"
		}
		return []string{fmt.Sprintf("tube wall %s cooled from %s", w.length(p.Wall), from), bed}, "a tube takes the resting factors of a sphere, for want of a study of its own"
	case piece.PendantShape:
		if p.Resting != piece.Raised {
			doubt = "a pendant counts as a lens, which touches the shelf in a point; one with a flat back lying on it is a disc"
		}
		return []string{fmt.Sprintf("pendant: slab of its greatest thickness %s cooled from both faces", w.length(p.Size)), bed}, doubt
	}
	if p.Resting == piece.Raised {
		return []string{fmt.Sprintf("%s: slab %s thick cooled from both faces", p.Shape, w.length(p.Size)), fmt.Sprintf("tension × %.3g and left × %.3g for its rim", b.TensionFactor, b.ResidualFactor)}, ""
	}
	if p.Resting == piece.Bedded {
		doubt = fmt.Sprintf("no study of a bedded %s is known; it counts as one on a shelf, which was found to bound it about twice over", p.Shape)
	}
	return []string{fmt.Sprintf("%s: slab %s thick cooled from its upper face and held flat", p.Shape, w.length(p.Size))}, doubt
}
