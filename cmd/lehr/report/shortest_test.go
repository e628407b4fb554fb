package report

import (
	"strings"
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestShortestText_none: that no program is within the limits is said only where that
// by the rule is not within them either.
func TestShortestText_none(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	rep.Shortest = &verify.Shortest{None: true}
	if text := ShortestText(rep); rep.Verdict() != verify.WithinLimits || NewShortestJSON(rep).None || !strings.HasPrefix(text, "The search found no shorter program within the limits") {
		t.Errorf("%v: %q", rep.Verdict(), text)
	}
	rep.Pieces[0].Over.Add(finding.Of(finding.OverTension))
	if text := ShortestText(rep); rep.Verdict() == verify.WithinLimits || !NewShortestJSON(rep).None || !strings.HasPrefix(text, "The search found no program within the limits") {
		t.Errorf("%v: %q", rep.Verdict(), text)
	}
}
