package verify

import (
	"slices"

	"lehr/anneal/finding"
)

// Verdict is what a judged program comes to.
type Verdict int

// The verdicts. A program is called within its limits only when everything that
// counts was computed and kept them.
const (
	WithinLimits Verdict = iota
	OverLimit
	NotJudged // not everything that counts was computed, and nothing that was is over
)

// String returns the verdict as files and scripts have it.
func (v Verdict) String() string {
	return [...]string{"within limits", "over limit", "not judged to its end"}[v]
}

// notJudged are the findings that speak of what was not computed; all others are
// limits exceeded.
var notJudged = []finding.Kind{finding.EndsHot, finding.RimNotComputed}

// Verdict returns what the program comes to in the piece.
func (r PieceReport) Verdict() Verdict {
	v := WithinLimits
	for _, f := range r.Over {
		if !slices.Contains(notJudged, f.Kind) {
			return OverLimit
		}
		v = NotJudged
	}
	return v
}

// Verdict returns what the report comes to: the worst of its pieces.
func (rep *Report) Verdict() Verdict {
	v := WithinLimits
	for _, p := range rep.Pieces {
		switch p.Verdict() {
		case OverLimit:
			return OverLimit
		case NotJudged:
			v = NotJudged
		}
	}
	return v
}

// EndsHot reports whether the program ends too hot for the rest to be judged.
func (rep *Report) EndsHot() bool { return rep.Notes.Has(finding.NotJudgedToEnd) }
