package plan

import (
	"testing"

	"lehr/anneal/piece"
)

// TestPlan_soakEvensOut: a thick flat piece from a cold kiln needs a soak longer
// than the closed form says, by the variant in which heat spreads slowest, which
// is not simulated anew in each step.
func TestPlan_soakEvensOut(t *testing.T) {
	l := loadOf(t, "borosilicate-33", "pendant 140mm x 35mm bedded")
	l.Into = piece.ColdKiln
	rep := mustPlan(t, l, exactController(), hoursOnly)
	if p := rep.Pieces[0]; !rep.Within || !p.EvenJudged || p.SoakLag > rep.Limits.Even {
		t.Errorf("%s: core %s above the surface after the soak, limit %s", rep.Verdict(), p.SoakLag, rep.Limits.Even)
	}
}
