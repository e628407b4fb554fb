// Package seal computes the stress that stays where one glass meets another, a
// stone, a metal or a skin of color, because the two shrink differently once
// the glass has set. No annealing removes it.
//
// It does not plan, reads no load file, and judges a buried interface only
// where its glass carries more than any that was tested: below that it says the
// number there and what it would take to break. It knows nothing of the stress
// that the program causes; package verify adds the two.
//
// The way through it: a [Finder] for the clear glass reads the [Words] of a
// piece into [Contents]; [Judge] takes them with the [Body] and a history and
// returns a [Report] of places, verdict, answers and findings. Findings are
// typed values; the English is the caller's. [PlanWarmUp] dries and warms what
// goes inside.
package seal
