package rule_test

import (
	"fmt"

	"lehr/anneal/formula"
	"lehr/anneal/rule"
	"lehr/glass"
	"lehr/glass/unit"
)

// What the rule that works from the glass asks for a 2.5 inch sphere.
func Example() {
	boro, err := glass.Find("borosilicate-33")
	if err != nil {
		panic(err)
	}
	stress, err := rule.Find(rule.Stress)
	if err != nil {
		panic(err)
	}
	proposal, err := stress.Apply(rule.Request{Glass: boro, Shape: formula.FormSphere, Size: 2.5 * unit.Inch,
		DesignCooling: 3.5 * unit.Megapascal, DesignResidual: 1 * unit.Megapascal})
	if err != nil {
		panic(err)
	}
	fmt.Println(proposal.Stages[0].Purpose, "at", proposal.Stages[0].To.Text(unit.Metric), "then", len(proposal.Stages)-1, "ranges of cooling")
	// Output: soak at 560 °C then 3 ranges of cooling
}
