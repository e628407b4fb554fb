package figure_test

import (
	"fmt"

	"lehr/glass/unit"
	"lehr/safety/figure"
)

// A 3-inch piece at 1200 °C, 300 mm from the eye.
func ExampleEye() {
	r, err := figure.Eye(unit.Celsius(1200), 3*unit.Inch, 300*unit.Millimeter, figure.Lens{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f W/m², %.0f times the limit, lens at most %.1f %%\n", r.Irradiance, r.Times, 100*float64(r.MaxTransmittance))
	// Output: 2371 W/m², 24 times the limit, lens at most 4.2 %
}

// A 24 A kiln on a 100 A breaker.
func ExampleCircuit() {
	r, err := figure.Circuit(24, 100, 0)
	fmt.Println(r.Least.Text(), r.Most.Text(), r.Fit, err)
	// Output: 30 A 40 A too big <nil>
}
