package reference

import (
	"fmt"
	"strings"

	"lehr/anneal/evidence"
	"lehr/cmd/lehr/term"
)

// EvidencePage is the whole account as a page of Markdown.
func EvidencePage(rep *evidence.Report) string {
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p("# How right lehr is\n")
	p("%s\n", evidenceVerdict(rep))
	p("Written by `lehr validate -o`, which runs every case anew. Bias is the mean deviation of an answer from what is expected, spread the standard deviation about it, worst the farthest; %% are of the greatest number of the list that a number stands in. Of the cases, %d are printed in texts, %d are closed forms, %d were computed by general-purpose codes and %d by this project, which guard against change and prove little. Known deviations count in none of these numbers.\n",
		rep.Of[evidence.Published], rep.Of[evidence.ClosedForm], rep.Of[evidence.GeneralCode], rep.Of[evidence.Derived])
	p("## By quantity and origin\n")
	p("| quantity | origin | cases | numbers | bias | spread | worst | in | worst case |\n|---|---|--:|--:|--:|--:|--:|---|---|")
	for _, l := range rep.Lines {
		if l.Bounds {
			continue
		}
		for o, s := range l.Of {
			if s.Cases > 0 {
				p("| %s | %s | %d | %d | %s | %s | %s | %s | %s |", l.Name, evidence.Origin(o), s.Cases, s.Numbers, term.Signed(s.Bias), term.Fixed(s.Spread), term.Signed(s.Worst), l.Unit, s.WorstCase)
			}
		}
	}
	if rep.HasBounds() {
		p("\n## Bounds\n")
		p("What a program is searched and judged by must be no less than what the piece has; least and mean say how much more it is.\n")
		p("| quantity | origin | cases | numbers | least | mean | in | least case |\n|---|---|--:|--:|--:|--:|---|---|")
		for _, l := range rep.Lines {
			for o, s := range l.Of {
				if l.Bounds && s.Cases > 0 {
					p("| %s | %s | %d | %d | %s | %s | %s | %s |", l.Name, evidence.Origin(o), s.Cases, s.Numbers, term.Signed(s.Worst), term.Signed(s.Bias), l.Unit, s.WorstCase)
				}
			}
		}
	}
	if len(rep.Known) > 0 {
		p("\n## Known to deviate\n")
		for _, k := range rep.Known {
			p("- **%s** (found %s)", k.Cause, k.Found)
			for _, d := range k.Cases {
				p("  - %s, %s %%: %s (source %s)", d.Case, term.Signed(d.Worst), d.Words, d.Source)
			}
		}
	}
	if len(rep.Failed) > 0 {
		p("\n## Not met\n")
		for _, f := range rep.Failed {
			p("- %s", f)
		}
	}
	if len(rep.Unposed) > 0 {
		p("\n## Kept beside, and not posed\n")
		for _, u := range rep.Unposed {
			p("- %s: %s", u.Why, strings.Join(u.Cases, ", "))
		}
	}
	p("\n## A measurement that would settle a doubt\n")
	p("%s", RadiationRecipe)
	return b.String()
}
