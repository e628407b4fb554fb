package evening_test

import (
	"fmt"
	"time"

	"lehr/anneal/evening"
	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

func Example() {
	hold, err := kiln.NewCurve([]kiln.Reading{{At: unit.Celsius(560), Time: -3 * time.Hour}, {At: unit.Celsius(560)}})
	if err != nil {
		fmt.Println(err)
		return
	}
	o := evening.Usual
	o.At = -time.Hour
	seen, err := evening.Seen(hold, unit.Celsius(20), []evening.Opening{o})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("the skin of the pieces sees", seen.Temp(o.At+10*time.Second).Text(unit.Metric))
	// Output:
	// the skin of the pieces sees 527 °C
}
