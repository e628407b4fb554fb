// Package verify judges one program in one load: what it does to each piece,
// worst case over what is not known exactly, and which limits that exceeds.
//
// It simulates exactly the numbers given and changes none of them; package plan
// does that. An [Evaluator] measures many programs for a search; the answer that
// a person sees always comes from [Program].
package verify
