// Package anneal turns what is known of a piece of glass into a cycle that
// anneals it, and says what stress the cycle leaves.
//
// It holds three things. The formulas (formula_*.go) are the closed forms of
// the trade's literature: how far the middle of a slab, rod or sphere trails
// its surface, what stress that makes, how fast a piece may heat or cool, how
// long a hold must be, what a polariscope shows, what a seal or an inclusion
// carries. The rules (rules.toml) are published cycles as data, each with the
// glass and thickness it was published for; [Rule.Apply] refuses outside that
// range. Every number carries its source and how well that source was read.
//
// All temperatures, rates, lengths and stresses at the border are typed by
// package unit. Tension is positive. A rate is positive when heating, so a
// cooling piece has a negative rate and a middle that is hotter than its
// surface. Lengths say whether they are half or full thickness.
//
// The closed forms assume constant properties and a steady state; package sim
// integrates heat flow and relaxation instead. This package reads no files,
// prints nothing and keeps no state.
package anneal
