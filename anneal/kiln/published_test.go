package kiln

import (
	"testing"

	"lehr/glass/casetest"
)

func TestPublished(t *testing.T) { casetest.Run(t, "kiln", Cases()) }
