package gather_test

import (
	"fmt"

	"lehr/glass/gather"
	"lehr/glass/unit"
)

// Glass for a sphere of 2 1/2 in, from 19 mm rod with 8 % loss and a stub.
func Example() {
	piece, err := gather.ParseBody("sphere 2.5in")
	if err != nil {
		fmt.Println(err)
		return
	}
	rod, err := gather.ParseRod("19mm")
	if err != nil {
		fmt.Println(err)
		return
	}
	r := gather.Recipe{Piece: piece, Density: 2230, Loss: 0.08, Stub: 40 * unit.Millimeter, Stubs: 1}
	fmt.Println(r.Mass().Text(unit.Metric))
	fmt.Println(r.Take(rod, r.Mass()).Buy.Text(unit.Metric))
	// Output:
	// 299 g
	// 554.0 mm
}
