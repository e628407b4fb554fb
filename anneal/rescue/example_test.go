package rescue_test

import (
	"fmt"

	"lehr/anneal/rescue"
	"lehr/glass/unit"
)

func Example() {
	bounds := rescue.BoundsOf(unit.Celsius(510), unit.Celsius(560))
	a, err := rescue.Advise(unit.Celsius(560), unit.Celsius(349), bounds)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(a.Case)
	fmt.Println("try first:", a.Ways[0])
	// Output:
	// set too fast
	// try first: let it fall
}
