// Package program is the kiln program: segments, the file they are kept in, and
// the course of temperature that a kiln makes of them.
//
// It knows kilns and controllers, but no glass: what a program does to a piece
// is in package verify, how one is found in packages plan and shortest.
package program
