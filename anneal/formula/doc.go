// Package formula holds the closed forms of the trade's literature, a chapter a
// file: how far the middle of a slab, rod or sphere trails its surface, what
// stress that makes, how fast a piece may heat or cool, how long a hold must be,
// what a polariscope shows, what a seal or an inclusion carries.
//
// All temperatures, rates, lengths and stresses at the border are typed by
// package unit. Tension is positive. A rate is positive when heating, so a
// cooling piece has a negative rate and a middle that is hotter than its
// surface. Lengths say whether they are half or full thickness.
//
// The closed forms assume constant properties and mostly a steady state; package
// sim integrates heat flow and relaxation instead. Rules made of them are in
// package rule. A formula asked for a glass without conductivity or a piece
// without size panics: that is a caller's bug.
package formula
