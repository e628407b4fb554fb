package report

import (
	"fmt"

	"lehr/anneal/verify"
	"lehr/cmd/lehr/words"
)

// judgment is what of a piece uses how much of its limit.
type judgment struct {
	what string
	use  float64
}

// judgments are those of a piece that are a share of a limit.
func judgments(p verify.PieceReport) []judgment {
	out := []judgment{{"Tension when the kiln is opened", p.Opening.Use}, {"Tension", p.Tension.Use}}
	if p.ResidualJudged {
		out = append(out, judgment{"Tension left", p.ResidualTension.Use})
	}
	if use, ok := InsideUse(p); ok {
		out = append(out, judgment{"Tension with what lies inside", use})
	}
	return out
}

// nearest is the judgment of a piece that uses most of its limit; of equal ones the
// last.
func nearest(p verify.PieceReport) (most judgment) {
	for _, j := range judgments(p) {
		if j.use >= most.use {
			most = j
		}
	}
	return most
}

// InsideUse is the share of its limit that what lies in a piece and the program use
// up at its surface, in the worst case; ok is false where nothing pulls there.
func InsideUse(p verify.PieceReport) (use float64, ok bool) {
	in := p.Inside
	if in == nil || in.Carrier == "" {
		return 0, false
	}
	return float64(max(in.Together.Worst, in.Alone.Worst+p.Opened) / in.Limit), true
}

// Deciding names the piece that comes nearest to a limit, and the share of that
// limit; where only what is no share of a limit is exceeded, the share is 0.
func Deciding(rep *verify.Report) (piece int, use float64) {
	piece = decidingPiece(rep)
	if use = nearest(rep.Pieces[piece]).use; use <= 1 {
		for i, p := range rep.Pieces {
			if len(p.Over) > 0 {
				return i, 0
			}
		}
	}
	return piece, use
}

// DecidingText says what decides, and how much of its limit it uses; or the first of
// what is exceeded that is no share of a limit.
func DecidingText(rep *verify.Report) string {
	i, use := Deciding(rep)
	p := rep.Pieces[i]
	if len(p.Over) > 0 && use == 0 {
		return fmt.Sprintf("%s decides: %s.", p.Piece.What, words.About(rep).OverBrief(p.Over[:1]))
	}
	return fmt.Sprintf("%s in %s decides: %s of its limit.", nearest(p).what, p.Piece.What, PercentText(use))
}
