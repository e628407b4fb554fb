package verify_test

import (
	"context"
	"fmt"
	"strings"

	"lehr/anneal/finding"
	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/program"
	"lehr/anneal/verify"
	"lehr/glass"
)

// A program from the wall, in one sphere: what is over, in words.
func ExampleProgram() {
	wall, err := program.Read(strings.NewReader(`
from = "560 °C"
[[segment]]
hold = "1 h"
[[segment]]
rate = "200 °C/h"
to   = "40 °C"
`), "wall.toml")
	if err != nil {
		panic(err)
	}
	p, err := piece.Parse("sphere 2.5in")
	if err != nil {
		panic(err)
	}
	if p.Glass, err = glass.Find("borosilicate-33"); err != nil {
		panic(err)
	}
	rep, err := verify.Program(context.Background(), wall, &piece.Load{Into: piece.HotKiln, Pieces: []piece.Piece{p}}, kiln.DefaultStudio(), kiln.Limits{})
	if err != nil {
		panic(err)
	}
	fmt.Println(rep.Verdict(), rep.Pieces[0].Over.Has(finding.OverResidual))
	// Output: OverLimit true
}
