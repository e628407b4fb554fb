package formula_test

import (
	"fmt"

	"lehr/anneal/formula"
	"lehr/glass/unit"
)

func ExampleRealTemper() {
	// ASTM C148, method A: an apparent number read through 8.12 mm is half.
	fmt.Printf("%.1f\n", formula.RealTemper(4, 8.12*unit.Millimeter))
	// Output: 2.0
}

func ExampleRotationRetardation() {
	// ASTM C148, method B: temper number 10 ends at 72.6° in light of 565 nm.
	fmt.Printf("%.1f nm\n", float64(formula.RotationRetardation(72.6, 565*formula.Nanometer)/formula.Nanometer))
	// Output: 227.9 nm
}

func ExampleTemperFromRotation() {
	// ASTM C148, method B, table: the analyzer turned by 20° is number 3.
	fmt.Println(formula.TemperFromRotation(20))
	// Output: 3
}

func ExampleStressRetardation() {
	// 1 MPa over 1 cm of borosilicate 3.3, 4.0 brewster: 40 nm.
	r := formula.StressRetardation(1*unit.Megapascal, 1*unit.Centimeter, 4.0e-12)
	fmt.Printf("%.0f nm\n", float64(r/formula.Nanometer))
	// Output: 40 nm
}

func ExampleTubePressure() {
	// Data sheet for tubing after DIN EN 1595: 100 mm outside, 3 mm wall.
	p := formula.TubePressure(100*unit.Millimeter, 3*unit.Millimeter)
	fmt.Printf("%.2f bar\n", p.Megapascals()*10)
	// Output: 4.33 bar
}
