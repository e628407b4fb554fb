// Package plane computes the stress that a flat piece of glass has because its
// rim cools ahead of its middle, which a slab without edges cannot see.
//
// A disc is a field of temperature in radius, the mean through the thickness, and
// a membrane of the slab's glass, stepped as in package sim. The greatest tension
// is at the sharp edge where rim and face meet; there the stress is uniaxial.
//
// One run takes the slab's own problem and an outline:
//
//	slab, err := sim.Run(p, s)                        // p.Body = o.Slab()
//	flat, err := plane.Run(p, s, o)                   // the same p, whatever its Body
//	b := o.Combine(slab.Outcomes[i], flat.Outcomes[i]) // bounds, by variant
//
// A rectangular slab counts as two discs, a thick disc as a long cylinder too:
// [Bounds] runs all that [Outline.Needs] and combines it. [Rod], [TubeEnds] and
// [Dome] are the rules for shapes that keep a one-dimensional body.
//
// Everything is SI: kelvin, meters, seconds, pascals, tension positive. The package
// has no limits of stress. It does not know holes, notches or inclusions, a shelf
// that gives or takes heat, or neighbors: the rim sees the kiln alone.
//
// Source: in-plane study, finite elements of a general-purpose code and own
// solutions in two languages [derived]; testdata/cases/flat-pieces.toml.
package plane
