package report

import (
	"fmt"
	"strings"

	"lehr/anneal/evidence"
	"lehr/cmd/lehr/term"
)

// quotedEvidence says beside the numbers of a report how such numbers came out
// of the cases, when they were stored last.
func quotedEvidence() []string {
	quote := func(name, as string) string {
		s := evidence.Last()[name]
		return fmt.Sprintf("%s %s %% ± %s (%d)", as, term.Signed(s.OutsideBias), term.Fixed(s.OutsideSpread), s.OutsideCases)
	}
	return []string{
		"Bias ± spread against general-purpose codes, with the number of cases: " + strings.Join([]string{
			quote("tension, simulated", "tension"), quote("stress left, simulated", "stress left"), quote("lag, simulated", "lag"),
			quote("tension of bodies of revolution", "tension of bodies of revolution"), quote("stress left in bodies of revolution", "stress left in them")}, ", ") + ".",
		"Against texts and closed forms: " + quote("structural relaxation", "structural relaxation") + ", " + quote("retardation", "retardation") + ". All quantities, run anew: lehr validate.",
	}
}
