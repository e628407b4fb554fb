package report

import (
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/glass/unit"
)

// TestShareReasons_unfit: what a controller cannot be set for is named once,
// whether its error names it or not, and what the error of a whole load says is not
// cut or taken for a name.
func TestShareReasons_unfit(t *testing.T) {
	load := &piece.Load{Pieces: []piece.Piece{{What: "the program"}, {What: "sphere 6in"}}}
	many := &plan.SegmentsError{Needs: 5, Has: 4}
	hot := &plan.PieceError{What: "sphere 6in", Err: &plan.HighestError{Needs: unit.Celsius(560), Highest: unit.Celsius(500)}}
	s := &plan.Sharing{Unfit: []plan.Unfit{{Piece: 0, Err: many}, {Piece: 1, Err: hot}}, Together: many,
		Reasons: finding.List{finding.OfPiece(finding.Unkeyable, 0), finding.OfPiece(finding.Unkeyable, 1), finding.Of(finding.Unkeyable)}}
	got := ShareReasons(load, kiln.DefaultStudio(), s)
	for i, want := range []string{"the program: the program needs 5 segments, the controller has 4, even alone",
		"sphere 6in: needs a soak at 560 °C at least, and the highest temperature of the kiln is 500 °C, even alone",
		"the program needs 5 segments, the controller has 4"} {
		if got[i] != want {
			t.Errorf("%q, want %q", got[i], want)
		}
	}
}
