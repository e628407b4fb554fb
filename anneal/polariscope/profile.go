package polariscope

import (
	"fmt"
	"math"

	"lehr/glass/unit"
)

// sphereProfile returns what a sphere with a parabolic stress shows along a
// line of sight that passes its center at an offset, over C·S·R.
//
// y is the offset over the radius R, S the tension at the center, which is also
// the compression at the surface.
//
//	R_nm/(C S R) = 2 y² √(1 − y²)
//
// Through the center there is none; the greatest, 4/(3√3), is at y = √(2/3).
//
// Valid: 0 ≤ y ≤ 1, a ray that is straight inside; y is not where it is seen in air.
//
// Source: σ_r = S(1 − ρ²), σ_θ = S(1 − 2ρ²), so that the difference across the
// ray is S y² all along it [derived in profile_test.go].
//
// Checked: testdata/cases/polariscope.toml
func sphereProfile(y float64) float64 { return 2 * y * y * math.Sqrt(max(0, 1-y*y)) }

// rodProfile returns what a long rod with a parabolic stress shows when it is
// looked at across, over C·S·R.
//
// y is the offset of the line of sight from the axis over the radius R, S the
// axial tension on the axis.
//
//	R_nm/(C S R) = ⅔ √(1 − y²) (1 − 4 y²)
//
// Valid: 0 ≤ y ≤ 1, a ray that is straight inside, away from the ends.
//
// Source: σ_z = S(1 − 2ρ²); the mean over a chord of the stress across it is
// zero [derived in profile_test.go].
//
// Checked: testdata/cases/polariscope.toml
func rodProfile(y float64) float64 { return 2. / 3 * math.Sqrt(max(0, 1-y*y)) * (1 - 4*y*y) }

// slabProfile returns what a slab with a parabolic stress shows when it is
// looked at through its edge, over C·S·L.
//
// x is the distance from the middle plane over half the thickness, S the
// tension in the middle plane, L the length of glass that the light crosses.
//
//	R_nm/(C S L) = 1 − 3 x²
//
// Valid: 0 ≤ x ≤ 1; the rim, about one thickness deep at either end of the
// path, carries less, see [View.Share]. Through the face a slab shows nothing.
//
// Source: zero mean over the thickness [derived in profile_test.go].
//
// Checked: testdata/cases/polariscope.toml
func slabProfile(x float64) float64 { return 1 - 3*x*x }

// Shape is a body whose stress light can tell.
type Shape string

// The shapes.
const (
	Sphere Shape = "sphere"
	Rod    Shape = "rod"  // looked at across
	Slab   Shape = "slab" // looked at through its edge
)

// View is a piece and how one looks at it.
type View struct {
	Shape Shape
	Size  unit.Length // diameter of a sphere or rod, thickness of a slab
	Path  unit.Length // of the light in a slab
	// Share is how much of the path's stress a slab shows through its edge, which
	// takes off the rest; 0 is all of it.
	Share float64
	// Index is the refractive index of a round piece that is looked at in air. 0 is
	// a piece in a liquid of its own index.
	Index float64
	// Place is where one looks: the offset from center, axis or middle plane as an
	// eye far off sees it, outside of the glass. Below 0 it is the place that is
	// read unless somebody says otherwise: the bright ring, axis or middle plane.
	Place unit.Length
}

// Brightest is the [View.Place] that shows most; of a sphere in air, whose ring
// brightens up to its rim, the place just inside of the rim.
const Brightest unit.Length = -1

// PlaceError is a place that cannot be read.
type PlaceError struct{ Reason, hint string }

func (e *PlaceError) Error() string { return e.Reason }

// Hint returns one thing to do.
func (e *PlaceError) Hint() string { return e.hint }

// least is the share of the greatest retardation below which a place tells
// nothing: there the error of the place is larger than what it shows.
const least = 0.25

// justInside is where a sphere is read in air, seen, over its radius: at the rim
// itself the light only grazes the glass, and none comes through.
//
// Source: common practice; to the rim from here the retardation grows by 6 % at an
// index of 1.47, so that a reading nearer to it means rather less stress.
const justInside = 0.95

// index is what a ray bends by as it leaves the piece, 1 if not at all.
func (v View) index() float64 {
	if v.Index > 1 && v.Shape != Slab {
		return v.Index
	}
	return 1
}

// At returns the place that the view means, as seen, over the radius or half the
// thickness.
func (v View) At() float64 {
	if v.Place >= 0 {
		return float64(2 * v.Place / v.Size)
	}
	if v.Shape != Sphere {
		return 0 // the axis, the middle plane
	}
	ring := math.Sqrt(2./3) * v.index()
	if v.index() > 1 {
		return min(ring, justInside)
	}
	return ring
}

// inside returns how far from the middle the ray passes that is seen at the
// place, over the radius or half the thickness. All that is seen of a sphere in
// air, up to its rim, passes within 1/n.
//
//	y = b/n
//
// Valid: an eye far off, so that the rays that reach it are parallel.
//
// Source: law of refraction: sin of the angle inside is b/n [derived in
// refraction_test.go].
func (v View) inside() float64 { return v.At() / v.index() }

// Seen returns where an eye far off sees the ray that passes the middle of a round
// piece at a distance; ok is false where that ray does not leave it: in air, beyond
// 1/n of the radius.
func (v View) Seen(inside unit.Length) (at unit.Length, ok bool) {
	at = inside * unit.Length(v.index())
	return at, at <= v.Size/2
}

