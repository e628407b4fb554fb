package verify

import (
	"lehr/anneal/formula"
	"lehr/anneal/piece"
	"lehr/anneal/sim"
	"lehr/anneal/sim/plane"
)

// Place says where in a piece something is: its relative depth from the middle,
// 0, to the surface, 1.
type Place struct {
	Depth float64
	Inner Inner // what lies at depth 0
	// Flat says that the place is that of a rim or an end, At which.
	Flat bool
	At   plane.Place
}

// Inner is what lies at the middle of a body.
type Inner int

// What the middle of a body may be.
const (
	Center     Inner = iota // of a sphere or rod
	Bore                    // of a tube
	ClosedFace              // of a slab that cools from one face
	Middle                  // of a slab that cools from both
	Cavity                  // of a hollow sphere
)

// nearEnd is the share of the depth that counts as the surface, or as the middle: of a
// ball of 50 mm it is half a millimeter, which nobody would call another place.
const nearEnd = 0.02

// AtSurface reports whether the place is the surface.
func (p Place) AtSurface() bool { return p.Depth > 1-nearEnd && !(p.Flat && p.At == plane.Inside) }

// AtInner reports whether the place is the middle.
func (p Place) AtInner() bool { return p.Depth < nearEnd }

// placeOf is a relative depth in a body.
func placeOf(b piece.Body, rho float64) Place {
	p := Place{Depth: rho}
	switch {
	case b.Sim.Inner > 0 && b.Sim.Form == sim.Sphere:
		p.Inner = Cavity
	case b.Sim.Inner > 0:
		p.Inner = Bore
	case b.Sim.OneFace:
		p.Inner = ClosedFace
	case b.Form == formula.FormSlab:
		p.Inner = Middle
	}
	return p
}
