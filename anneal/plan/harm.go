package plan

import (
	"math"
	"slices"

	"lehr/anneal/finding"
	"lehr/anneal/verify"
)

// What a program costs a load, what counts most first: pieces that may crack, pieces
// harmed otherwise, how far what may crack is over its limit in steps of overStep,
// pieces to anneal again, seconds.
const (
	costCracked = iota
	costHarmed
	costOver
	costAgain
	costSeconds
	costs
)

// overStep is the factor of the steps in which it counts how far a piece is over its
// limit: a tenth is less than what two kilns differ by.
const overStep = 1.1

// overSteps is how many of them a tension is over its limit; one that is no number is
// over by more than any.
func overSteps(use float64) int {
	const most = 1e6
	if !(use < most) {
		use = most
	}
	return max(0, int(math.Log(use)/math.Log(overStep)))
}

// SingleOf sorts the pieces of a load by what a program that was judged does to them,
// whatever it was made for. Nothing is planned: Again and Hopeless are empty.
func SingleOf(rep *verify.Report) *Single {
	one, _ := judgeSingle(rep, -1)
	return one
}

// LessHarm compares what two programs do to the same load, negative if the first does
// less: it may crack fewer pieces, then harms fewer otherwise for good, then pulls what
// may crack less, then leaves fewer to anneal again, then is shorter.
func LessHarm(a, b *verify.Report) int {
	_, x := judgeSingle(a, -1)
	_, y := judgeSingle(b, -1)
	return slices.Compare(x[:], y[:])
}

// judgeSingle sorts the pieces by what a program does to them, and counts what it
// costs.
func judgeSingle(rep *verify.Report, firing int) (one *Single, cost [costs]int) {
	one = &Single{Report: rep, Firing: firing}
	for i, p := range rep.Pieces {
		has := func(is func(finding.Finding) bool) bool { return slices.ContainsFunc(p.Over, is) }
		n := max(1, p.Piece.Count)
		switch {
		case p.Within:
		case has(cracks):
			one.Harmed, one.Cracked = append(one.Harmed, i), append(one.Cracked, i)
			cost[costCracked] += n
			cost[costOver] = max(cost[costOver], overSteps(p.Tension.Use))
		case has(func(f finding.Finding) bool { return !mends(f) }):
			one.Harmed = append(one.Harmed, i)
			cost[costHarmed] += n
		case !has(func(f finding.Finding) bool { return f.Kind != finding.OverOpening }):
			one.Cooler = append(one.Cooler, i)
		default:
			cost[costAgain] += n
		}
	}
	cost[costSeconds] = int(rep.Actual.Total().Seconds())
	return one, cost
}

// cracks reports whether a piece may crack by what a program does to it, whatever
// else it does: what sags, or shifts in color, may still be whole.
func cracks(f finding.Finding) bool {
	return f.Kind == finding.OverTension || f.Kind == finding.UnprovenTension
}

// mends reports whether annealing again puts right what a program does to a
// piece: it does for what the soak or the setting range left undone, and waiting
// does for a kiln opened too hot.
func mends(f finding.Finding) bool {
	switch f.Kind {
	case finding.OverOpening: // nobody has to open it there
		return true
	case finding.OverResidual, finding.UnprovenResidual, finding.OverRelaxed, finding.OverEven, finding.RimNotComputed:
		return true
	}
	return false
}
