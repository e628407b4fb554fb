// Package piece says what lies in the kiln: pieces in the trade's words, the
// load they make, the one-dimensional body that stands for each, and its glass
// as the simulation takes it.
//
// It reads load files and the grammar of pieces. What a program does to a piece
// is in package verify, what a kiln can do in package kiln.
package piece
