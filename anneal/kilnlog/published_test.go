package kilnlog

import (
	"slices"
	"testing"

	"lehr/glass/casetest"
)

func TestPublished(t *testing.T) {
	numbers := slices.DeleteFunc(casetest.Of(t, "kilnlog"), func(c casetest.Case) bool { return c.Func == "kilnlog.Read" })
	casetest.RunCases(t, numbers, Cases())
}
