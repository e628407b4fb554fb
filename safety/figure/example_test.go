package figure_test

import (
	"fmt"

	"lehr/glass/unit"
	"lehr/safety/figure"
	"lehr/safety/quantity"
)

// Mechanical Engineers' Handbook, vol. 4, Table 16, p. 183, row 3000 µm·K.
func ExampleBlackFraction() {
	f, err := figure.BlackFraction(3000e-6)
	fmt.Printf("%.4f %v\n", f, err)
	// Output: 0.2732 <nil>
}

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

// Study text, exam answer 5: 100 ft/min at 1 ft from a 3 ft² opening.
func ExampleDallaValleFlow() {
	q, err := figure.DallaValleFlow(quantity.FeetPerMinute(100), quantity.Feet(1), quantity.Area(3*quantity.Feet(1)*quantity.Feet(1)))
	fmt.Println(q.Text(unit.US), err)
	// Output: 1300 cfm (2210 m³/h) <nil>
}

// A 5760 W kiln at 240 V.
func ExampleCircuitLoad() {
	rated, _ := figure.RatedCurrent(5760, 240)
	least, breaker, err := figure.CircuitLoad(rated)
	fmt.Println(rated.Text(), least.Text(), breaker.Text(), err)
	// Output: 24 A 30 A 30 A <nil>
}
