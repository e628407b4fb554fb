// Package verify judges one program in one load: what it does to each piece, in
// average glass and in the worst case over what nobody measured, and how that
// stands against the limits of each ([Verdict]), in the types of package unit.
//
// It simulates exactly the numbers given and changes none of them; package plan
// does that. What a person sees comes from [Program]; an [Evaluator] measures for a
// search. What lies beyond a checked range is said among what was assumed.
package verify
