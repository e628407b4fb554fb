package plan

import (
	"slices"

	"lehr/anneal/verify"
)

// SingleOf sorts the pieces of a load by what a program that was judged does to them,
// whatever it was made for. Nothing is planned: Again and Hopeless are empty.
func SingleOf(rep *verify.Report) *Single {
	one, _ := judgeSingle(rep, -1)
	return one
}

// LessHarm compares what two programs do to the same load, negative if the first does
// less: it may crack fewer pieces, then harms fewer otherwise for good, then leaves
// fewer to anneal again, then is shorter.
func LessHarm(a, b *verify.Report) int {
	_, x := judgeSingle(a, -1)
	_, y := judgeSingle(b, -1)
	return slices.Compare(x[:], y[:])
}
