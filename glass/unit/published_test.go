package unit_test

import (
	"testing"

	"lehr/anneal/evidence"
	"lehr/glass/casetest"
)

func TestPublished(t *testing.T) { casetest.Run(t, "unit", evidence.Rooms()["unit"]) }
