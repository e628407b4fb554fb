package kiln_test

import (
	"fmt"

	"lehr/anneal/kiln"
	"lehr/glass/unit"
)

// What a kiln can do, from what its owner read one night with the elements off.
func Example() {
	read, err := kiln.ParseReadings("560 °C 0 min, 390 °C 60 min, 275 °C 2 h, 147 °C 4 h")
	if err != nil {
		panic(err)
	}
	k := kiln.Default()
	if k.Fall, err = kiln.FitFall(read, unit.Celsius(20)); err != nil {
		panic(err)
	}
	k.Measured = true
	fmt.Println(k.Fall.Text(unit.Metric))
	commanded := unit.KelvinPerHour(-120)
	fmt.Printf("200 °C to 100 °C, told 50 min: %.0f min\n", k.Ramp(unit.Celsius(200), unit.Celsius(100), commanded)/60)
	// Output:
	// toward 20 °C with a time constant of 2 h 36 min at 520 °C, falling faster while hotter (power 1.09); fitted to 4 measured points from 560 °C to 147 °C, which it misses by at most 0.70 K
	// 200 °C to 100 °C, told 50 min: 144 min
}
