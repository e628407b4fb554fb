package shortest_test

import (
	"context"
	"fmt"
	"strings"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/shortest"
	"lehr/glass"
)

// The shortest program of one sphere, and what no program can beat.
func ExampleShortest() {
	load, err := piece.ReadLoad(strings.NewReader(`
glass = "borosilicate-33"
[[piece]]
what  = "sphere 1in dark"
`), "tonight.toml", "", glass.Find)
	if err != nil {
		panic(err)
	}
	res, err := shortest.Shortest(context.Background(), load, kiln.DefaultStudio(), shortest.Options{})
	if err != nil {
		panic(err)
	}
	fmt.Println(res.Report.Verdict())
	fmt.Println(res.Report.Actual.Total() >= res.Floor.Total)
	// Output:
	// WithinLimits
	// true
}
