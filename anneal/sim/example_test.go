package sim_test

import (
	"fmt"

	"lehr/anneal/sim"
)

// A glass sphere of 50 mm cools evenly at 36 K/h, too cold to relax.
func Example() {
	constant := func(x float64) func(float64) float64 { return func(float64) float64 { return x } }
	r, err := sim.Run(sim.Problem{
		Body: sim.Body{Form: sim.Sphere, Outer: 0.025},
		Material: sim.Material{Density: 2500, Conductivity: constant(1.15), SpecificHeat: constant(1000),
			Young: 70e9, Poisson: 0.22, Expansion: 9e-6},
		Variants: []sim.Variant{{Name: "soda-lime", A: -20.59, B: 27407, T0: -19.8}},
		Surface:  sim.Surface{Follows: true},
		Kiln:     sim.Kiln{At: func(s float64) float64 { return 700 - 0.01*s }, Kinks: []float64{7200}},
		Start:    constant(700),
	}, sim.Settings{})
	fmt.Printf("lag %.1f K, greatest tension %.2f MPa, %v\n", r.MaxLag, r.Outcomes[0].Peak/1e6, err)
	// Output: lag 2.3 K, greatest tension 0.73 MPa, <nil>
}
