package rule

import (
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
)

func close(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !scalar.EqualWithinAbsOrRel(got, want, rel*1e-3, rel) {
		t.Errorf("%s: got %.9g, want %.9g (rel %g)", what, got, want, rel)
	}
}
