package words

import (
	"lehr/anneal/seal"
	"lehr/anneal/verify"
)

// verdicts is how each verdict is said: in a sentence and in JSON, in a column
// beside others, and at the head of an answer.
var verdicts = [...]struct{ said, cell, head string }{
	verify.WithinLimits: {"within limits", "within limits", "Within limits"},
	verify.NotProven:    {"not proven for this glass", "not proven", "NOT PROVEN FOR THIS GLASS"},
	verify.NotJudged:    {"not judged to its end", "not judged", "NOT JUDGED"},
	verify.OverLimit:    {"over limit", "OVER", "OVER A LIMIT"},
}

// Verdict is a verdict within a sentence, and as JSON has it.
func Verdict(v verify.Verdict) string { return verdicts[v].said }

// VerdictCell is a verdict in a column of a table.
func VerdictCell(v verify.Verdict) string { return verdicts[v].cell }

// VerdictHead is a verdict at the head of an answer; endsHot says that a program is
// not judged because it ends too hot for that.
func VerdictHead(v verify.Verdict, endsHot bool) string {
	if v == verify.NotJudged && endsHot {
		return "NOT JUDGED TO ITS END"
	}
	return verdicts[v].head
}

// SealVerdict is [Verdict] for what lies in a piece.
func SealVerdict(v seal.Verdict) string {
	return Verdict(ofSeal[v])
}

var ofSeal = [...]verify.Verdict{0: verify.OverLimit, seal.Within: verify.WithinLimits, seal.NotJudged: verify.NotJudged, seal.NotProven: verify.NotProven, seal.Over: verify.OverLimit}
