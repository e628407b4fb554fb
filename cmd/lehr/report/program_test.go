package report_test

import (
	"fmt"
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
