package piece_test

import (
	"fmt"

	"lehr/anneal/piece"
	"lehr/glass/unit"
)

func ExampleParse() {
	p, err := piece.Parse("6 x disc 3in x 1in raised")
	fmt.Println(p.Count, p.Shape, p.Size.Text(unit.US), "high,", p.Resting, err)
	_, err = piece.Parse("sphere 64")
	fmt.Println(err)
	// Output:
	// 6 disc 1 in high, raised <nil>
	// piece "sphere 64": size 64: has no unit
}
