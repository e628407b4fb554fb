package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lehr/anneal/verify"
	"lehr/cmd/lehr/words"

	"lehr/glass/unit"
)

// showPieces prints each piece's numbers beside their limits.
func (a *app) showPieces(rep *verify.Report) error {
	sys := rep.Studio.Units
	in := func(s unit.Stress) string { return stressCell(s, sys) }
	_, u := rep.Limits.Tension.In(sys)
	a.lead(styleStrong, "Pieces", "  ", "worst case for this glass, and its share of the limit")
	cols := []column{longColumn("piece"), numberColumn("tension\n" + u), numberColumn("of limit\n%"), longColumn("where"), numberColumn("locked in\n" + u),
		numberColumn("of limit\n%"), numberColumn("retardation\nnm")}
	if !a.why {
		cols = []column{longColumn("piece"), numberColumn("tension " + u), numberColumn("of limit"), numberColumn("locked in " + u), numberColumn("of limit")}
	}
	var rows [][]string
	for _, p := range rep.Pieces {
		name := p.Piece.What
		if p.Piece.Count > 1 {
			name = fmt.Sprintf("%d × %s", p.Piece.Count, name)
		}
		switch p.Verdict() {
		case verify.OverLimit:
			name += " (OVER)"
		case verify.NotJudged:
			name += " (not judged)"
		case verify.NotProven:
			name += " (not proven)"
		}
		left, share, shows := "-", "-", "-"
		if p.ResidualAsked {
			left, share, shows = in(max(p.Residual, 0)), used(p.Left), whole(float64(p.Retardation)*1e9)
		}
		row := []string{name, in(p.Peak), used(p.Tension), peakWhere(rep, p), left, share, shows}
		if !a.why {
			row = []string{name, row[1], row[2] + " %", left, share}
			if p.ResidualAsked {
				row[4] += " %"
			}
		}
		rows = append(rows, row)
	}
	if err := a.table(cols, rows); err != nil {
		return err
	}
	if !a.why {
		return nil
	}
	if slices.ContainsFunc(rep.Pieces, func(p verify.PieceReport) bool { return p.ResidualAsked }) {
		a.prose(0, "retardation: what a polariscope shows at its brightest place.")
	}
	a.showDeciders(rep)
	return nil
}

// stressCell is a stress in a table whose heading has the unit.
func stressCell(s unit.Stress, sys unit.System) string {
	x, _ := s.In(sys)
	if sys == unit.US {
		return whole(x)
	}
	return fmt.Sprintf("%.2f", x)
}

// used is the share of its limit that a tension uses up, in percent.
func used(b verify.Bears) string { return whole(math.Ceil(100*b.Use - 0.5)) }

// peakWhere says where and when the tension of a piece is greatest: the place
// in the piece, the segment, and what the kiln reads. The hour depends on how
// the kiln falls, the reading does not.
func peakWhere(rep *verify.Report, p verify.PieceReport) string {
	return fmt.Sprintf("%s, segment %d near %s", words.Place(p.PeakPlace), p.PeakSegment+1, unit.Kelvin(rep.Nominal.At(p.PeakTime)).Text(rep.Studio.Units))
}

// showDeciders says which piece decides which number, when there are several.
func (a *app) showDeciders(rep *verify.Report) {
	if len(rep.Pieces) < 2 {
		return
	}
	for _, p := range rep.Pieces {
		if len(p.Decides) > 0 {
			a.prose(0, fmt.Sprintf("%s decides: %s.", p.Piece.What, strings.Join(purposes(p.Decides), ", ")))
		}
	}
}
