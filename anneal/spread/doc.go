// Package spread says how far a stress that was computed for average glass may
// be off for the glass that lies in the kiln, and what it is held against.
//
// Three things stand here, and nothing that simulates: over which range each
// property of a glass may lie ([Ranges], and [At] for a glass at the end of
// one), how the shares of the properties combine to a worst case ([Combine]),
// and the four limits of tension, each as a pair of expected value and worst
// case ([Limits]). The formulas that the limits rest on are in basis.go. Who
// runs the variants and says the verdict is the caller.
package spread
