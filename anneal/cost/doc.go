// Package cost adds up what a firing costs: electricity as a meter or a log
// measured it, in the price of each hour, and whatever else is put on a line of
// its own. It shares the sum among the pieces by the shelf they cover.
//
// It is arithmetic: what is estimated and what was measured is for the caller
// to say. Money keeps its currency word as typed.
package cost
