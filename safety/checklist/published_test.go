package checklist

import (
	"testing"

	"lehr/glass/casetest"
)

func TestPublished(t *testing.T) { casetest.Run(t, "checklist", Cases()) }
