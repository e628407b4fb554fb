package axial

import (
	"os"
	"testing"

	"lehr/glass/casetest"
)

// TestCoarse: 12 cells each way come within 4 % of the same rows, and within 5 %
// of what is left over a closed hemisphere.
func TestCoarse(t *testing.T) {
	rows := 0
	for _, c := range casetest.Load(t, "revolution") {
		if c.Known != "" && c.ID != "d50x6" && c.ID != "sphere-with-flat" {
			continue
		}
		rows++
		c.Known = ""
		c.Tolerance.Rel += 0.025
		if c.Inputs.Has("cap_deg") && c.Inputs.Float("cap_deg") == 90 {
			c.Tolerance.Rel += 0.01
		}
		got := row(t, c.Inputs, 12)
		delete(c.Expected, "lag_K")
		if wrong := c.Judge(got); wrong != "" {
			t.Error(wrong)
		}
	}
	if rows < 30 {
		t.Errorf("%d rows were compared", rows)
	}
}

// TestPublished: 24 cells each way come within 1.5 % of every row of the
// finite-element studies, and half of the last digit that is printed. What does
// not is known, with its reason. Without LEHR_LONG=1 it is every sixth row.
func TestPublished(t *testing.T) {
	var list []casetest.Case
	for i, c := range casetest.Of(t, "axial") {
		if os.Getenv("LEHR_LONG") == "1" || i%6 == 0 {
			list = append(list, c)
		}
	}
	casetest.RunCases(t, list, Cases())
}
