package plane_test

import (
	"fmt"
	"log"

	"lehr/anneal/sim"
	"lehr/anneal/sim/plane"
	"lehr/anneal/sim/study"
)

// A disc 75 × 12 mm on a shelf, cooled overnight.
func Example() {
	glass, variants := study.Glass()
	kiln := study.Program([2]float64{0, 565}, [2]float64{1, 565}, [2]float64{1.7, 480}, [2]float64{3.5, 60})
	o := plane.Outline{Diameter: 0.075, Thickness: 0.012, OnShelf: true}
	bounds, _, err := plane.Bounds(study.Problem(glass, variants, kiln), sim.Settings{}, o)
	if err != nil {
		log.Fatal(err)
	}
	b := bounds[0]
	fmt.Printf("at most %.2f MPa at %s, %.2f MPa left at %s", b.Tension/1e6, b.TensionPlace, b.Residual/1e6, b.ResidualPlace)
	// Output: at most 0.83 MPa at the rim's edge, 0.34 MPa left at the center, inside
}
