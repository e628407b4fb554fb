package polariscope_test

import (
	"fmt"

	"lehr/anneal/polariscope"
	"lehr/glass/unit"
)

// A ring of 60 ± 15 nm in a sphere of 2 1/2 in that lies in a liquid of its index.
func Example() {
	r, err := polariscope.ParseReading("60 ± 15 nm", polariscope.Known{})
	if err != nil {
		fmt.Println(err)
		return
	}
	v := polariscope.View{Shape: polariscope.Sphere, Size: 2.5 * unit.Inch, Place: polariscope.Brightest}
	s, err := v.Stress(r.Retardation, r.Error, 4.0e-12, 0.15e-12)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Center.Text(unit.Metric), "±", s.Error.Text(unit.Metric))
	// Output:
	// 0.61 MPa ± 0.16 MPa
}
