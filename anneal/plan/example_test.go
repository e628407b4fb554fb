package plan_test

import (
	"context"
	"fmt"
	"strings"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/glass"
	"lehr/glass/unit"
)

// The job from end to end: a load, the studio, tonight's program.
func ExamplePlan() {
	load, err := piece.ReadLoad(strings.NewReader(`
glass = "borosilicate-33"
[[piece]]
what  = "sphere 2.5in"
count = 6
[[piece]]
what  = "sphere 1.25in"
count = 14
`), "tonight.toml", "", glass.Find)
	if err != nil {
		panic(err)
	}
	rep, err := plan.Plan(context.Background(), load, kiln.DefaultStudio(), plan.Options{})
	if err != nil {
		panic(err)
	}
	for _, s := range rep.Schedule.Segments {
		fmt.Println(s.Purpose, "to", s.To.Text(unit.Metric))
	}
	fmt.Println("within limits:", rep.Within)
	// Output:
	// soak to 560 °C
	// slow cooling to 470 °C
	// next cooling to 420 °C
	// final cooling to 43 °C
	// within limits: true
}
