// Package kilnlog reads what a kiln really did: a log of readings as loggers
// and spreadsheets write it, in degrees or in millivolts of a thermocouple.
//
// [Read] makes a [Log] of the text: readings in order of time, and an
// [Account] of what was read, what was left out, and how each column was
// understood. It never guesses a unit, a column or the order of a date. From
// the readings come the kiln as a function of time, for a simulation
// ([Log.Curve]), the real soak and the real rates ([Log.Through],
// [Log.Above]), how far the kiln followed a program ([Log.Compare]), and how
// it falls by itself ([Log.Fall]).
//
// The package knows no glass and no stress, opens no files, and writes no
// sentences about a night: it returns numbers and kinds.
package kilnlog
