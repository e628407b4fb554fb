package seal_test

import (
	"fmt"

	"lehr/anneal/seal"
	"lehr/anneal/seal/contents"
	"lehr/anneal/sim"
	"lehr/glass"
	"lehr/glass/unit"
)

func Example() {
	clear, _ := glass.Find("borosilicate-33")
	stone, _ := contents.Finder{Clear: clear}.ParseInside("sphere 8mm of opal, 9mm deep")
	r, _ := seal.Problem{Clear: clear, Body: seal.Body{Form: sim.Sphere, Size: 50 * unit.Millimeter},
		Contents: contents.Contents{Inside: []contents.Inside{stone}}}.Judge()
	fmt.Println(r.Verdict == seal.Over)
	fmt.Printf("over the stone up to %.1f MPa, limit %.0f MPa\n", r.Worst.Megapascals(), r.Limit.Megapascals())
	fmt.Printf("least glass over it %.1f mm, it has %.1f mm\n", r.LeastCover.Millimeters(), r.Cover.Millimeters())
	// Output:
	// true
	// over the stone up to 17.6 MPa, limit 7 MPa
	// least glass over it 8.2 mm, it has 5.0 mm
}

// Dense silica in borosilicate 3.3, a fall of 490 K.
func ExampleSelsingPressure() {
	stone := seal.Elastic{Young: 73 * unit.Gigapascal, Poisson: 0.17, Expansion: 0.6e-6}
	glass := seal.Elastic{Young: 63.5 * unit.Gigapascal, Poisson: 0.2, Expansion: 3.3e-6}
	p := seal.SelsingPressure(stone, glass, 490)
	fmt.Printf("%.1f MPa on the stone, %.1f MPa round it\n", p.Megapascals(), p.Megapascals()/2)
	// Output: 71.6 MPa on the stone, 35.8 MPa round it
}
