package verify

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

// Verdict returns what the report comes to.
func (rep *Report) Verdict() Verdict {
	beyondEnd := 0
	if rep.Unjudged {
		beyondEnd = 1 // each piece lists it among what is over
	}
	for _, p := range rep.Pieces {
		if len(p.Over) > beyondEnd || len(p.Over) > 0 && beyondEnd == 0 {
			return OverLimit
		}
	}
	for _, p := range rep.Pieces {
		if rep.Unjudged || p.Piece.RimUnknown() {
			return NotJudged
		}
	}
	return WithinLimits
}
