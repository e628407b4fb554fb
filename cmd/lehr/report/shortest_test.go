package report

import (
	"strings"
	"testing"
	"time"

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

// TestShortestText_stopped: a search that was stopped says "found" only of what is shorter
// than the program by the rule, and nothing of a rule that may not have answered.
func TestShortestText_stopped(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	took := rep.Actual.Total()
	for _, c := range []struct {
		rule        time.Duration
		found, none bool
	}{{took, false, false}, {took + time.Hour, true, false}, {0, true, false}} {
		rep.Shortest = &verify.Shortest{Interrupted: true, Rule: c.rule}
		text := ShortestText(rep)
		if strings.HasPrefix(text, "Shortest found") != c.found || strings.Contains(text, "none by the rule") != c.none || !c.found && !strings.Contains(text, "was stopped before") {
			t.Errorf("the rule takes %v, the answer %v: %q", c.rule, took, text)
		}
	}
}
