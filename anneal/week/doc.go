// Package week spreads an order over nights and kilns: what lies together on
// which shelf, in the fewest firings, ready by the days that are asked for.
//
// It packs by bands: each kind of piece lies in rows of its own across the
// shelf, square or offset, whichever takes less. A better arrangement may
// exist; what it says fits, fits. Whether kinds can share a program, and for
// how long, is asked of the caller: the package knows no heat.
package week
