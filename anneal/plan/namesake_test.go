package plan

import (
	"context"
	"errors"
	"testing"
	"time"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
)

// TestPlan_namesakes: two pieces that are called alike and are of two glasses are
// two: where one needs a longer soak than the other bears, sharing is to blame.
func TestPlan_namesakes(t *testing.T) {
	l := &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{pieceOf(t, "sphere 100mm", "borosilicate-33"), pieceOf(t, "sphere 100mm", "neutral-50")}}
	for i, alone := range []bool{false, true} { // the second needs it
		l.Pieces[i].LongestSoak = 45 * time.Minute
		_, err := Plan(context.Background(), l, kiln.DefaultStudio(), Options{})
		var conflict *ConflictError
		if !errors.As(err, &conflict) {
			t.Fatal(err)
		}
		f, _ := conflict.Reasons.Find(finding.SoakTooLong)
		if conflict.Alone != alone || f.Piece != 1 || (f.Other == i) == alone {
			t.Errorf("piece %d bears 45 min: by itself %v, %+v", i, conflict.Alone, f)
		}
		l.Pieces[i].LongestSoak = 0
	}
}
