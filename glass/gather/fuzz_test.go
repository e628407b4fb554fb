package gather

import (
	"math"
	"testing"
)

// FuzzParse: no text makes a parser panic, and what is read is a finite body.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"6 x sphere 2.5in", "tube 38mm wall 4mm x 100mm", "lens 50%", "flower cone 30mm x 40mm", "632 g/m", "core rest", "dome 3in × 1 3/4in raised", "x", "wall", " x x "} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if n, b, err := ParsePieces(text); err == nil && (n < 1 || !(b.Volume > 0) || math.IsInf(b.Volume, 0)) {
			t.Errorf("%q: %d of %+v", text, n, b)
		}
		if p, err := ParsePart(text); err == nil {
			r := Recipe{Piece: Body{Kind: SphereKind, Sizes: nil, Volume: 1e-4}, Density: 2230, Parts: []Part{p}}
			r.Piece, _ = ParseBody("sphere 57mm")
			if out, err := r.Portions(); err == nil && !(out[0].Mass > 0) {
				t.Errorf("%q: %+v", text, out)
			}
		}
		if r, err := ParseRod(text); err == nil && !(r.length(1, 2230) > 0) {
			t.Errorf("%q: %+v", text, r)
		}
	})
}
