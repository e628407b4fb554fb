package nights

import (
	"slices"

	"lehr/anneal/finding"
	"lehr/anneal/outage"
	"lehr/anneal/verify"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// untilText is until when the kiln stays closed after a way: until it reads that at
// which the studio opens it, unless that exceeds a limit.
func untilText(next *verify.Report, opening unit.Temp) string {
	if closed, ok := report.ClosedText(next); ok {
		return closed
	}
	return "until it reads " + report.ReadingText(next, opening)
}

// openText says until when the kiln stays closed after the first way, and when that is.
func openText(first outage.Way, next *verify.Report, opening unit.Temp) string {
	say, closed := words.About(next), untilText(next, opening)
	f, ok := next.Notes.Find(finding.KeepClosed)
	switch {
	case ok && f.Temp.IsZero() && f.Limit.IsZero():
		return say.OpenShut(closed, report.ReadingText(next, next.Schedule.Last()), first.Lasts, first.Earliest, first.Latest, next.Load.Start)
	case ok && f.Temp.IsZero():
		return say.OpenCold(closed, report.ReadingText(next, next.Schedule.Last()), report.ReadingText(next, f.Limit), first.Lasts, first.Earliest, first.Latest, next.Load.Start)
	}
	below := ""
	if !opening.Less(next.Schedule.Hottest()) { // it never is as hot again
		below = say.Below(report.ReadingText(next, next.Schedule.From), report.ReadingText(next, opening))
		if opened, computed := next.Notes.Find(finding.OpenedAt); computed {
			below += ": " + say.List(finding.List{opened})[0]
		}
		if below += "."; !ok {
			return below
		}
		below += " "
	}
	return below + say.OpenAt(closed, first.Opens.Lasts, first.Opens.Earliest, first.Opens.Latest, next.Load.Start)
}

// hotText says how hot a piece is inside when the kiln is opened after a way, behind
// another sentence; "" where that is about what the kiln reads.
func hotText(next *verify.Report) string {
	f, ok := next.Notes.Find(finding.StillHot)
	if !ok {
		return ""
	}
	return " " + term.Capital(words.About(next).List(finding.List{f})[0]) + "."
}

// openedText says of a way after which the kiln stays closed until when, and where opening
// it exceeds a limit what that does to the piece nearest to its own; "" of others, and of
// one that is ruled out.
func openedText(w outage.Way) (text string, piece int) {
	closed, ok := report.ClosedText(w.Report)
	opened, _ := w.Report.Notes.Find(finding.OpenedAt)
	switch {
	case !ok || w.Ruled:
		return "", -1
	case !opensOver(w.Report):
		return "keep it closed " + closed, -1
	}
	return words.About(w.Report).List(finding.List{opened})[0] + "; keep it closed " + closed, opened.Piece
}

// onlyOpened reports whether a piece keeps every limit as long as the kiln stays closed.
func onlyOpened(p verify.PieceReport) bool {
	return !slices.ContainsFunc(p.Over, func(f finding.Finding) bool { return f.Kind != finding.OverOpening })
}

// opensOver reports whether opening the kiln exceeds a limit.
func opensOver(rep *verify.Report) bool {
	return slices.ContainsFunc(rep.Pieces, func(p verify.PieceReport) bool { return p.Over.Has(finding.OverOpening) })
}

// whyFirst says why a way stands first that does not keep every limit.
func whyFirst(x *outage.Answer, next *verify.Report) string {
	first := x.Ways[0]
	closed, keep := report.ClosedText(next)
	if keep && !slices.ContainsFunc(first.Report.Pieces, func(p verify.PieceReport) bool { return !onlyOpened(p) }) {
		return words.KeepsShut(report.ReadingText(next, next.Schedule.Last()), closed)
	}
	text := words.KeepsStress
	switch {
	case first.BreaksNow() && x.LeftAlone():
		return words.LeavesAlone
	case first.BreaksNow():
		return words.KeepsNone
	case first.LeavesMore():
		text = words.KeepsTension
	}
	if keep && opensOver(first.Report) {
		text += " " + words.WhileShut(closed)
	}
	return text
}