// Glare returns the retardation as bright as a round piece without stress, looked at in
// air, is at the place: its surface passes less of the light that swings around the
// middle than of that toward it. 0 in a liquid.
//
//	R = λ/π atan (1 − c²)/(1 + c²), c = cos(i − r)
//
// with sin i the place over the radius, sin r that over the index, λ 550 nm. The
// brightness of stress and this one add.
//
// Valid: at 45° between the sheets, where the ring is brightest.
//
// Source: Fresnel's equations: either surface passes cos(i − r) times as much of the
// one as of the other [derived in refraction_test.go].
func (v View) Glare() unit.Length {
	b := math.Min(1, v.At())
	c := math.Cos(math.Asin(b) - math.Asin(b/v.index()))
	return unit.Length(550/math.Pi*math.Atan((1-c*c)/(1+c*c))) * Nanometer
}

func (v View) profile(y float64) float64 {
	switch v.Shape {
	case Sphere:
		return sphereProfile(y)
	case Rod:
		return rodProfile(y)
	}
	return slabProfile(y)
}

// arm is the length that the profile is taken times.
func (v View) arm() unit.Length {
	switch {
	case v.Shape != Slab:
		return v.Size / 2
	case v.Share > 0:
		return v.Path * unit.Length(v.Share)
	}
	return v.Path
}

// Light returns the length of glass that the light crosses at the place.
func (v View) Light() unit.Length {
	if v.Shape == Slab {
		return v.Path
	}
	y := v.inside()
	return v.Size * unit.Length(math.Sqrt(max(0, 1-y*y)))
}

// Arm returns the retardation over C·S at the place, a length: positive where
// the place shows the tension of the middle.
//
// Errors: *[PlaceError] where nothing can be read.
func (v View) Arm() (unit.Length, error) {
	if v.At() > 1 {
		return 0, &PlaceError{"the place lies outside the piece", ""}
	}
	y := v.inside()
	p := v.profile(y)
	most := 4 / (3 * math.Sqrt(3))
	if v.Shape == Rod {
		most = 2. / 3
	} else if v.Shape == Slab {
		most = 1
	}
	if math.Abs(p) < least*most {
		switch {
		case v.Shape == Sphere && y < 0.5:
			return 0, &PlaceError{"through and near its middle a sphere shows nothing, however large its stress",
				"read the bright ring just inside the rim"}
		case v.Shape == Rod && y < 0.75:
			return 0, &PlaceError{fmt.Sprintf("near %.2g of the way from axis to rim a rod shows next to nothing", max(1, v.Index)/2), "read it on the axis"}
		case v.Shape == Slab:
			return 0, &PlaceError{"about 0.58 of the way from the middle to the face a slab shows next to nothing", "read it in the middle plane"}
		}
		return 0, &PlaceError{"at the very rim there is too little glass to read", "read it farther in"}
	}
	return unit.Length(p) * v.arm(), nil
}

// Stress is what a piece keeps when its stress is a parabola.
type Stress struct {
	Center  unit.Stress // in the middle, tension positive
	Surface unit.Stress
	Error   unit.Stress // of the center, either way; the surface's is as large as its share
}

// surfaceShare is the stress at the surface over that in the middle.
func (v View) surfaceShare() unit.Stress {
	if v.Shape == Slab {
		return -2
	}
	return -1
}

// Stress returns the stress that a retardation means.
//
// retardation and its reading error are without sign; optic is the
// stress-optic coefficient [1/Pa] and spread its error.
//
//	S = R/(C·arm), (dS/S)² = (dR/R)² + (dC/C)²
//
// Errors: those of [View.Arm].
//
// Checked: testdata/cases/polariscope.toml
func (v View) Stress(retardation, reading unit.Length, optic, spread float64) (Stress, error) {
	arm, err := v.Arm()
	if err != nil {
		return Stress{}, err
	}
	per := math.Abs(optic * float64(arm)) // retardation per Pa
	s := unit.Stress(float64(retardation) / per)
	e := math.Hypot(float64(reading)/per, float64(s)*spread/optic)
	return Stress{Center: s, Surface: s * v.surfaceShare(), Error: unit.Stress(math.Abs(e))}, nil
}

// Shows returns the retardation that a stress in the middle causes at the
// place, without its sign.
//
// Errors: those of [View.Arm].
//
// Checked: testdata/cases/polariscope.toml
func (v View) Shows(center unit.Stress, optic float64) (unit.Length, error) {
	arm, err := v.Arm()
	return unit.Length(math.Abs(optic * float64(center) * float64(arm))), err
}

// Warm returns the stress that a difference of temperature between middle and
// surface adds to the reading, while it lasts.
//
// perKelvin is E α/(1 − ν).
//
//	2/5 of it per kelvin in a sphere, 1/2 in a rod, 1/3 in a slab
//
// Source: parabolic temperature, mean less middle [derived in profile_test.go].
func (v View) Warm(difference unit.Delta, perKelvin unit.Stress) unit.Stress {
	share := 2. / 5
	switch v.Shape {
	case Rod:
		share = 1. / 2
	case Slab:
		share = 1. / 3
	}
	return unit.Stress(share*float64(difference)) * perKelvin
}

// Gain returns how much more the brightest place of a sphere shows in a liquid
// of its own index than in air.
func (v View) Gain() float64 {
	v.Place = Brightest
	air := v.profile(v.inside())
	v.Index = 0
	return v.profile(v.inside()) / air
}
