package report_test

import (
	"fmt"
	"strings"
	"testing"

	"lehr/cmd/lehr/internal/roomtest"
	"lehr/cmd/lehr/report"
	"lehr/glass/unit"
)

// What the segments take adds up to what the program takes, as both are printed.
func TestTakesText_addsUp(t *testing.T) {
	rep := roomtest.Report(t, unit.Metric)
	minutes := func(text string) (m int) {
		var h int
		if _, err := fmt.Sscanf(text, "%d:%d", &h, &m); err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		return 60*h + m
	}
	sum := 0
	for i := range rep.Schedule.Segments {
		sum += minutes(report.TakesText(rep, i))
	}
	if total := minutes(report.HourMin(rep.Actual.Total())); sum != total {
		t.Errorf("segments %d min, program %d min", sum, total)
	}
}

// A word of the controller is no word of the table, whatever it is.
func TestProgramNotes_fullWord(t *testing.T) {
	rep := *roomtest.Report(t, unit.Metric)
	first := func() string { return strings.Join(report.ProgramNotes(&rep), "\n") }
	if !strings.Contains(first(), "any rate: the kiln is there already.") || report.RateText(&rep, 0) != "any" {
		t.Errorf("%q, %q", report.RateText(&rep, 0), first())
	}
	rep.Studio.Controller.FullWord = "any"
	if strings.Contains(first(), "the kiln is there already") {
		t.Errorf("%q", first())
	}
}
