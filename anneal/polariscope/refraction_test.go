package polariscope

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"lehr/glass/unit"
)

type vec struct{ y, z float64 }

func (a vec) dot(b vec) float64 { return a.y*b.y + a.z*b.z }

func (a vec) plus(b vec, times float64) vec { return vec{a.y + times*b.y, a.z + times*b.z} }

// refract bends a ray of direction d at a surface of normal n, which points
// against it, by Snell's law in vectors; ratio is the index before over that
// behind.
func refract(d, n vec, ratio float64) vec {
	cos := -d.dot(n)
	sin2 := ratio * ratio * (1 - cos*cos)
	return vec{ratio * d.y, ratio * d.z}.plus(n, ratio*cos-math.Sqrt(1-sin2))
}

// traced follows the ray that an eye far off sees at an offset of a body of radius
// 1 back into it, and sums the difference of the stresses across it, in units of
// the tension in the middle. The stress is given as the components in the plane of
// ray and middle, radial and around, and the one across that plane.
func traced(offset, index float64, stress func(r float64) (radial, around, across float64)) float64 {
	in := vec{offset, -math.Sqrt(1 - offset*offset)}
	d := vec{0, 1}
	if index > 1 {
		d = refract(d, in, 1/index)
	}
	length := -2 * in.dot(d)
	return quad.Fixed(func(s float64) float64 {
		p := in.plus(d, s)
		r2 := p.dot(p)
		side := vec{-d.z, d.y} // across the ray, in the plane
		cos2 := 0.0
		if r2 > 0 {
			cos2 = p.dot(side) * p.dot(side) / r2
		}
		radial, around, across := stress(math.Sqrt(r2))
		return radial*cos2 + around*(1-cos2) - across
	}, 0, length, 80, quad.Legendre{}, 0)
}

// What a piece shows in air at the place where a person sees it, by rays followed
// through its surface; in a liquid of its index they are not bent.
func TestView_seenInAir(t *testing.T) {
	for _, c := range []struct {
		shape  Shape
		stress func(r float64) (radial, around, across float64)
	}{
		{Sphere, func(r float64) (float64, float64, float64) { return 1 - r*r, 1 - 2*r*r, 1 - 2*r*r }},
		{Rod, func(r float64) (float64, float64, float64) { return (1 - r*r) / 2, (1 - 3*r*r) / 2, 1 - 2*r*r }},
	} {
		for _, index := range []float64{0, 1.1, 1.473, 1.52} {
			v := View{Shape: c.shape, Size: 2 * unit.Meter, Index: index}
			for b := 0.02; b < 1; b += 0.07 {
				v.Place = unit.Length(b)
				got, err := v.Shows(1, 1)
				if err != nil {
					continue // too little to read
				}
				if want := math.Abs(traced(b, index, c.stress)); math.Abs(float64(got)-want) > 1e-9 {
					t.Errorf("%s of index %g seen at %.2f: got %g, want %g", c.shape, index, b, got, want)
				}
			}
		}
	}
}

// A sphere of 2 in of borosilicate glass, seen at 17.2 mm in air: the ray passes
// the center at 0.677/1.473 = 0.460 of the radius, shows 2 y² √(1 − y²) = 0.375
// C S R, and 60 nm are 60e-9/(0.3754 × 4.0e-12 × 0.0254) = 1.573 MPa. What is seen
// at 23 mm is there to be read.
func TestView_sphereInAir(t *testing.T) {
	v := View{Shape: Sphere, Size: 2 * unit.Inch, Index: 1.473, Place: 17.2 * unit.Millimeter}
	s, err := v.Stress(60*Nanometer, 0, 4.0e-12, 0)
	if err != nil || math.Abs(s.Center.Megapascals()-1.573) > 0.001 {
		t.Errorf("%v, %v", s.Center, err)
	}
	v.Place = 23 * unit.Millimeter
	if _, err := v.Arm(); err != nil {
		t.Error(err)
	}
	// The ring is read where it can be seen, within the piece, and the rim shows most.
	v.Place = Brightest
	if at := v.At(); at != justInside {
		t.Errorf("the ring is seen at %g", at)
	}
	rim := v
	rim.Place = v.Size / 2
	a, b := v.profile(v.inside()), rim.profile(rim.inside())
	if r := b / a; !(r > 1 && r < 1.07) {
		t.Errorf("the rim shows %g times as much", r)
	}
}

// A ray that an eye sees at an offset passes the middle, once bent by Snell's law in
// vectors, at a distance that is seen there again; nothing beyond 1/n comes out.
func TestView_seen(t *testing.T) {
	v := View{Shape: Sphere, Size: 2 * unit.Meter, Index: 1.473}
	for b := 0.05; b < 1; b += 0.1 {
		in := vec{b, -math.Sqrt(1 - b*b)}
		d := refract(vec{0, 1}, in, 1/v.Index)
		past := math.Abs(in.y*d.z - in.z*d.y)
		if at, ok := v.Seen(unit.Length(past)); !ok || math.Abs(float64(at)-b) > 1e-12 {
			t.Errorf("passes at %.3f: seen at %v, %t, want %.3f", past, at, ok, b)
		}
	}
	if _, ok := v.Seen(0.68); ok { // 1/1.473 = 0.679
		t.Error("a ray comes out that is reflected whole")
	}
}

// What two surfaces pass of light that swings toward the middle (p) and around it (s),
// by Fresnel's equations as optics books have them; at 45° between crossed sheets
// ((p − s)/2)² of the light comes through, beside ((p + s)/2)² between parallel ones.
func TestView_glare(t *testing.T) {
	for _, n := range []float64{1.473, 1.518} {
		for _, b := range []float64{0.5, 0.9, 0.95} {
			i, r := math.Asin(b), math.Asin(b/n)
			s := 2 * math.Cos(i) / (math.Cos(i) + n*math.Cos(r)) * 2 * n * math.Cos(r) / (n*math.Cos(r) + math.Cos(i))
			p := 2 * math.Cos(i) / (n*math.Cos(i) + math.Cos(r)) * 2 * n * math.Cos(r) / (math.Cos(r) + n*math.Cos(i))
			want := 550 / math.Pi * math.Atan((p-s)/(p+s))
			v := View{Shape: Sphere, Size: 0.06, Index: n, Place: unit.Length(b * 0.03)}
			if got := nm(v.Glare()); math.Abs(got-want) > 1e-6 {
				t.Errorf("index %g at %g: %.2f nm, want %.2f nm", n, b, got, want)
			}
		}
	}
	if v := (View{Shape: Sphere, Size: 0.06, Place: 0.0285}); v.Glare() > 1e-15 {
		t.Error("a liquid of the same index reflects")
	}
}
