// Package kilnlog reads what a kiln really did: a log of readings as loggers
// and spreadsheets write it, in degrees or in millivolts of a thermocouple.
//
// [Read] makes a [Log] of the text, and an [Account] of what was read and how
// each column was understood; it never guesses a unit, a column or the order of
// a date. The methods of the log say what the kiln did, what it kept of a program
// and how it falls by itself, in the types of package unit. The package knows no
// glass, opens no files and writes no sentences: it returns numbers and kinds.
package kilnlog
