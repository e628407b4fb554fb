// Package axial computes temperature and stress in a body of revolution as it
// is, in its section: rims, ends, a shelf under part of it.
//
// Heat and stress live on one mesh of quadrilaterals. Temperatures are at the
// corners; each element has one strain, the mean over its volume, and one
// stress; the surface has stresses of its own at its nodes, free across and
// strained along as the nodes are, so that a tension at a sharp rim needs no
// extrapolation. Relaxation, fictive temperature and the control of steps are
// those of package sim.
//
//	r, err := axial.Run(p, sim.Settings{Cells: 24}, axial.Disc(0.075, 0.012, 0, true))
//
// Everything is SI: kelvin, meters, seconds, pascals, tension positive; places
// are radius and height. The package has no limits of stress and judges nothing.
// It does not know contact (a closed face passes no heat and carries no load),
// weight, or the infinite stress of a sharp inner corner.
package axial
