package report

import (
	"errors"
	"fmt"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/cmd/lehr/words"
)

// ShareReasons says why a load cannot share one program.
func ShareReasons(load *piece.Load, st kiln.Studio, s *plan.Sharing) []string {
	out := []string{}
	band := finding.List{} // one sentence, of several findings
	say := words.AboutLoad(load, st.Units)
	for _, f := range s.Reasons {
		switch f.Kind {
		case finding.SoakBandLow, finding.SoakBandHigh, finding.SoakBandHottest, finding.SoakBandError, finding.SoakBandNarrow:
			band.Add(f)
		case finding.Unkeyable:
			out = append(out, unkeyableText(load, s, f))
		default:
			out = append(out, say.Say(f))
		}
	}
	if len(band) > 0 {
		out = append([]string{say.Joined(band)}, out...)
	}
	return out
}

// unkeyableText says that the controller cannot be set for a piece, or for the
// whole load.
func unkeyableText(load *piece.Load, s *plan.Sharing, f finding.Finding) string {
	if f.Piece == finding.None {
		return s.Together.Error()
	}
	for _, u := range s.Unfit {
		if u.Piece == f.Piece {
			var named *plan.PieceError
			if errors.As(u.Err, &named) {
				return u.Err.Error() + ", even alone"
			}
			return load.Pieces[u.Piece].What + ": " + u.Err.Error() + ", even alone"
		}
	}
	return load.Pieces[f.Piece].What + ": the controller cannot be set for it, even alone"
}

// UnfitText says why a piece has no program even alone.
func UnfitText(u plan.Unfit, st kiln.Studio) string {
	var c *plan.ConflictError
	if errors.As(u.Err, &c) {
		return words.AboutLoad(c.Load, st.Units).Joined(c.Reasons)
	}
	return u.Err.Error()
}

// SplitText says into how many firings a load goes that cannot share one, and
// how well that is known.
func SplitText(s *plan.Sharing) string {
	proof := "no split needs fewer"
	if !s.Exact {
		proof = "a good split; not proved the fewest"
		if n := len(s.Alone); n > plan.MostExact {
			proof += fmt.Sprintf(" beyond %d kinds of piece", plan.MostExact)
		}
	}
	what := "It takes"
	if len(s.Unfit) > 0 {
		what = "The others take"
	}
	firings := fmt.Sprintf("%d firings", len(s.Firings))
	if len(s.Firings) == 1 {
		firings = "1 firing"
	}
	return fmt.Sprintf("%s %s (%s).", what, firings, proof)
}
