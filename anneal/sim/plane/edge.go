package plane

import "math"

// thickest is the thickness, of the narrower width, up to which the edge was fitted.
const thickest = 0.5

// EdgeError is the share by which what light shows through an edge may differ from
// what [Outline.Edge] says.
const EdgeError = 0.1

// Edge returns how much of the tension in the middle of its slab a flat piece shows
// between crossed polarizers, by light that crosses a path [m] of it in its middle
// plane: a share of what the slab would show along all of the path. ok is false
// where that is not known: of a lens, and of a piece more than half as thick as wide.
//
// The membrane in its plane, whose rim cooled ahead, is not in it. Along the path the
// tension across it sums to no force, as half of the piece stands in balance; so
// where the piece is everywhere as thick, the membrane shows nothing. The edge takes
// off what the slab loses near the ends of the path, with x = thickness/path:
//
//	sharp rim  1 − 1.1 x − 0.75 x⁴ on a shelf, 1 − 0.9 x − 1.7 x⁴ raised
//	round rim  0.8 − 0.87 x on a shelf, 1 − 1.25 x raised
//
// Valid: discs and pendants 20 to 150 mm wide and 5 to 30 mm thick, x from 0.08 to
// 0.5, cooled by up to 120 K/h: within 5 % with a sharp rim and 10 % with a round
// one. At 300 K/h on a shelf a thin disc shows up to 12 % less. A rectangle counts as
// a disc as wide as its path; a long bar, looked at across, shows up to 10 % more to
// x = 1/3. A lens shows from −0.4 to 0.2 times its slab.
//
// Source: fit to finite elements [derived in TestEdge_light of package axial].
func (o Outline) Edge(path float64) (share float64, ok bool) {
	x := o.Thickness / path
	if !(x <= thickest) || !(o.Thickness <= thickest*o.narrow()) || o.Profile != Flat {
		return 0, false
	}
	switch {
	case o.round() && o.OnShelf:
		return 0.8 - 0.87*x, true
	case o.round():
		return 1 - 1.25*x, true
	case o.OnShelf:
		return 1 - 1.1*x - 0.75*math.Pow(x, 4), true
	}
	return 1 - 0.9*x - 1.7*math.Pow(x, 4), true
}

// Unseen returns how many times the tension in the middle of its slab a flat piece may
// carry, with the membrane that [Outline.Edge] does not show: the less of
//
//	0.8 width/thickness   0.45/√thickness   with the thickness in m
//
// the first where the rim reaches to the middle, the second where heat does not come
// that far. A rectangle has 1.45/1.05 times the membrane, see [Outline.CombineSides].
//
// Valid: discs and pendants on a shelf, 3 to 25 mm thick and up to half as thick as
// wide, of glass that conducts 1.2 W/mK: up to 1.6 times what they carry. Raised ones
// carry half as much.
//
// Source: bound of finite elements [derived in TestEdge_light of package axial].
func (o Outline) Unseen() float64 {
	most := math.Min(0.8*o.narrow()/o.Thickness, 0.45/math.Sqrt(o.Thickness))
	if o.rectangular() {
		most = 1 + sideFactor/discFactor*(most-1)
	}
	return math.Max(1, most)
}

// narrow is the narrower width of the outline [m].
func (o Outline) narrow() float64 {
	if o.rectangular() {
		return math.Min(o.Long, o.Wide)
	}
	return o.Diameter
}
