// Package unit gives every number of a kiln program its unit: temperatures, their
// differences, rates, lengths, masses, stresses, powers, times and clock times, with
// a parser and a formatter for each.
//
// A quantity is stored in SI and converted once, at the door. The types keep apart
// what must not be mixed: [Temp], a point on a scale, is a struct, so that adding
// two does not compile; [Delta], the difference of two, has no offset.
//
// Text always carries a unit; a bare number is refused with a [*ParseError]. String
// is the metric text, precise enough to parse back within 1e-9 of the value; Text is
// for people, in the units of a [System], to four significant digits at most; In
// gives number and unit apart, for tables.
//
// The package does not judge whether a value makes sense for glass or for a kiln;
// it refuses what lies beyond the limit stated at each parser. It has no units but
// those of this trade, and never reads a locale or guesses a unit.
package unit
