package strict_test

import (
	"fmt"
	"strings"

	"lehr/glass/strict"
)

func Example() {
	var load struct {
		Piece []struct {
			What  string `toml:"what"`
			Count int    `toml:"count"`
		} `toml:"piece"`
	}
	text := "[[piece]]\nwhat = \"sphere 2.5 in\"\ncuont = 6\n"
	_, err := strict.Decode(strings.NewReader(text), "load.toml", &load)
	fmt.Println(err)
	fmt.Println(err.(*strict.Error).Context())
	fmt.Println(err.(*strict.Error).Hint())
	// Output:
	// load.toml:3: cuont: is not a key of this file
	// 3 | cuont = 6
	//   | ^^^^^
	// did you mean count?
}
