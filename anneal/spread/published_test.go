package spread

import (
	"testing"

	"lehr/glass/casetest"
)

func TestPublished(t *testing.T) { casetest.Run(t, "spread", Cases()) }
