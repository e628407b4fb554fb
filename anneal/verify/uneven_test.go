package verify

import (
	"testing"

	"lehr/glass/casetest"
)

// TestUnevenCooling holds the simulation against finite elements of a
// general-purpose code. Even: a piece cooled evenly, or the one-dimensional
// shape itself, must come out the same. Bound: a piece on its bed must come out
// no better than the finite elements of the real shape.
func TestUnevenCooling(t *testing.T) {
	even, bound := 0, 0
	compute := UnevenCases()
	for _, c := range casetest.Load(t, "uneven-cooling") {
		_, name := c.Package()
		if name == "Held" { // a slab held flat and cooled from one face stands for no piece any more; package evidence poses it
			continue
		}
		got := compute[name](t, c.Inputs)
		if wrong := c.Judge(got); wrong != "" {
			t.Error(wrong)
		}
		if name == "Even" {
			even++
			continue
		}
		bound++
		for key := range c.Expected {
			if got, want := got.Float(key), c.Expected.Float(key); got > 3.2*want {
				t.Errorf("%s: %s %.3f bounds %.3f needlessly far", c.ID, key, got, want)
			}
		}
	}
	if even < 8 || bound < 20 {
		t.Errorf("%d even and %d bounding cases were compared", even, bound)
	}
}
