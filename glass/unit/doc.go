// Package unit gives every number of a kiln program its unit: temperatures,
// temperature differences, rates, lengths, stresses, powers, times and clock
// times, with a parser and a formatter for each.
//
// A quantity is stored in SI and converted once, at the door. The types keep
// apart what must not be mixed:
//
//   - [Temp] is a point on a scale. It is a struct, so that adding two of
//     them does not compile. The zero value is 0 K, so that a forgotten field
//     fails a check instead of meaning 0 °C.
//   - [Delta] is the difference of two temperatures. It has no offset: 10 °F
//     of difference is 5.56 K, while 10 °F on the thermometer is -12.2 °C.
//   - [Rate] is a difference per time, positive when heating.
//   - [Length], [Mass], [Stress] and [Power] are plain numbers of m, kg, Pa and W.
//   - [Clock] is a time of day, to the minute. Lengths of time are
//     [time.Duration]; [Duration] is the same with a parser attached.
//
// # Reading
//
// Text always carries a unit. A bare number is refused, and the refusal, a
// [*ParseError], offers the two likely spellings:
//
//	510: has no unit
//	write "510 °C" or "510 °F"
//
// Decimals are marked by a point; a comma is refused, since it can mean a
// decimal or a thousand. Numbers such as 1e3 are read. NaN, infinity and
// numbers beyond the limits stated at each parser are refused. No parser reads
// more than [maxInput] bytes. A number smaller than 1e-100 counts as zero.
//
// # Writing
//
// String is the metric text, precise enough to parse back within 1e-9 of the
// value. Text is for people: the units of a [System], at most four
// significant digits. In gives the number and the unit apart, for tables.
// Only a plain space stands between a number and its unit.
//
// # What the package does not do
//
// It does not judge whether a value makes sense for glass or for a kiln: a
// sphere of 5 m and a soak of 200 days are read without complaint, and the
// caller refuses them. It has no general unit algebra, and no units but those of this trade.
// Expansion, conductivity and other properties stay plain SI numbers
// elsewhere. It never reads a locale and never guesses a unit.
package unit
