package axial_test

import (
	"fmt"
	"log"

	"lehr/anneal/sim"
	"lehr/anneal/sim/axial"
	"lehr/anneal/sim/study"
)

// A paperweight 60 mm wide on a shelf, drawn by its outline, cooled overnight.
func Example() {
	outline := []axial.Point{{R: 0, Z: 0}, {R: 0.025, Z: 0}, {R: 0.030, Z: 0.008}, {R: 0.030, Z: 0.018},
		{R: 0.026, Z: 0.028}, {R: 0.018, Z: 0.035}, {R: 0.009, Z: 0.0385}, {R: 0, Z: 0.0395}}
	glass, variants := study.Glass()
	kiln := study.Program([2]float64{0, 565}, [2]float64{1, 565}, [2]float64{2.5, 480}, [2]float64{6, 60})
	r, err := axial.Run(study.Problem(glass, variants, kiln), sim.Settings{Cells: 16}, axial.Profile(outline, true))
	if err != nil {
		log.Fatal(err)
	}
	o := r.Outcomes[0]
	fmt.Printf("%.1f MPa at radius %.0f mm and height %.0f mm, %.1f MPa left", o.Peak/1e6, o.PeakAt.R*1e3, o.PeakAt.Z*1e3, o.Residual/1e6)
	// Output: 0.7 MPa at radius 25 mm and height 0 mm, 0.4 MPa left
}
