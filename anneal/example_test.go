package anneal_test

import (
	"context"
	"fmt"
	"strings"

	"lehr/anneal"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/glass"
)

// The four questions to a load: a program, whether it keeps the limits, whether
// all pieces can share it, and the shortest one.
func Example() {
	load, err := piece.ReadLoad(strings.NewReader(`
glass = "borosilicate-33"
[[piece]]
what  = "sphere 2in dark"
`), "tonight.toml", "", glass.Find)
	if err != nil {
		panic(err)
	}
	ctx, studio := context.Background(), kiln.DefaultStudio()
	planned, err := anneal.Plan(ctx, load, studio, anneal.Options{})
	if err != nil {
		panic(err)
	}
	judged, err := anneal.Verify(ctx, planned.Schedule, load, studio, anneal.Limits{})
	if err != nil {
		panic(err)
	}
	fmt.Println("planned:", judged.Verdict())
	shared, err := anneal.Share(ctx, load, studio, anneal.Options{})
	if err != nil {
		panic(err)
	}
	fmt.Println("firings:", len(shared.Firings))
	shortest, err := anneal.Shortest(ctx, load, studio, anneal.Options{})
	if err != nil {
		panic(err)
	}
	fmt.Println("shorter:", shortest.Actual.Total() < planned.Actual.Total(), shortest.Verdict())
	// Output:
	// planned: WithinLimits
	// firings: 1
	// shorter: true WithinLimits
}
