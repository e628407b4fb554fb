package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lehr/anneal/piece"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"

	"lehr/glass/unit"
)

// showPieces prints each piece's numbers beside their limits.
func (v *View) showPieces(rep *verify.Report) error {
	sys := rep.Studio.Units
	in := func(s unit.Stress) string { return StressCell(s, sys) }
	_, u := rep.Limits.Tension.In(sys)
	v.Lead(term.Bold, "Pieces", "  ", "worst case; of limit: this glass at worst or average, the nearer")
	cols := []term.Column{term.LongColumn("piece"), term.NumberColumn("tension\n" + u), term.NumberColumn("of limit\n%"), term.LongColumn("where"), term.NumberColumn("locked in\n" + u),
		term.NumberColumn("of limit\n%"), term.NumberColumn("retardation\nnm")}
	if !v.Why {
		cols = []term.Column{term.LongColumn("piece"), term.NumberColumn("tension " + u), term.NumberColumn("of limit"), term.NumberColumn("locked in " + u), term.NumberColumn("of limit")}
	}
	var rows [][]string
	for _, p := range rep.Pieces {
		name := p.Piece.What
		if p.Piece.Count > 1 {
			name = fmt.Sprintf("%d × %s", p.Piece.Count, name)
		}
		if p.Verdict() != verify.WithinLimits {
			name += " (" + VerdictWord(p) + ")"
		}
		left, share, shows := "-", "-", "-"
		if p.ResidualJudged {
			left, share = in(max(p.Residual, 0)), Used(p.ResidualTension)
			if p.Piece.Shown() != piece.NotShown {
				shows = term.Whole(float64(p.Retardation) * 1e9)
			}
		}
		row := []string{name, in(p.Peak), Used(p.Tension), PeakWhere(rep, p), left, share, shows}
		if !v.Why {
			row = []string{name, row[1], row[2] + " %", left, share}
			if p.ResidualJudged {
				row[4] += " %"
			}
		}
		rows = append(rows, row)
		if p.Opening.Use > 1 { // beside a share of a limit that is kept
			opened := make([]string, len(row))
			copy(opened, []string{"- opened at " + ReadingText(rep, lastTemp(rep)), in(p.Opened), Used(p.Opening)})
			if !v.Why {
				opened[2] += " %"
			}
			rows = append(rows, opened)
		}
	}
	if err := v.Table(cols, rows); err != nil {
		return err
	}
	if !v.Why {
		return nil
	}
	if text := retardationText(rep.Pieces); text != "" {
		v.Prose(0, text)
	}
	v.showDeciders(rep)
	return nil
}

// retardationText says of which place the retardations are, "" where there is none.
func retardationText(pieces []verify.PieceReport) string {
	var all []string
	for i := range pieces {
		p := &pieces[i].Piece
		at := p.Shown()
		if !pieces[i].ResidualJudged || at == piece.NotShown {
			continue
		}
		more := string(p.Shape) + " " + string(at)
		switch at {
		case piece.ThroughEdge:
			more += " (middle plane, first width; what its rim adds does not show)"
		case piece.AtRing, piece.AtBrightest:
			more += " (less in air)"
		}
		if !slices.Contains(all, more) {
			all = append(all, more)
		}
	}
	if len(all) == 0 {
		return ""
	}
	return "retardation: what a polariscope shows, in a liquid of the glass's index (lehr polariscope): " + strings.Join(all, "; ") + "."
}

// StressCell is a stress in a table whose heading has the unit.
func StressCell(s unit.Stress, sys unit.System) string {
	x, _ := s.In(sys)
	if sys == unit.US {
		return term.Whole(x)
	}
	return fmt.Sprintf("%.2f", x)
}

// Used is the share of its limit that a tension uses up, in percent.
func Used(b verify.Tension) string { return term.Whole(math.Max(0, math.Ceil(100*b.Use-0.5))) }

// PeakWhere says where and when the tension of a piece is greatest: the place
// in the piece, the segment, and what the kiln reads. The hour depends on how
// the kiln falls, the reading does not.
func PeakWhere(rep *verify.Report, p verify.PieceReport) string {
	return fmt.Sprintf("%s, segment %d near %s", words.Place(p.PeakPlace), p.PeakSegment+1, unit.Kelvin(rep.Nominal.At(p.PeakTime)).Text(rep.Studio.Units))
}

// showDeciders says which piece decides which number, when there are several.
func (v *View) showDeciders(rep *verify.Report) {
	if len(rep.Pieces) < 2 {
		return
	}
	for _, p := range rep.Pieces {
		if len(p.Decides) > 0 {
			v.Prose(0, fmt.Sprintf("%s decides: %s.", p.Piece.What, strings.Join(Purposes(p.Decides), ", ")))
		}
	}
}

// CountName names a piece with its count.
func CountName(p piece.Piece) string {
	if p.Count > 1 {
		return fmt.Sprintf("%d × %s", p.Count, p.What)
	}
	return p.What
}

// VerdictWord is what a program comes to in a piece, in a column of a table; why
// stands below the verdict of the whole.
func VerdictWord(p verify.PieceReport) string { return words.VerdictCell(p.Verdict()) }
