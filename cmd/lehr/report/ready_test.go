package report

import (
	"strings"
	"testing"
	"time"

	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// TestReadyBy_late: what the kiln reads at the hour is told where that is another
// number than the reading at which it is opened, as printed.
func TestReadyBy_late(t *testing.T) {
	rep := sampleReport(t, unit.Metric)
	open := rep.Studio.Opening
	for _, c := range []struct {
		then unit.Temp
		want string
	}{
		{open.Add(0.2), " late."},
		{open.Add(4), " late; at 08:00 the kiln still reads 47 °C and is opened at 43 °C."},
	} {
		rep.Ready = &verify.Ready{By: 8 * 60, Given: true, Spare: -2 * time.Minute, Then: c.then}
		if line := ReadyBy(rep).Lines[0]; !strings.HasPrefix(line, "It is ready at ") || !strings.HasSuffix(line, c.want) {
			t.Errorf("%s: %q", c.then, line)
		}
	}
}
