// Package verify judges one program in one load: what it does to each piece, in
// average glass and in the worst case over what nobody measured, and how that
// stands against the limits of each ([Verdict]).
//
// It simulates exactly the numbers given and changes none of them; package plan
// does that. An [Evaluator] measures many programs for a search; the answer that
// a person sees always comes from [Program].
package verify
