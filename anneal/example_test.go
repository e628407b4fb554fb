package anneal_test

import (
	"fmt"

	"lehr/anneal"
	"lehr/glass"
	"lehr/glass/unit"
)

// What the rule that works from the glass asks for a 2.5 inch sphere.
func Example() {
	boro, err := glass.Find("borosilicate-33")
	if err != nil {
		panic(err)
	}
	rule, err := anneal.FindRule(anneal.StressRule)
	if err != nil {
		panic(err)
	}
	ask, err := rule.Apply(anneal.RuleRequest{Glass: boro, Shape: anneal.FormSphere, Size: 2.5 * unit.Inch,
		DesignCooling: 3.5 * unit.Megapascal, DesignLeft: 1 * unit.Megapascal})
	if err != nil {
		panic(err)
	}
	fmt.Println(ask.Stages[0].Purpose, "at", ask.Stages[0].To.Text(unit.Metric), "then", len(ask.Stages)-1, "ranges of cooling")
	// Output: soak at 560 °C then 3 ranges of cooling
}

func ExampleRealTemper() {
	// ASTM C148, method A: an apparent number read through 8.12 mm is half.
	fmt.Printf("%.1f\n", anneal.RealTemper(4, 8.12*unit.Millimeter))
	// Output: 2.0
}

func ExampleRotationRetardation() {
	// ASTM C148, method B: temper number 10 ends at 72.6° in light of 565 nm.
	fmt.Printf("%.1f nm\n", float64(anneal.RotationRetardation(72.6, 565*anneal.Nanometer)/anneal.Nanometer))
	// Output: 227.9 nm
}

func ExampleTemperFromRotation() {
	// ASTM C148, method B, table: the analyzer turned by 20° is number 3.
	fmt.Println(anneal.TemperFromRotation(20))
	// Output: 3
}

func ExampleStressRetardation() {
	// 1 MPa over 1 cm of borosilicate 3.3, 4.0 brewster: 40 nm.
	r := anneal.StressRetardation(1*unit.Megapascal, 1*unit.Centimeter, 4.0e-12)
	fmt.Printf("%.0f nm\n", float64(r/anneal.Nanometer))
	// Output: 40 nm
}

func ExampleTubePressure() {
	// Data sheet for tubing after DIN EN 1595: 100 mm outside, 3 mm wall.
	p := anneal.TubePressure(100*unit.Millimeter, 3*unit.Millimeter)
	fmt.Printf("%.2f bar\n", p.Megapascals()*10)
	// Output: 4.33 bar
}
