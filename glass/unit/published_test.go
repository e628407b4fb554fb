package unit_test

import (
	"testing"

	"lehr/glass/casetest"
	"lehr/glass/unit"
)

func TestPublished(t *testing.T) {
	casetest.Run(t, "unit", map[string]casetest.Compute{
		"Celsius": func(_ testing.TB, v casetest.Values) casetest.Values {
			return casetest.Values{"F": unit.Celsius(v.Float("C")).Fahrenheit()}
		},
		"KelvinPerHour": func(_ testing.TB, v casetest.Values) casetest.Values {
			x, _ := unit.KelvinPerHour(v.Float("C_per_h")).In(unit.US)
			return casetest.Values{"F_per_h": x}
		},
	})
}
