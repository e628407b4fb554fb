package plan

import (
	"context"
	"reflect"
	"testing"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/verify"
	"lehr/glass/unit"
)

// A plan is slowed so that program and misfit together keep the limit of the
// surface, where a slower program helps; what no program removes is said, and
// slows nothing.
func TestPlan_inside(t *testing.T) {
	plan := func(piece string, o Options) *verify.Report {
		t.Helper()
		rep, err := Plan(context.Background(), loadOf(t, "borosilicate-33", piece), kiln.DefaultStudio(), o)
		if err != nil {
			t.Fatal(err)
		}
		return rep
	}
	free := Options{Limits: kiln.Limits{Residual: 4 * unit.Megapascal, ResidualGiven: true}}
	quick := plan("disc 200mm x 40mm opaque", free)
	helped := plan("disc 200mm x 40mm opaque; skin mine 1mm, expansion 3.42e-6 /K", free)
	in := helped.Pieces[0].Inside
	if helped.Verdict() != verify.WithinLimits || in.Together.Worst > in.Limit || helped.Nominal.Total() < quick.Nominal.Total()*11/10 {
		t.Errorf("helped: %v, together %v of %v, alone %v; %v against %v bare", helped.Verdict(), in.Together, in.Limit, in.Alone, helped.Nominal.Total(), quick.Nominal.Total())
	}
	bare := plan("sphere 2.5in opaque bedded", Options{})
	over := plan("sphere 2.5in opaque bedded; skin mine 1mm, expansion 3.6e-6 /K", Options{})
	if !reflect.DeepEqual(over.Schedule, bare.Schedule) || over.Verdict() != verify.OverLimit || !over.Within || !over.Notes.Has(finding.MisfitRemedy) {
		t.Errorf("over: %v, %+v\nbare %+v", over.Verdict(), over.Schedule, bare.Schedule)
	}
}
