package unit_test

import (
	"errors"
	"fmt"
	"time"

	"lehr/glass/unit"
)

func Example() {
	hold, _ := unit.ParseTemp("510 °C")
	cool, _ := unit.ParseRate("54 °F/h")
	size, _ := unit.ParseLength("2 1/2 in")
	fmt.Println(hold.Text(unit.US), cool.Text(unit.Metric), size.Text(unit.Metric))
	fmt.Println(hold.Add(cool.Over(-2 * time.Hour)))

	_, err := unit.ParseTemp("510")
	var refused *unit.ParseError
	if errors.As(err, &refused) {
		fmt.Println(refused)
		fmt.Println(refused.Hint())
	}
	// Output:
	// 950 °F 30 °C/h 63.5 mm
	// 450 °C
	// 510: has no unit
	// write "510 °C" or "510 °F"
}

func ExampleClock_Add() {
	start, _ := unit.ParseClock("10:15 pm")
	end, days := start.Add(11*time.Hour + 24*time.Minute)
	fmt.Println(start, end, days)
	// Output: 22:15 09:39 1
}
