package verify

import (
	"context"
	"fmt"
	"testing"
	"time"

	"lehr/anneal/kiln"
)

// TestReport_stays: what is made of a report, bodies as they are, the worst of all
// kilns, the evening before and the whole limits, leaves the report as it was.
func TestReport_stays(t *testing.T) {
	ctx := t.Context()
	l := evenPiece(t, "disc 60mm x 12mm", kiln.Door{}, time.Hour)
	st, limits := kiln.DefaultStudio(), kiln.DefaultLimits()
	aimed := limits.Aimed()
	rep, err := ByBounds(ctx, usual(time.Hour, 100), l, st, aimed)
	if err != nil {
		t.Fatal(err)
	}
	for _, step := range []struct {
		name string
		make func(context.Context, *Report) (*Report, error)
	}{
		{"AsBodies", AsBodies},
		{"OverKilns", OverKilns},
		{"Completed", Completed},
		{"Whole", func(_ context.Context, rep *Report) (*Report, error) { return Whole(rep, st, limits), nil }},
	} {
		before := fmt.Sprintf("%+v", *rep)
		next, err := step.make(ctx, rep)
		if err != nil {
			t.Fatalf("%s: %v", step.name, err)
		}
		if fmt.Sprintf("%+v", *rep) != before {
			t.Errorf("%s changes the report that it is given", step.name)
		}
		if fmt.Sprintf("%+v", *next) == before {
			t.Errorf("%s changes nothing, so that this shows nothing", step.name)
		}
		rep = next
	}
}
