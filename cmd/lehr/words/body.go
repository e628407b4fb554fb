package words

import (
	"fmt"

	"lehr/anneal/formula"
	"lehr/anneal/piece"
)

// Body says what a piece is computed as, in clauses, and what is uncertain about
// it, "" if nothing.
func (w Words) Body(p piece.Piece) (text []string, doubt string) {
	b := p.Body()
	if p.Textbook {
		return []string{"the body of a textbook, without bed, rim and ends"}, ""
	}
	bed := fmt.Sprintf("%s: tension × %.3g, left × %.3g", p.Resting, b.TensionFactor, b.ResidualFactor)
	if p.Profile != nil {
		return []string{fmt.Sprintf("its profile of %d points, turned; to begin with, the disc of its width, %s thick as the largest ball in it", len(p.Profile.Points), w.length(p.Size))}, ""
	}
	switch p.Shape {
	case piece.SphereShape:
		if p.Wall > 0 {
			return []string{fmt.Sprintf("hollow sphere of %s, wall %s, cooled from its outside only", w.length(p.Size), w.length(p.Wall)), bed}, "a hollow sphere takes the resting factors of a solid one, for want of a study of its own"
		}
		return []string{"sphere of " + w.length(p.Size), bed}, ""
	case piece.RodShape:
		return []string{"cylinder of " + w.length(p.Size) + " and its ends", bed}, "a rod takes the resting factors of a sphere, for want of a study of its own"
	case piece.TubeShape:
		from := "its outside only, the bore closed"
		if p.OpenEnded {
			from = "both sides, the bore open to the kiln"
		}
		return []string{fmt.Sprintf("tube wall %s cooled from %s, and its ends", w.length(p.Wall), from), bed}, "a tube takes the resting factors of a sphere, for want of a study of its own"
	case piece.DomeShape:
		as := fmt.Sprintf("slab as thick as it is high, %s", w.length(p.Size))
		if b.Form == formula.FormSphere {
			as = fmt.Sprintf("sphere of twice its height, %s", w.length(2*p.Size))
		}
		return []string{fmt.Sprintf("dome: %s; tension × %.3g, left × %.3g", as, b.TensionFactor, b.ResidualFactor)}, ""
	}
	slab := fmt.Sprintf("%s: slab %s thick cooled from both faces and free to bend", p.Shape, w.length(p.Size))
	o, rim := p.Outline()
	if !rim {
		return []string{slab}, "its rim is not computed, for want of its width"
	}
	text = []string{slab}
	if o.OnShelf {
		text = append(text, "its rim in its plane, on a shelf")
		if p.Resting == piece.Bedded {
			doubt = fmt.Sprintf("no study of a bedded %s is known; it counts as one on a shelf", p.Shape)
		}
		return text, doubt
	}
	return append(text, "its rim in its plane, raised"), ""
}
