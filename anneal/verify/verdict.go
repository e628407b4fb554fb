package verify

import (
	"lehr/anneal/finding"
)

// Verdict is what a judged program comes to.
type Verdict int

// The verdicts. A program is called within its limits only when everything that
// counts was computed and kept them.
const (
	WithinLimits Verdict = iota
	NotProven            // average glass keeps the limits, the worst case does not
	NotJudged            // not everything that counts was computed, and nothing that was is over
	OverLimit
)

// String returns the name of the verdict here: for tests and debugging.
func (v Verdict) String() string {
	return [...]string{"WithinLimits", "NotProven", "NotJudged", "OverLimit"}[v]
}

// verdictOf is what a finding about a piece comes to.
func verdictOf(k finding.Kind) Verdict {
	switch k {
	case finding.UnprovenTension, finding.UnprovenResidual, finding.MisfitUnproven, finding.TogetherUnproven:
		return NotProven
	case finding.EndsHot, finding.LogEndsHot, finding.RimNotComputed:
		return NotJudged
	}
	return OverLimit
}

// Verdict returns what the program comes to in the piece.
func (r PieceReport) Verdict() Verdict {
	v := WithinLimits
	for _, f := range r.Over {
		v = max(v, verdictOf(f.Kind))
	}
	return v
}

// Verdict returns what the report comes to: the worst of its pieces.
func (rep *Report) Verdict() Verdict {
	v := WithinLimits
	for _, p := range rep.Pieces {
		v = max(v, p.Verdict())
	}
	return v
}

// EndsHot reports whether the program, or the log, ends too hot for the rest to be
// judged.
func (rep *Report) EndsHot() bool {
	return rep.Notes.Has(finding.NotJudgedToEnd) || rep.Notes.Has(finding.LogEndsHot)
}
