package anneal_test

import (
	"fmt"
	"strings"

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

// The job from end to end: a load, the studio, tonight's program.
func ExamplePlan() {
	load, err := anneal.ReadLoad(strings.NewReader(`
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
	rep, err := anneal.Plan(load, anneal.DefaultStudio(), anneal.Options{})
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

// A program from the wall, in one sphere: what is over, in words.
func ExampleVerify() {
	wall, err := anneal.ReadSchedule(strings.NewReader(`
from = "560 °C"
[[segment]]
hold = "1 h"
[[segment]]
rate = "200 °C/h"
to   = "40 °C"
`), "wall.toml")
	if err != nil {
		panic(err)
	}
	p, err := anneal.ParsePiece("sphere 2.5in")
	if err != nil {
		panic(err)
	}
	if p.Glass, err = glass.Find("borosilicate-33"); err != nil {
		panic(err)
	}
	rep, err := anneal.Verify(wall, &anneal.Load{Into: anneal.HotKiln, Pieces: []anneal.Piece{p}}, anneal.DefaultStudio(), anneal.Options{})
	if err != nil {
		panic(err)
	}
	fmt.Println(rep.Within, rep.Pieces[0].Over)
	// Output: false [tension tension left]
}

func ExampleParsePiece() {
	p, err := anneal.ParsePiece("6 x disc 3in x 1in raised")
	fmt.Println(p.Count, p.Shape, p.Size.Text(unit.US), "high,", p.Resting, err)
	_, err = anneal.ParsePiece("sphere 64")
	fmt.Println(err)
	// Output:
	// 6 disc 1 in high, raised <nil>
	// piece "sphere 64": size 64: has no unit
}
