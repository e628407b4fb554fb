package polariscope

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"lehr/glass/unit"
)

// along sums a function of the place along a ray through a body of radius 1.
func along(y float64, f func(z float64) float64) float64 {
	half := math.Sqrt(1 - y*y)
	return quad.Fixed(f, -half, half, 60, quad.Legendre{}, 0)
}

// The retardation is the sum of the difference of the stresses across the ray,
// taken from the whole stress tensor and not from the closed form.
func TestProfiles_summed(t *testing.T) {
	for y := 0.0; y < 1; y += 0.05 {
		// Sphere: the ray runs along z at a distance y from the center. Across it
		// stand the stress in the plane of ray and center, and the hoop stress.
		want := along(y, func(z float64) float64 {
			r2 := y*y + z*z
			radial, hoop := 1-r2, 1-2*r2
			if r2 == 0 {
				return 0
			}
			inPlane := radial*y*y/r2 + hoop*z*z/r2
			return inPlane - hoop
		})
		if got := sphereProfile(y); math.Abs(got-want) > 1e-9 {
			t.Errorf("sphere at %.2f: got %g, want %g", y, got, want)
		}
		// Rod: across the ray stand the axial stress and the one along y.
		want = along(y, func(z float64) float64 {
			r2 := y*y + z*z
			axial := 1 - 2*r2
			radial, hoop := (1-r2)/2, (1-3*r2)/2
			if r2 == 0 {
				return axial - radial
			}
			return axial - (radial*y*y/r2 + hoop*z*z/r2)
		})
		if got := rodProfile(y); math.Abs(got-want) > 1e-9 {
			t.Errorf("rod at %.2f: got %g, want %g", y, got, want)
		}
	}
	if mean := quad.Fixed(slabProfile, 0, 1, 10, quad.Legendre{}, 0); math.Abs(mean) > 1e-12 {
		t.Errorf("slab: mean %g", mean)
	}
	if slabProfile(0) != 1 || slabProfile(1) != -2 {
		t.Error("slab: middle and face")
	}
}

// The stress in the middle for a temperature that falls as a parabola from the
// middle to the surface, and is free to expand: mean less middle.
func TestWarm(t *testing.T) {
	for shape, m := range map[Shape]float64{Sphere: 2, Rod: 1, Slab: 0} {
		// The mean of 1 − ρ² over the body; the surface is at 0.
		mean := (m + 1) * quad.Fixed(func(x float64) float64 { return (1 - x*x) * math.Pow(x, m) }, 0, 1, 20, quad.Legendre{}, 0)
		want := map[Shape]float64{Sphere: mean, Rod: mean, Slab: 1 - mean}[shape]
		if got := float64(View{Shape: shape}.Warm(1, 1)); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: got %g, want %g", shape, got, want)
		}
	}
	// 5 K in any borosilicate sphere: 0.52 MPa, with E 64 GPa, α 3.3e-6, ν 0.2.
	if got := (View{Shape: Sphere}).Warm(5, 64e9*3.3e-6/0.8).Megapascals(); math.Abs(got-0.528) > 0.001 {
		t.Errorf("got %g MPa", got)
	}
}

func TestView_refuses(t *testing.T) {
	sphere := View{Shape: Sphere, Size: 0.06}
	rod := View{Shape: Rod, Size: 0.01}
	slab := View{Shape: Slab, Size: 0.02, Path: 0.1}
	for _, c := range []struct {
		v     View
		place unit.Length
		want  string
	}{
		{sphere, 0, "near its middle a sphere shows nothing"},
		{sphere, 0.0299999, "at the very rim"},
		{sphere, 0.031, "outside the piece"},
		{View{Shape: Sphere, Size: 0.06, Index: 1.473}, 0.031, "outside the piece"},
		{View{Shape: Sphere, Size: 0.06, Index: 1.473}, 0.01, "near its middle a sphere shows nothing"},
		{rod, 0.0025, "near 0.5 of the way"},
		{View{Shape: Rod, Size: 0.01, Index: 1.473}, 0.0037, "near 0.74 of the way"},
		{slab, 0.00577, "shows next to nothing"},
	} {
		v := c.v
		v.Place = c.place
		_, err := v.Stress(100*Nanometer, 0, 4e-12, 0)
		var at *PlaceError
		if !errors.As(err, &at) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s at %v: got %v, want %q", v.Shape, c.place, err, c.want)
		}
	}
	// The face of a slab shows the compression of the face: twice the middle.
	slab.Place = 0.01
	s, err := slab.Stress(80*Nanometer, 0, 4e-12, 0)
	if err != nil || math.Abs(s.Center.Megapascals()-0.1) > 1e-9 || math.Abs(s.Surface.Megapascals()+0.2) > 1e-9 {
		t.Errorf("got %+v, %v", s, err)
	}
}

// Back and forth.
func TestView_inverts(t *testing.T) {
	for _, v := range []View{
		{Shape: Sphere, Size: 0.0635, Place: Brightest}, {Shape: Sphere, Size: 0.0635, Place: Brightest, Index: 1.5},
		{Shape: Rod, Size: 0.01, Place: Brightest}, {Shape: Slab, Size: 0.02, Path: 0.1, Place: Brightest},
	} {
		r, err := v.Shows(1.5*unit.Megapascal, -4e-12)
		if err != nil {
			t.Fatal(err)
		}
		s, err := v.Stress(r, 10*Nanometer, 4e-12, 0.2e-12)
		if err != nil || math.Abs(s.Center.Megapascals()-1.5) > 1e-9 || s.Error <= 0 {
			t.Errorf("%+v: got %+v, %v", v, s, err)
		}
	}
}
