// Package polariscope turns what polarized light shows in a piece into stress,
// and a stress into what it would show: retardation, color, degrees of the
// analyzer, strain discs.
//
// It knows the parabolic stress that a well annealed piece keeps, in a sphere,
// in a long rod looked at across, and in a slab looked at through its edge. It
// does not know stress from a mismatch of two glasses, a shelf mark or uneven
// cooling: those are recognized by their pattern, which it describes, and have
// no number here. Nor does it run the polariscope: what an eye reads carries
// the error that is given with it.
package polariscope
