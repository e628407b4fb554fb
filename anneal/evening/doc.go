// Package evening says what pieces go through before their program begins: when
// each went in and how hot it was inside, and what it sees when the kiln is
// opened for the others.
//
// An evening of holding is a kiln.Curve that ends at zero, the start of the
// program. [Seen] puts the openings into it as the skin of a piece sees them.
// [EFold] tells how fast a piece evens out, [ParseIn]
// and [ParseCore] read what a person writes.
//
// The package simulates nothing and judges nothing.
package evening
