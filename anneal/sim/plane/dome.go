package plane

import "lehr/anneal/sim"

// DomeBody returns the one-dimensional body that bounds a dome, and the factors
// to raise its tension while cooling and its tension left by. Width is that of
// its base, height that above it, in one unit of length; the body is in meters
// if they are.
//
// On a shelf a hemisphere has exactly the temperature of the sphere of twice its
// height, by reflection in the base that passes no heat; that sphere with the
// factors of a shaded cap bounds a dome whose base is at most as wide as twice
// its height. A flatter dome is a slab of its height, cooled from one face and
// held flat, which bounds about three times over. Raised, it is a slab of its
// height cooled from both faces.
//
// Valid: finite elements of one hemisphere, 76 mm wide, film: on a shelf 0.888
// and 0.536 MPa against 1.06 and 0.84 of the sphere's; raised 0.706 and 0.450
// against 0.846 and 0.471 of the slab's. Other heights rest on package axial.
//
// Source: in-plane study and shapes study [derived].
//
// Checked: testdata/cases/flat-pieces.toml
func DomeBody(width, height float64, onShelf bool) (body sim.Body, tension, left float64) {
	switch {
	case !onShelf:
		return sim.Body{Form: sim.Slab, Outer: height / 2}, 1, 1
	case width <= 2*height*(1+1e-9):
		return sim.Body{Form: sim.Sphere, Outer: height}, 1.5, 1.1
	}
	return sim.Body{Form: sim.Slab, Outer: height, OneFace: true, Held: true}, 1, 1
}
