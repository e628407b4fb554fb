// Package gather tells how much glass a piece takes: its volume, the mass of
// each part it is built of, the rod to cut for them and to buy, and what size a
// weighed amount gives. A gather is the glass taken up for a piece.
//
// All of it is geometry and a density. The package knows no kiln, no heat and
// no notebook: what is lost at the torch is the person's own figure, handed in.
// It does not compute what working heat does to a size, nor glass that
// stays on a punty: both are to be weighed.
package gather
