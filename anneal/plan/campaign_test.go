package plan

import (
	"context"
	"os"
	"testing"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/glass"
)

// TestShare_aloneWhatGoesTogether: what a load bears together no piece of it is
// refused alone. The rod of this load is planned at the smallest rate of its
// controller by slowing the ramps that still can be slowed. The loop that slows
// ends a little below a limit, and on two paths, so 3 % is left to it.
func TestShare_aloneWhatGoesTogether(t *testing.T) {
	if !long() { // the laws of TestCampaign hold share against plan, too
		t.Skip("takes seconds; LEHR_LONG=1 runs it")
	}
	const dir = "../../testdata/campaign/1314/"
	f, err := os.Open(dir + "studio.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	st, err := kiln.ReadStudio(f, "studio.toml")
	if err != nil {
		t.Fatal(err)
	}
	g, err := os.Open(dir + "load.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer g.Close()
	st.Limits.Residual *= 2 // it was a limit of average glass when this load failed; now it is one of the worst case
	l, err := piece.ReadLoad(g, "load.toml", st.Glass, glass.Find)
	if err != nil {
		t.Fatal(err)
	}
	together, err := Plan(context.Background(), l, st, hoursOnly)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Share(context.Background(), l, st, Options{}, ShareHow{})
	if err != nil {
		t.Fatal(err)
	}
	if !s.Shareable || len(s.Unfit) > 0 || len(s.Reasons) > 0 {
		t.Errorf("shareable %v, unfit %v: %v", s.Shareable, s.Unfit, s.Reasons)
	}
	for i, alone := range s.Alone {
		// Each is slowed to its limits to 3 %, and rounded to whole degrees.
		if s.AloneOver[i] || float64(alone) > 1.04*float64(together.Actual.Total()) {
			t.Errorf("%s: %s alone, %s together, over %v", l.Pieces[i].What, alone, together.Actual.Total(), s.AloneOver[i])
		}
	}
}
